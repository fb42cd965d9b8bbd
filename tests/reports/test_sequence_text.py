"""The figure of the order of production as people read it at a terminal."""

from dataclasses import replace

import pytest
from builders import a_feature, seen_on
from hypothesis import given, settings
from hypothesis import strategies as st
from reports.pages import HOSTILE, any_text, obeyed, overlong, widths
from reports.sequences import a_figure
from rules.sighting_groups import a_production, a_sighting, a_target, an_archive_of

from provenance.records.archive import Archive
from provenance.records.production import Production
from provenance.reports.sequence_text import sequence_lines

LAMP = a_feature()
PLATE = a_feature(kind="text", aspect="marking", name="Maker's plate")


def page(archive: Archive, width: int = 100) -> str:
    figure = a_figure(archive)
    assert figure is not None
    return "\n".join(sequence_lines(figure, width))


def numbered(first: int, last: int) -> list[str]:
    return [str(number) for number in range(first, last + 1)]


def test_the_page_shows_batch_by_batch_what_was_seen_on_each_machine() -> None:
    """The chance is 5 to 1: No. 9 begins a batch."""
    archive = an_archive_of(
        LAMP,
        a_sighting("oil", seen_on("8", "1931-05"), source="eight"),
        a_sighting("oil", seen_on("8", "1932"), source="album", stance="supports"),
        a_sighting("electric", seen_on("8", "1950"), source="late"),
        a_sighting("electric", seen_on("10", "1934", "likeness"), source="ten"),
        a_sighting("acetylene", seen_on("11"), source="eleven", stance="contradicts"),
    )

    assert page(archive).split("\n") == [
        "Machine by machine, in order of production; No. 9, marked >, is represented:",
        "  Batch first, built 1927 to 1928",
        "    No. 1   nothing seen",
        "    No. 2   nothing seen",
        "    No. 3   nothing seen",
        "    No. 4   nothing seen",
        "  Batch second, built 1930",
        "    No. 5   nothing seen",
        "    No. 6   nothing seen",
        "    No. 7   nothing seen",
        "    No. 8   “Oil”, May 1931 (eight)",
        "            “Oil”, 1932 (album)",
        "            “Electric”, 1950 (late); does not count: seen more than 5 years after it was built",
        "  Batch third, built 1933",
        "  > No. 9   nothing seen; about 83 chances in 100 of “Electric”",
        "    No. 10  “Electric”, 1934, known by likeness only (ten)",
        "    No. 11  without “Acetylene”, at a date not known (eleven)",
        "“Oil” was seen on No. 8 and “Electric” on No. 10: it changed somewhere after No. 8 and up to No. 10,",
        "and No. 9 has “Electric” with about 83 chances in 100, a change being taken as 5 times as likely",
        "with the first machine of a batch; mind that No. 10 is known by likeness only.",
    ]


def test_a_narrow_page_is_wrapped_under_what_it_goes_on() -> None:
    archive = an_archive_of(LAMP, a_sighting("oil", seen_on("8", "1950"), source="late"))

    lines = page(archive, 60).split("\n")

    assert lines[:2] == [
        "Machine by machine, in order of production; No. 9, marked >,",
        "is represented:",
    ]
    assert lines[9:] == [
        "    No. 6   nothing seen",
        "    No. 7   nothing seen",
        "    No. 8   “Oil”, 1950 (late); does not count: seen more",
        "            than 5 years after it was built",
        "  Batch third, built 1933",
        "  > No. 9   nothing seen",
        "    No. 10  nothing seen",
        "    No. 11  nothing seen",
    ]


