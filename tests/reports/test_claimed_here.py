"""Beside a page stands what was claimed from it already, each with its place."""

from builders import a_claim, a_component, a_withdrawal, an_archive, an_item

from provenance.records.claims import At
from provenance.records.regions import parse_region
from provenance.reports.claimed_here import claimed_here

LAMP = a_component("headlamp", name="Head lamp")


def on(page: int | None, region: str | None = None) -> At:
    return At(page=page, region=parse_region(region) if region else None)


def test_what_was_claimed_from_a_page_is_told_by_names_and_numbered_where_it_has_a_place() -> None:
    archive = an_archive(
        LAMP,
        a_claim("gas lamp", an_item("book", at=on(2)), an_item("book", at=on(2, "percent:1,2,3,4"))),
        a_claim("oil", an_item("book", at=on(2, "pixel:1,2,3,4"), stance="contradicts"), an_item("other", at=on(2))),
        a_claim("electric", an_item("book", at=on(2, "percent:5,5,5,5")), an_item("book", at=on(3))),
    )

    here = claimed_here(archive, "book", 2)

    assert [(each.called, each.value, each.number, each.is_against) for each in here] == [
        ("Head lamp: Headlamp type", "Acetylene", None, False),
        ("Head lamp: Headlamp type", "Acetylene", 1, False),
        ("Head lamp: Headlamp type", "Oil", None, True),
        ("Head lamp: Headlamp type", "Electric", 2, False),
    ]
    assert str(here[1].region) == "percent:1,2,3,4"
    assert here[2].region is None  # pixels cannot be drawn on a picture of another size


def test_what_names_no_page_is_apart_and_what_was_withdrawn_is_left_out() -> None:
    archive = an_archive(
        LAMP,
        a_claim("oil", an_item("book"), an_item("book", withdrawn=a_withdrawal())),
        a_claim("electric", "book", withdrawn=a_withdrawal()),
    )

    assert [each.value for each in claimed_here(archive, "book", None)] == ["Oil"]
    assert claimed_here(archive, "book", 1) == ()
