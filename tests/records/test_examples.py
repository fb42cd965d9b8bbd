import pytest
from builders import a_date

from provenance.records.examples import BackwardsRangeError, ExampleRange, ExamplesError, ExampleSet, parse_examples
from provenance.records.production import Batch, Production

BUILT = Production(
    batches=(
        Batch(batch="first", examples=("1", "2", "3"), built=a_date("1927")),
        Batch(batch="second", examples=("10", "4"), built=a_date("1930")),
    )
)


@pytest.mark.parametrize(
    ("written", "terms", "shown"),
    [
        ("all", None, "all"),
        ("9", ("9",), "9"),
        ("5..8", (ExampleRange("5", "8"),), "5..8"),
        (["2", "5..8"], ("2", ExampleRange("5", "8")), "2, 5..8"),
    ],
)
def test_a_set_of_examples_is_read_as_people_write_it(
    written: str | list[str], terms: tuple[str | ExampleRange, ...] | None, shown: str
) -> None:
    examples = parse_examples(written)

    assert examples == ExampleSet(terms)
    assert str(examples) == shown


@pytest.mark.parametrize("written", [[], "", " ", "..8", "5..", "5..6..7", ["2", "all"]])
def test_a_set_that_names_nothing_or_half_a_run_is_refused_with_a_mend(written: str | list[str]) -> None:
    with pytest.raises(ExamplesError) as refused:
        parse_examples(written)

    assert refused.value.mend


def test_a_run_goes_by_the_order_of_production_and_not_by_the_figures() -> None:
    # No. 10 was built before No. 4.
    assert BUILT.expand(parse_examples("3..4")) == ("3", "10", "4")
    with pytest.raises(BackwardsRangeError):
        BUILT.expand(parse_examples("4..10"))


def test_each_example_is_named_once_however_often_it_is_written() -> None:
    assert BUILT.expand(parse_examples(["2..10", "3", "1"])) == ("1", "2", "3", "10")
    assert BUILT.expand(parse_examples("all")) == BUILT.order


def test_an_example_that_was_never_built_is_refused() -> None:
    with pytest.raises(ExamplesError, match="`11`"):
        BUILT.expand(parse_examples("11"))
