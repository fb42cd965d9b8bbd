"""On which open pairs a count of witnesses hangs."""

from builders import a_pair, a_source, an_archive, an_item
from picture_pairs import alike

from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair
from provenance.rules.descent import Lineage
from provenance.rules.open_pairs import OpenPairs


def between(archive: Archive, *cited: str) -> list[str]:
    lineage = Lineage(archive)
    pairs = OpenPairs(archive, lineage)
    return [pair.id for pair in pairs.between([lineage.of_item(an_item(each)) for each in cited])]


def prints(names: str, *pairs: CopyPair) -> Archive:
    return an_archive(*(a_source(each) for each in names), *pairs)


def test_a_pair_counts_where_the_items_go_back_to_both_sources() -> None:
    archive = prints("abc", a_pair("a", "b"), alike("b", "c"))

    assert between(archive, "a", "b") == ["a--b"]
    assert between(archive, "b", "c") == ["b--c"]
    assert between(archive, "a", "c") == []
    assert between(archive, "a", "b", "c") == ["a--b", "b--c"]
    assert between(archive) == []


def test_of_a_family_only_what_lies_between_the_cited_sources_counts() -> None:
    """A tree: a-b, b-c, b-d, d-e."""
    archive = prints("abcde", alike("a", "b"), alike("b", "c"), alike("b", "d"), alike("d", "e"))

    assert between(archive, "a", "c") == ["a--b", "b--c"]
    assert between(archive, "a", "e") == ["a--b", "b--d", "d--e"]
    assert between(archive, "c", "b") == ["b--c"]


def test_pairs_of_which_both_sources_are_cited_are_named_first() -> None:
    archive = prints("abcz", alike("a", "b"), alike("b", "z"), alike("c", "z"))

    assert between(archive, "a", "c", "z") == ["c--z", "a--b", "b--z"]


def test_of_a_ring_all_pairs_count() -> None:
    assert between(prints("abc", alike("a", "b"), alike("b", "c"), alike("a", "c")), "a", "c") == [
        "a--c",
        "a--b",
        "b--c",
    ]


def test_what_a_source_of_a_family_was_made_from_counts_for_it() -> None:
    """D looks like B, which was printed from N; N and A are cited."""
    archive = an_archive(
        a_source("a"), a_source("b", of=["print:n"]), a_source("n"), a_source("d"), alike("a", "b"), alike("b", "d")
    )

    assert between(archive, "a", "n") == ["a--b"]
    assert between(archive, "a", "d") == ["a--b", "b--d"]


def test_two_families_that_meet_in_a_source_behind_them_count_both() -> None:
    """A may go back to N by way of B, and D by way of C: so A and D may have N in common."""
    archive = an_archive(
        *(a_source(each) for each in "adn"),
        *(a_source(each, of=["print:n"]) for each in "bc"),
        alike("a", "b"),
        alike("c", "d"),
    )

    assert between(archive, "a", "d") == ["a--b", "c--d"]


def test_a_plate_of_a_book_hangs_on_its_own_page() -> None:
    archive = prints("abcd", alike("a", "b", pages=(1, 1)), alike("b", "c", pages=(2, 1)), alike("b", "d"))

    assert between(archive, "a", "c") == ["a--b", "b--c"], "D is like the whole of B, and so holds its pages together"
    assert between(prints("abc", alike("a", "b", pages=(1, 1)), alike("b", "c", pages=(2, 1))), "a", "c") == []


def test_it_is_plain_that_a_pair_parts_two_where_nothing_else_holds_them_together() -> None:
    row = [alike("a", "b"), alike("b", "c")]
    archive = prints("abc", *row)
    ring = prints("abc", *row, alike("a", "c"))
    behind = an_archive(a_source("a"), a_source("b", of=["print:n"]), alike("a", "b"))
    one_negative = an_archive(*(a_source(each, "letter", creator="A. Fitter") for each in "ab"), alike("a", "b"))

    def plain(archive: Archive, pair: CopyPair, *cited: str) -> bool:
        lineage = Lineage(archive)
        return OpenPairs(archive, lineage).plainly_parts(pair, [lineage.of_item(an_item(each)) for each in cited])

    assert plain(archive, row[0], "a", "c")
    assert plain(archive, row[1], "a", "c")
    assert not plain(archive, row[1], "a", "b"), "they stand on one side of it"
    assert not plain(ring, row[0], "a", "c")
    assert not plain(behind, row[0], "a", "b"), "what is behind a family has to be tried"
    assert not plain(one_negative, row[0], "a", "b"), "they have their witness in common"
    assert not plain(prints("ab", a_pair("a", "b")), a_pair("a", "b"), "a", "b")
