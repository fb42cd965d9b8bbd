"""A change-over as a value."""

from builders import a_date

from provenance.rules.change_values import ChangeOver, Over, Sighted


def test_a_change_of_figures_is_told_with_the_figures_that_were_summed_up() -> None:
    def seen(value: str, shown: str, when: str) -> Sighted:
        return Sighted(example="9", value=value, shown=shown, when=a_date(when), sources=("survey",))

    change = ChangeOver(
        over=Over.TIME,
        before=seen("100 mm", "100 mm", "1933"),
        after=seen("4 3/4 in", "4 3/4 in", "1936"),
        value="4 3/4 in",
        probability=0.75,
    )

    renamed = change.renamed({"100 mm": ("100.00 mm", "100.00 mm"), "4 3/4 in": ("120.65 mm", "120.65 mm (4 3/4 in)")})

    assert renamed == ChangeOver(
        over=Over.TIME,
        before=seen("100.00 mm", "100.00 mm", "1933"),
        after=seen("120.65 mm", "120.65 mm (4 3/4 in)", "1936"),
        value="120.65 mm",
        probability=0.75,
    )
