"""What is shown of a feature, on the sample archive and on small ones."""

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from checkout import ROOT
from tasks.team import TODAY, a_scan, a_team_archive, a_text

from provenance.errors import UnknownRecordError
from provenance.pages.cut_outs import CutOut
from provenance.reports.evidence_json import evidence_json
from provenance.reports.feature_shown import FeatureShown
from provenance.tasks.cutting_out import NoCutOut, Wanted, cut_before, cut_outs
from provenance.tasks.evidence import evidence_at_hand, evidence_for
from provenance.tasks.ingest import ingest
from provenance.tasks.living import Current, Living
from provenance.tasks.opening import open_folder
from provenance.tasks.page_readings import Readings, pages_of
from provenance.tasks.showing_features import (
    drawing_of,
    judged_without,
    photograph_of_made,
    place_of_item,
    show_feature,
)
from provenance.tasks.signs import signs_by, signs_for


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Current:
    folder = shutil.copytree(ROOT / "sample_archive" / "archive", tmp_path_factory.mktemp("sample") / "archive")
    return Living(Path(folder)).now()


def the_feature(now: Current, name: str) -> FeatureShown:
    return show_feature(
        now.opened, name, verdicts=now.verdicts, raised=now.flagged.flags, readings=now.readings, lifter=None
    )


def test_what_is_at_hand_gives_the_answer_of_evidence_on_every_feature(sample: Current) -> None:
    def told(answer: object) -> dict[str, object]:
        said = evidence_json(answer)  # type: ignore[arg-type]
        for each in said["features"]:  # type: ignore[attr-defined]
            each["flags"] = sorted(each["flags"])  # a day may move one before another
        return said

    for name in sample.archive.features:
        at_hand = evidence_at_hand(
            sample.opened, name, verdicts=sample.verdicts, raised=sample.flagged.flags, readings=sample.readings
        )

        assert told(at_hand) == told(evidence_for(sample.opened, name))


def test_a_doubtful_word_is_flagged_as_the_answer_of_evidence_flags_it(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    smudged = a_scan(tmp_path / "scans" / "page.png", ("The lamp is of the acetylene pattern.",))
    ingest(opened, [smudged], by="mh", today=TODAY, workers=1)
    source = next(path for path in (opened.folder / "sources").glob("page-*.yaml"))
    a_text(source, source.read_text(encoding="utf-8") + "kind: manual\n")
    claim = opened.folder / "claims" / "headlamp-kind-acetylene.yaml"
    changed = claim.read_text(encoding="utf-8").replace("source: handbook", f"source: {source.stem}")
    a_text(claim, changed.replace("headlamp is", "lamp is"))
    smudge(opened.folder)
    now = Living(opened.folder).now()

    at_hand = evidence_at_hand(
        now.opened, "headlamp/kind", verdicts=now.verdicts, raised=now.flagged.flags, readings=now.readings
    )

    flags = evidence_for(now.opened, "headlamp/kind").features[0].flags
    assert "doubtful-reading" in flags
    assert sorted(at_hand.features[0].flags) == sorted(flags)


def smudge(folder: Path) -> None:
    """Stand in for a bad scan: the words that were read are marked as unsure."""
    opened = open_folder(folder)
    readings = Readings(folder, opened.archive)
    for record in opened.archive.sources.values():
        for page in pages_of(record):
            reading = readings.reading_of(page)
            if reading is not None:
                words = tuple(replace(word, confidence=20.0) for word in reading.words)
                readings.store.put(page.file.sha256, readings.kept_keys(page)[0], replace(reading, words=words))


def test_a_feature_is_shown_without_any_picture_being_made(sample: Current) -> None:
    that = the_feature(sample, "headlamp/illuminant")

    assert not (sample.opened.folder / ".derived" / "cut-outs").exists()
    assert {each.why_not for each in that.pictures.values()} == {""}
    assert [each.name for each in that.figures] == ["sequence", "descent"]
    assert that.signs == signs_for(sample.opened, "headlamp/illuminant")
    assert [part.id for part in that.above] == ["railcar", "body"]


def test_of_a_text_it_is_said_that_there_is_no_picture(sample: Current) -> None:
    that = the_feature(sample, "axle/journal")

    assert {each.why_not for each in that.pictures.values()} == {"it is a text, of which there is no picture"}
    assert [each.name for each in that.figures] == ["sequence", "measures", "descent"]
    assert b"<svg" in drawing_of(that, "measures")
    assert that.signs is None
    with pytest.raises(UnknownRecordError, match="no figure `plan`"):
        drawing_of(that, "plan")


def test_a_picture_is_cut_out_once_and_kept(sample: Current) -> None:
    claim = next(each for each in sample.archive.claims.values() if each.about == "headlamp/rim")
    wanted = place_of_item(sample.opened, claim.id, 1)

    before = cut_before(sample.opened, wanted)
    made = cut_outs(sample.opened, [wanted], workers=1)[wanted]
    after = cut_before(sample.opened, wanted)

    assert before is None
    assert isinstance(made, CutOut)
    assert after == made
    shutil.rmtree(sample.opened.folder / ".derived" / "cut-outs")


def test_why_there_is_no_picture_is_known_without_opening_a_page(sample: Current) -> None:
    found = cut_before(sample.opened, Wanted(source="no-such-source"))

    assert found == NoCutOut(why="the record of the source cannot be read")


@pytest.mark.parametrize(
    ("claim", "number", "told"),
    [
        ("headlamp-rim-braod", 1, "`headlamp-rim-broad`"),
        ("headlamp-rim-broad", 0, "counted from 1"),
        ("headlamp-rim-broad", 99, "counted from 1"),
    ],
)
def test_a_place_that_there_is_not_is_refused(sample: Current, claim: str, number: int, told: str) -> None:
    with pytest.raises(UnknownRecordError) as refused:
        place_of_item(sample.opened, claim, number)

    assert told in refused.value.mend


def test_a_piece_without_a_photograph_is_refused(sample: Current) -> None:
    with pytest.raises(UnknownRecordError, match="no photograph of piece 1"):
        photograph_of_made(the_feature(sample, "end-window/opening"), 1)


def test_a_feature_is_judged_as_if_sources_were_withdrawn(sample: Current) -> None:
    stands = sample.verdicts["coupling/form"]
    without = ["letter-1933-06-20", "no-such-letter", "letter-1933-06-20"]

    asked = judged_without(sample.archive, stands, without)

    answer = evidence_for(sample.opened, "coupling/form", without=["letter-1933-06-20"])
    assert asked.then == answer.features[0].verdict
    assert asked.without == ("letter-1933-06-20",)
    assert [unknown for unknown, _ in asked.unknown] == ["no-such-letter"]
    assert judged_without(sample.archive, stands, ["no-such-letter"]).then is None


def test_signs_by_a_verdict_at_hand_are_those_of_the_feature(sample: Current) -> None:
    by_hand = signs_by(sample.opened, sample.verdicts["headlamp/illuminant"])

    assert by_hand == signs_for(sample.opened, "headlamp/illuminant")
