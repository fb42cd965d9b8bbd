import pytest

from provenance.errors import UsageRefusedError
from provenance.tasks.parts_columns import COLUMNS, find_columns


@pytest.mark.parametrize(
    ("headings", "found"),
    [
        (("number", "name"), {"number": 0, "name": 1}),
        (("Description", "", "DRG. No.", "No. off"), {"name": 0, "number": 2, "quantity": 3}),
        (("Part", "Sub-assembly of", "Cars"), {"name": 0, "part of": 1, "examples": 2}),
    ],
)
def test_columns_are_known_by_the_names_of_the_trade(headings: tuple[str, ...], found: dict[str, int]) -> None:
    assert find_columns(headings) == found


@pytest.mark.parametrize(
    ("headings", "said"),
    [
        (("nmae", "number"), "did you mean `name`?"),
        (("name", "weight in lb"), "the columns are number:"),
        (("name", "description"), "leave one of them away"),
        (("number", "qty"), "head one of them"),
    ],
)
def test_wrong_columns_are_named_with_the_nearest(headings: tuple[str, ...], said: str) -> None:
    with pytest.raises(UsageRefusedError) as refused:
        find_columns(headings)

    assert said in refused.value.mend


def test_no_name_of_a_column_stands_for_two_things() -> None:
    names = [name for each in COLUMNS.values() for name in each]

    assert len(names) == len(set(names))
