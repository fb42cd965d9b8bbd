"""The list of sources, narrowed."""

from builders import a_source, an_archive

from provenance.records.kinds import SourceKind
from provenance.records.sources import OriginalFile
from provenance.reports.sources_listed import SourcesListed
from provenance.tasks.listing_sources import SourcesList

SHEET = OriginalFile(path="originals/b/b.pdf", sha256="b" * 64, size=1, media_type="application/pdf", pages=3)
NOTES = OriginalFile(path="originals/c/c.txt", sha256="c" * 64, size=1, media_type="text/plain", pages=1)


def a_list() -> SourcesList:
    return SourcesList(
        an_archive(
            a_source("a", title="zinc", kind=SourceKind.LETTER, holder="Orrin", tagged=True),
            a_source("b", title="Brass", kind=SourceKind.LETTER, files=(SHEET,), topics=("lamp",), tagged=True),
            a_source("c", title="axle", kind=None, files=(NOTES,), topics=("axle", "lamp"), tagged=False),
            a_source("d", title="Brass", kind=SourceKind.DRAWING, holder="Orrin", tagged=True),
        )
    )


def ids(listed: SourcesListed) -> list[str]:
    return [each.source.id for each in listed.sources]


def counts(listed: SourcesListed) -> dict[str, list[tuple[str, int]]]:
    return {group.name: [(choice.value, choice.hits) for choice in group.choices] for group in listed.groups}


def test_sources_stand_in_order_of_title_whatever_their_letters() -> None:
    assert ids(a_list().narrowed({}, limit=10)) == ["c", "b", "d", "a"]
    assert ids(a_list().narrowed({}, limit=2, skip=1)) == ["b", "d"]
    assert ids(a_list().narrowed({}, limit=2, skip=9)) == []


def test_each_count_is_of_what_is_left_with_the_choices_of_the_other_groups() -> None:
    every = counts(a_list().narrowed({}, limit=1))
    of_letters = counts(a_list().narrowed({"kind": "letter"}, limit=1))

    assert every["kind"] == [("letter", 2), ("drawing", 1), ("unknown", 1)]
    assert every["component"] == [("lamp", 2), ("axle", 1)]
    assert every["state"] == [("tagged", 3), ("not-here", 2), ("untagged", 1)]
    assert of_letters["kind"] == every["kind"]
    assert of_letters["holder"] == [("Orrin", 1)]
    assert of_letters["component"] == [("lamp", 1)]


def test_what_is_narrowed_to_nothing_says_so_and_keeps_the_choice() -> None:
    listed = a_list().narrowed({"kind": "website", "state": "tagged"}, limit=10)

    assert (listed.total, listed.sources) == (0, ())
    chosen = [(choice.name, choice.hits) for group in listed.groups for choice in group.choices if choice.is_chosen]
    assert chosen == [("websites", 0), ("looked at", 0)]


def test_the_first_page_that_can_be_seen_stands_for_a_source() -> None:
    listed = {each.source.id: each for each in a_list().narrowed({}, limit=10).sources}

    assert (listed["b"].pages, listed["b"].pictured, listed["b"].digest) == (3, 1, "b" * 64)
    assert (listed["c"].pages, listed["c"].pictured, listed["c"].digest) == (1, None, "")
    assert (listed["a"].pages, listed["a"].pictured) == (0, None)
