"""A figure entered from the command line: what cannot be read in one way is refused before anything is written."""

from dataclasses import replace
from pathlib import Path

import pytest
from tasks.team import TODAY, a_team_archive, a_text

from provenance.errors import UsageRefusedError
from provenance.tasks.claiming import add_evidence, try_evidence
from provenance.tasks.evidence_items import Evidence
from provenance.tasks.opening import Opened, open_folder

HEIGHT = Evidence(feature="bracket/height", value="3 ft 4 1/2 in", source="handbook", applies_to="all", at={"page": 1})


def a_bracket_archive(scratch: Path, unit: str = "unit: mm, ") -> Opened:
    """The sound archive with a bracket whose height is a quantity and whose label is words."""
    opened = a_team_archive(scratch)
    a_text(
        opened.folder / "components" / "bracket.yaml",
        "name: Bracket\nby: mh\ndate: 2026-01-10\nfeatures:\n"
        f"  - {{id: height, name: Height, aspect: dimension, kind: quantity, {unit}datum: above the rail}}\n"
        "  - {id: label, name: Label, aspect: marking, kind: text}\n",
    )
    return open_folder(opened.folder)


def test_a_figure_is_kept_as_it_is_written(tmp_path: Path) -> None:
    opened = a_bracket_archive(tmp_path)

    evidence = replace(HEIGHT, whole={"uncertainty": "1/4 in"})
    written = add_evidence(opened.folder, evidence, by="mh", today=TODAY)

    claim = open_folder(opened.folder).archive.claims[written.record]
    assert (claim.value, claim.uncertainty) == ("3 ft 4 1/2 in", "1/4 in")


@pytest.mark.parametrize(
    ("value", "uncertainty", "what", "mend"),
    [
        ("16 gauge", None, "`16 gauge` does not say of which gauge", "`16 SWG`, `16 BWG` or `16 AWG`"),
        ("3.4½", None, "`3.4½` can be read in two ways", "`3 ft 4 1/2 in` or `3.45 in`"),
        ("1029", None, "`1029` has no unit", "`1029 mm`"),
        ("12 kg", None, "`12 kg` is a mass, and a length is wanted", "write a length"),
        ("about 1029 mm", None, "is a figure with a doubt", "`uncertainty"),
        ("1029 mm", "1", "`1` has no unit", "`1 mm`"),
        ("1029 mm", "0 mm", "a give or take of `0 mm` is not more than nothing", "--uncertainty"),
    ],
)
def test_a_figure_that_cannot_be_read_in_one_way_is_refused(
    tmp_path: Path, value: str, uncertainty: str | None, what: str, mend: str
) -> None:
    opened = a_bracket_archive(tmp_path)
    evidence = replace(HEIGHT, value=value, whole={"uncertainty": uncertainty} if uncertainty else {})

    for enter in (add_evidence, try_evidence):
        with pytest.raises(UsageRefusedError) as refused:
            enter(opened, evidence, by="mh", today=TODAY)
        assert refused.value.exit_code == 2
        assert what in refused.value.what
        assert mend in refused.value.mend
    assert [path.name for path in (opened.folder / "claims").iterdir()] == ["headlamp-kind-acetylene.yaml"]


@pytest.mark.parametrize("unit", ["", "unit: furlongs, "])
def test_without_a_unit_that_is_known_the_mend_is_the_components(tmp_path: Path, unit: str) -> None:
    opened = a_bracket_archive(tmp_path, unit)

    written = add_evidence(opened.folder, replace(HEIGHT, value="16 gauge"), by="mh", today=TODAY)

    assert written.written == ("claims/bracket-height-16-gauge.yaml",)


def test_words_are_no_figures(tmp_path: Path) -> None:
    opened = a_bracket_archive(tmp_path)

    evidence = replace(HEIGHT, feature="bracket/label", value="16 gauge")
    written = add_evidence(opened.folder, evidence, by="mh", today=TODAY)

    assert written.written == ("claims/bracket-label-16-gauge.yaml",)
