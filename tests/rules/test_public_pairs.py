"""What is withheld loosens no tie between what is shown."""

from builders import a_claim, a_pair, a_source, an_archive, an_item, seen_on
from picture_pairs import alike

from provenance.records.archive import Archive
from provenance.records.days import Day
from provenance.records.decisions import CopyPair
from provenance.records.kinds import Access
from provenance.rules.copy_families import tied
from provenance.rules.public_pairs import pairs_among
from provenance.rules.public_view import public_view

AC = frozenset("ac")


def ids(*pairs: CopyPair) -> list[tuple[str, str]]:
    return sorted((pair.id, str(pair.ruling)) for pair in pairs)


def shown(*pairs: CopyPair, of: frozenset[str] = AC) -> list[tuple[str, str]]:
    return ids(*pairs_among(pairs, of))


def test_pairs_between_what_is_shown_stay_and_others_go() -> None:
    pairs = [alike("a", "c"), a_pair("a", "d", "copy"), a_pair("c", "d", "distinct"), a_pair("c", "z")]

    assert shown(*pairs, of=frozenset("acd")) == ids(*pairs[:3])
    assert shown(*pairs) == [("a--c", "open")]
    assert shown(alike("a", "z")) == []


def test_two_that_hang_together_by_a_withheld_picture_alone_are_paired() -> None:
    assert shown(alike("a", "b"), alike("b", "c")) == [("a--c", "open")]
    assert shown(alike("a", "b", "copy"), alike("b", "c", "copy")) == [("a--c", "copy")]
    assert shown(a_pair("a", "b"), a_pair("b", "c")) == [], "by their text they do not hang together"
    assert shown(alike("a", "b", pages=(1, 1)), alike("b", "c", pages=(2, 1))) == [], "nor on two pages of a book"


def test_a_ruling_between_the_two_gives_way_to_what_ties_them_all_the_same() -> None:
    pairs = (alike("a", "b"), alike("b", "c"), alike("a", "c", "distinct"))

    assert shown(*pairs) == [("a--c", "open")]


def test_no_more_pairs_are_made_than_tie_the_rest() -> None:
    """A and D are like one another, and each is like the withheld Z, as C and E are."""
    pairs = (alike("a", "d"), alike("a", "z"), alike("c", "z"), alike("d", "z"), alike("e", "z"))

    found = pairs_among(pairs, frozenset("acde"))

    assert len(found) == 3
    ties = tied(an_archive(*(a_source(each) for each in "acde"), *found))
    assert all(ties.are_tied(one, other) for one in "acde" for other in "acde")


def test_a_withheld_print_leaves_two_others_one_witness_in_public() -> None:
    def view_of(access: Access) -> tuple[int, int | None, Archive]:
        views = [a_source(each, access=access if each == "b" else Access.OPEN) for each in "abc"]
        claim = a_claim("acetylene", *(an_item(each, "shows", seen=seen_on("9", "1934")) for each in "abc"))
        public = public_view(an_archive(*views, claim, alike("a", "b"), alike("b", "c")), Day(2026, 1, 1))
        (verdict,) = public.verdicts.values()
        return verdict.lines, verdict.lines_if_ruled_out, public.archive

    for access in (Access.TEAM, Access.CLOSED):
        lines, if_ruled_out, public = view_of(access)
        assert (lines, if_ruled_out) == (1, 2)
        assert list(public.copies) == ["a--c"]
    assert view_of(Access.OPEN)[:2] == (1, 3)
