import shutil
from pathlib import Path

import pytest
from tasks.team import SOUND, TODAY, a_scan, a_team_archive, a_text

from provenance import open_archive
from provenance.errors import ArchiveError, UnknownRecordError
from provenance.records.kinds import Access
from provenance.rules.grades import Grade
from provenance.tasks.batches import Batch
from provenance.tasks.evidence import evidence_for
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import open_folder


def test_a_component_is_judged_feature_by_feature(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    answer = evidence_for(opened, "headlamp")

    grades = [(feature.verdict.feature, feature.verdict.grade) for feature in answer.features]
    assert grades == [("headlamp/kind", Grade.UNCORROBORATED), ("headlamp/hood", Grade.UNSUPPORTED)]


def test_without_its_only_source_nothing_is_left(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    answer = evidence_for(opened, "headlamp/kind", without=["handbook"])

    assert answer.features[0].verdict.grade is Grade.UNSUPPORTED
    assert answer.without == ("handbook",)


@pytest.mark.parametrize(
    ("place", "without", "nearest"),
    [("headlmap", [], "headlamp"), ("headlamp/kin", [], "headlamp/kind"), ("headlamp", ["handbok"], "handbook")],
)
def test_an_unknown_name_is_refused_with_the_nearest(
    tmp_path: Path, place: str, without: list[str], nearest: str
) -> None:
    opened = a_team_archive(tmp_path)

    with pytest.raises(UnknownRecordError) as refused:
        evidence_for(opened, place, without=without)

    assert f"`{nearest}`" in refused.value.mend


def test_an_archive_without_a_target_is_not_judged(tmp_path: Path) -> None:
    folder = Path(shutil.copytree(SOUND, tmp_path / "archive"))
    lines = (folder / "archive.yaml").read_text(encoding="utf-8").splitlines(keepends=True)
    kept = [line for line in lines if not line.startswith("target")]
    (folder / "archive.yaml").write_text("".join(kept), encoding="utf-8")

    with pytest.raises(ArchiveError, match="which example is represented"):
        evidence_for(open_folder(folder), "headlamp")


def test_a_doubtful_word_of_a_quotation_is_flagged_until_a_person_has_read_the_page(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    smudged = a_scan(tmp_path / "scans" / "page.png", ("The lamp is of the acetylene pattern.",))
    ingest(opened, [smudged], by="mh", today=TODAY, workers=1)
    source = next(path for path in (opened.folder / "sources").glob("page-*.yaml"))
    source.write_text(source.read_text(encoding="utf-8") + "kind: manual\n", encoding="utf-8")
    claim = (opened.folder / "claims" / "headlamp-kind-acetylene.yaml").read_text(encoding="utf-8")
    claim = claim.replace("source: handbook", f"source: {source.stem}").replace("headlamp is", "lamp is")
    a_text(opened.folder / "claims" / "headlamp-kind-acetylene.yaml", claim)
    _lower_the_confidence(opened.folder)

    doubtful = evidence_for(open_folder(opened.folder), "headlamp/kind")
    a_text(
        opened.folder / "transcripts" / source.stem / "p0001.txt",
        "by: mh\ndate: 2026-01-10\n\nThe lamp is of the acetylene pattern.\n",
    )
    certain = evidence_for(open_folder(opened.folder), "headlamp/kind")

    assert "doubtful-reading" in doubtful.features[0].flags
    assert "doubtful-reading" not in certain.features[0].flags


def _lower_the_confidence(folder: Path) -> None:
    """Stand in for a bad scan: the words that were read are marked as unsure."""
    from dataclasses import replace  # noqa: PLC0415  only this stand-in needs it

    from provenance.tasks.page_readings import Readings, pages_of  # noqa: PLC0415  likewise

    opened = open_folder(folder)
    readings = Readings(folder, opened.archive)
    for record in opened.archive.sources.values():
        for page in pages_of(record):
            reading = readings.reading_of(page)
            if reading is not None:
                words = tuple(replace(word, confidence=20.0) for word in reading.words)
                readings.store.put(page.file.sha256, readings.kept_keys(page)[0], replace(reading, words=words))


def test_the_archive_opens_for_python_programs_too(tmp_path: Path) -> None:
    a_team_archive(tmp_path)
    archive = open_archive(tmp_path / "archive" / "claims")

    assert archive.evidence("headlamp/kind").features[0].verdict.value == "acetylene"
    assert archive.flags().features == 2
    assert archive.search("acetylene").total >= 1
    assert archive.ingest(a_text(tmp_path / "a.txt", "text\n"), by="mh", today=TODAY).pages_read == 1


def test_python_programs_say_of_files_what_the_shell_can_say(tmp_path: Path) -> None:
    a_team_archive(tmp_path)
    archive = open_archive(tmp_path / "archive")
    sides = [a_text(tmp_path / f"shed {side}.txt", f"{side}\n") for side in ("front", "back")]
    told: list[tuple[str, int, int]] = []

    done = archive.ingest(
        *sides,
        by="mh",
        today=TODAY,
        batch=Batch(together=True, lot="Tin", giver="R. Starrick", rights="InC", access="closed"),
        workers=1,
        on_progress=lambda step, number, of: told.append((step, number, of)),
    )

    (source_id,) = {each.source for each in done.files}
    source = open_archive(tmp_path / "archive").opened.archive.sources[source_id or ""]
    assert [Path(each.path).name for each in source.files] == ["shed front.txt", "shed back.txt"]
    assert (source.access, source.acquired[0].giver) == (Access.CLOSED, "R. Starrick")
    assert {step for step, _, _ in told} >= {"registering", "reading", "indexing"}


def test_the_package_offers_nothing_that_it_does_not_name() -> None:
    import provenance  # noqa: PLC0415  the package as a whole is asked

    with pytest.raises(AttributeError, match="open_archives"):
        _ = provenance.open_archives