def test_a_sequence_of_500_machines_fits_on_a_page() -> None:
    """Nos. 1 to 3 with oil, 497 with electric, 250 represented.

    With a change equally likely anywhere No. n has the new one with (n - 3) / 494: at No. 4 it is .2 in 100, at No. 20
    3.4, at 21 3.6, at 248 49.6, at 249 49.8, at 250 exactly 50, at 251 50.2, at 252 50.4, at 496 99.8.
    """
    archive = an_archive_of(
        LAMP,
        a_sighting("oil", "3", source="three"),
        a_sighting("electric", "497", source="last"),
        production=a_production(numbered(1, 20), numbered(21, 500)),
        target=a_target("250"),
        weights={"batch_step": 1},
    )

    assert page(archive).split("\n")[1:-2] == [
        "  Batch a, built 1927 to 1928",
        "    No. 1    nothing seen",
        "    No. 2    nothing seen",
        "    No. 3    “Oil”, at a date not known (three)",
        "    Nos. 4 to 20: nothing seen; less than 1 chance in 100 of “Electric”, rising to about 3 chances",
        "      in 100",
        "  Batch b, built 1930",
        "    Nos. 21 to 248: nothing seen; about 4 chances in 100 of “Electric”, rising to about 50 chances",
        "      in 100",
        "    No. 249  nothing seen; about 50 chances in 100 of “Electric”",
        "  > No. 250  nothing seen; about 50 chances in 100 of “Electric”",
        "    No. 251  nothing seen; about 50 chances in 100 of “Electric”",
        "    Nos. 252 to 496: nothing seen; about 50 chances in 100 of “Electric”, rising to more than 99",
        "      chances in 100",
        "    No. 497  “Electric”, at a date not known (last)",
        "    No. 498  nothing seen",
        "    No. 499  nothing seen",
        "    No. 500  nothing seen",
    ]


def test_long_numbers_stand_before_a_colon_and_not_in_a_column() -> None:
    production = a_production(["4711 a", "4711 b (rebuilt)", "4712"])
    archive = an_archive_of(
        LAMP,
        a_sighting("oil", seen_on("4711 a", "1928"), source="one"),
        a_sighting("oil", seen_on("4711 a", "1929"), source="two"),
        production=production,
        target=a_target("4712"),
    )

    assert page(archive).split("\n")[2:] == [
        "    No. 4711 a: “Oil”, 1928 (one)",
        "      “Oil”, 1929 (two)",
        "    No. 4711 b (rebuilt): nothing seen",
        "  > No. 4712: nothing seen",
    ]


def test_a_broken_reading_between_the_two_values_has_the_chance_below_it() -> None:
    """From No. 7 to No. 10: No. 8 with 1, No. 9 with 5 and No. 10 with 1 share in the change."""
    archive = an_archive_of(
        PLATE,
        a_sighting("Ellison", "7", source="seven"),
        a_sighting("E[...]son", "8", source="broken"),
        a_sighting("Emerson", "10", source="ten"),
    )

    lines = page(archive).split("\n")

    assert lines[lines.index("    No. 7   “Ellison”, at a date not known (seven)") + 1 :][:2] == [
        "    No. 8   “Ellison” or “Emerson”, at a date not known (broken)",
        "            about 14 chances in 100 of “Emerson”",
    ]


def test_without_a_machine_represented_nothing_is_marked() -> None:
    archive = replace(an_archive_of(LAMP, a_sighting("oil", "8")), target=None)

    lines = page(archive).split("\n")

    assert lines[0] == "Machine by machine, in order of production:"
    assert not [line for line in lines if ">" in line]


@settings(max_examples=60, deadline=None)
@given(any_text.filter(bool), any_text, widths, st.sampled_from(["1", "8", "11"]))
def test_no_text_of_others_is_obeyed_or_makes_a_line_too_long(
    number: str, words: str, width: int, example: str
) -> None:
    feature = a_feature(kind="text", name=words or "Plate")
    numbers = [number if each == example else each for each in numbered(1, 11) if each != number]
    archive = an_archive_of(
        feature,
        a_sighting(words or "Ellison", seen_on(numbers[0]), source="first"),
        a_sighting("Emerson", seen_on(numbers[-1]), source="last"),
        production=a_production(numbers),
        target=a_target(numbers[5]),
    )

    shown = page(archive, width)

    assert obeyed(shown) == []
    assert overlong(shown, width) == []


@pytest.mark.parametrize("batch", [HOSTILE, "long " * 40])
def test_the_name_of_a_batch_may_be_anything(batch: str) -> None:
    production = a_production(["1", "9"])
    named = Production(batches=(replace(production.batches[0], batch=batch),))

    shown = page(an_archive_of(LAMP, a_sighting("oil", "1"), production=named))

    assert obeyed(shown) == []
    assert overlong(shown, 100) == []
