"""The descent of sources and features: in a folder on disk, and what is refused."""

from pathlib import Path

import pytest
from tasks.team import a_team_archive, a_text

from provenance.errors import ArchiveError, ProvenanceError, UnknownRecordError, UsageRefusedError
from provenance.tasks.descending import descent_of
from provenance.tasks.opening import Opened, open_folder

WRITTEN = "by: mh\ndate: 2026-01-10\n"
LETTER = f"title: A letter\nkind: letter\nderives_from: [{{source: handbook, how: cites}}]\n{WRITTEN}"
CLAIM = """about: headlamp/kind
value: acetylene
applies_to: {examples: "9"}
evidence:
  - {source: letter, stance: supports, how: states}
"""


@pytest.fixture
def opened(tmp_path: Path) -> Opened:
    """The sound archive with a letter that cites the handbook, and another claim for the same value that cites it."""
    folder = a_team_archive(tmp_path).folder
    a_text(folder / "sources" / "letter.yaml", LETTER)
    a_text(folder / "claims" / "second.yaml", f"{CLAIM}{WRITTEN}")
    return open_folder(folder)


def refused(opened: Opened, name: str) -> ProvenanceError:
    with pytest.raises(ProvenanceError) as refusal:
        descent_of(opened, name)
    return refusal.value


@pytest.mark.parametrize("name", ["handbook", "sources/handbook", "sources/handbook.yaml"])
def test_a_source_is_named_by_its_id_or_its_file(opened: Opened, name: str) -> None:
    answer = descent_of(opened, name)

    assert answer.about == "handbook"
    assert answer.tree.members == ("handbook", "letter")
    assert [verdict.feature for verdict in answer.resting or ()] == ["headlamp/kind"]
    assert answer.verdict is None


def test_a_copy_carries_no_feature_that_its_original_carries_too(opened: Opened) -> None:
    assert descent_of(opened, "letter").resting == ()


def test_a_feature_names_its_bottleneck(opened: Opened) -> None:
    answer = descent_of(opened, "headlamp/kind")

    assert answer.verdict is not None
    assert (answer.about, answer.verdict.value, answer.bottleneck) == ("headlamp/kind", "acetylene", ("handbook",))
    assert answer.tree.members == ("handbook", "letter")
    assert answer.resting == ()


def test_what_was_withdrawn_is_drawn_and_carries_nothing(opened: Opened) -> None:
    file = opened.folder / "sources" / "handbook.yaml"
    a_text(file, f"{file.read_text(encoding='utf-8')}withdrawn: {{why: a hoax, by: mh, date: 2026-01-11}}\n")

    answer = descent_of(open_folder(opened.folder), "handbook")

    assert answer.tree.members == ("handbook", "letter")
    assert answer.resting == ()


def test_the_hazards_of_the_sources_and_of_the_part_bring_their_cautions(opened: Opened) -> None:
    part, letter = opened.folder / "components" / "headlamp.yaml", opened.folder / "sources" / "letter.yaml"
    a_text(part, f"{part.read_text(encoding='utf-8')}hazards: [asbestos]\n")
    a_text(letter, f"{LETTER}hazards: [nitrate-film]\n")

    again = open_folder(opened.folder)

    for name in ("headlamp/kind", "handbook"):
        assert [caution.hazard for caution in descent_of(again, name).cautions] == ["asbestos", "nitrate-film"]
    assert [caution.hazard for caution in descent_of(again, "letter").cautions] == ["nitrate-film"]


@pytest.mark.parametrize(
    ("name", "kind", "what", "mend"),
    [
        ("handbok", UnknownRecordError, "there is no source `handbok`", "`handbook`"),
        ("sources/handbok", UnknownRecordError, "there is no source `handbok`", "`handbook`"),
        ("zzzz", UnknownRecordError, "there is no source `zzzz`", "the files in the folder sources"),
        ("headlamp/knd", UnknownRecordError, "there is no feature `headlamp/knd`", "`headlamp/kind`"),
        ("headlmp/kind", UnknownRecordError, "there is no component `headlmp`", "`headlamp`"),
        ("headlamp", UsageRefusedError, "`headlamp` is a component", "headlamp/kind"),
    ],
)
def test_what_is_not_there_is_refused_with_the_nearest(
    opened: Opened, name: str, kind: type[ProvenanceError], what: str, mend: str
) -> None:
    refusal = refused(opened, name)

    assert isinstance(refusal, kind)
    assert what in refusal.what
    assert mend in refusal.mend


def test_a_component_without_features_has_none_to_name(opened: Opened) -> None:
    a_text(opened.folder / "components" / "glass.yaml", f"name: Glass\n{WRITTEN}")

    assert refused(open_folder(opened.folder), "glass").mend == "it has no feature yet; name a source"


def test_an_archive_that_represents_no_machine_yet_has_descents_and_no_verdicts(opened: Opened) -> None:
    own = opened.folder / "archive.yaml"
    kept = [line for line in own.read_text(encoding="utf-8").splitlines(keepends=True) if "target:" not in line]
    a_text(own, "".join(line for line in kept if not line.startswith(("  example", "  as_at", "  why"))))
    again = open_folder(opened.folder)

    answer = descent_of(again, "handbook")

    assert answer.resting is None
    assert "does not say which example is represented" in answer.not_judged
    assert answer.tree.members == ("handbook", "letter")
    assert isinstance(refused(again, "headlamp/kind"), ArchiveError)
