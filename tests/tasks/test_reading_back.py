"""What somebody enters is read back as it would be judged: how it is told follows from the kind of source."""

import pytest
from builders import a_component, a_feature, a_source, an_archive

from provenance.tasks.evidence_items import Evidence
from provenance.tasks.reading_back import read_figure_back

ARCHIVE = an_archive(
    a_component("headlamp", a_feature("height", "quantity", "dimension", unit="mm"), a_feature()),
    a_source("drawing", "drawing"),
    a_source("piece", "artefact"),
)


def told(value: str, source: str = "drawing", feature: str = "headlamp/height", how: str | None = None) -> str:
    back = read_figure_back(ARCHIVE, Evidence(feature=feature, value=value, source=source, item={"how": how}))
    return back.why if back else ""


def test_a_drawing_lays_a_figure_down_and_a_piece_is_measured() -> None:
    assert "lay down" in told("1029 mm")
    assert "last place" in told("1029 mm", "piece")
    assert "last place" in told("1029 mm", how="implies")


@pytest.mark.parametrize(
    ("value", "source", "feature", "how"),
    [
        ("", "drawing", "headlamp/height", None),
        ("16 gauge", "drawing", "headlamp/height", None),
        ("1029 mm", "nowhere", "headlamp/height", None),
        ("1029 mm", "drawing", "headlamp/type", None),
        ("1029 mm", "drawing", "headlamp/none", None),
        ("1029 mm", "drawing", "headlamp/height", "guessed"),
    ],
)
def test_what_is_no_figure_is_not_read_back(value: str, source: str, feature: str, how: str | None) -> None:
    assert told(value, source, feature, how) == ""
