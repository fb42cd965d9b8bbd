"""What the benchmark makes of its figures: the table of the README, and how work grows."""

from pathlib import Path

import pytest
from bench.figures import Figure
from bench.measure_growth import exponent
from bench.readme_table import BEGINS, ENDS, as_table, write_table

ABOUT = {
    "machine": "Linux x86_64",
    "cores": 2,
    "python": "3.11.7",
    "tesseract": "tesseract 5.3.0",
    "libraries": {"whoosh": "2.7.4", "click": "8.5.0"},
}
FIGURES = (
    Figure(name="a command", value=0.25, unit="s", promised=1.0),
    Figure(name="a peer", value=3.0, unit="s"),
    Figure(name="pages", value=8.0, unit="pages/s", promised=10.0, more_is_better=True),
)


def test_figures_with_a_promise_stand_in_the_table_with_their_ratio_and_what_falls_short_says_so() -> None:
    assert as_table(FIGURES, ABOUT, {}).splitlines() == [
        "| what | figure | promised | ratio |",
        "|---|---|---|---|",
        "| a command | 0.25 s | at most 1 | 0.25 |",
        "| pages | 8 pages/s | at least 10 | 0.80, short |",
        "",
        "Measured on Linux x86_64, 2 cores; Python 3.11.7, tesseract 5.3.0, whoosh 2.7.4, click 8.5.0.",
    ]


def test_only_what_stands_between_the_marks_is_replaced(tmp_path: Path) -> None:
    readme = tmp_path / "README.md"
    readme.write_text(f"before\n{BEGINS}\nold\n{ENDS}\nafter\n", encoding="utf-8")

    write_table(readme, FIGURES, ABOUT, whole=True)
    write_table(readme, FIGURES, ABOUT, whole=True)

    assert readme.read_text(encoding="utf-8") == f"before\n{BEGINS}\n\n{as_table(FIGURES, ABOUT, {})}\n{ENDS}\nafter\n"


def test_a_readme_without_a_place_for_the_table_is_refused_and_stays(tmp_path: Path) -> None:
    readme = tmp_path / "README.md"
    readme.write_text("nothing\n", encoding="utf-8")

    with pytest.raises(ValueError, match="no place"):
        write_table(readme, FIGURES, ABOUT, whole=True)

    assert readme.read_text(encoding="utf-8") == "nothing\n"


@pytest.mark.parametrize(
    ("took", "expected"),
    [
        ({100: 2.0, 1_000: 20.0, 10_000: 200.0}, 1.0),
        ({100: 1.0, 1_000: 100.0, 10_000: 10_000.0}, 2.0),
        ({100: 5.0, 1_000: 5.0, 10_000: 5.0}, 0.0),
        # By hand: the points (2, 0), (3, 0), (4, 1) in powers of ten; the slope of their least-squares line is 1/2.
        ({100: 1.0, 1_000: 1.0, 10_000: 10.0}, 0.5),
    ],
)
def test_the_exponent_is_the_slope_through_the_logarithms(took: dict[int, float], expected: float) -> None:
    assert exponent(took) == pytest.approx(expected)


def test_where_some_was_measured_the_other_rows_stay(tmp_path: Path) -> None:
    readme = tmp_path / "README.md"
    readme.write_text(f"before\n{BEGINS}\n{ENDS}\nafter\n", encoding="utf-8")
    write_table(readme, FIGURES, ABOUT, whole=True)

    faster = Figure(name="a command", value=0.125, unit="s", promised=1.0)
    more = Figure(name="a third", value=1.0, unit="s", promised=4.0)
    write_table(readme, (faster, more), ABOUT, whole=False)

    rows = [line for line in readme.read_text(encoding="utf-8").splitlines() if line.startswith("|")]
    assert rows[2:] == [
        "| a command | 0.125 s | at most 1 | 0.12 |",
        "| pages | 8 pages/s | at least 10 | 0.80, short |",
        "| a third | 1 s | at most 4 | 0.25 |",
    ]
