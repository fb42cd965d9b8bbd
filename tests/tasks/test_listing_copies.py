"""What each ruling on a pair would change, held against judging the whole archive as if it were ruled so."""

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from builders import a_claim, a_component, a_feature, a_pair, a_source, an_archive, an_item, seen_on
from hypothesis import given, settings
from tasks.test_trying import archives_with_pairs, standing

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair, FoundBy
from provenance.records.kinds import Derivation, Ruling
from provenance.records.sources import DerivesFrom
from provenance.reports.copied import Copies, ListedPair, TriedRuling
from provenance.rules.judging import judge_all
from provenance.tasks.listing_copies import RULINGS, list_copies
from provenance.tasks.opening import Opened


def opened(archive: Archive) -> Opened:
    return Opened(folder=Path(), archive=archive, left_out=())


def listing(archive: Archive, **asked: Any) -> Copies:
    return list_copies(opened(archive), **asked)


def lines_of(tried: TriedRuling) -> list[tuple[str, int, int]]:
    return [(change.feature, change.before.lines, change.after.lines) for change in tried.changes]


def two_photographs(*more: Any, **dates: str) -> Archive:
    """A lamp that two photographs show which look like copies of one another."""
    pictures = [a_source(name, created=dates.get(name)) for name in ("first", "second")]
    items = [an_item(name, "shows") for name in ("first", "second")]
    return an_archive(a_claim("acetylene", *items), *pictures, a_pair("first", "second"), *more)


def as_ruled(archive: Archive, pair: CopyPair, tried: TriedRuling) -> Archive:
    """The whole archive as its records would say after a ruling."""
    sources, making = dict(archive.sources), tried.making
    if making is not None and making.how is not None:
        later = sources[making.later]
        if tried.ruling is Ruling.DISTINCT:
            kept = tuple(each for each in later.derives_from if each.source != making.earlier)
            sources[later.id] = replace(later, derives_from=kept)
        elif not making.is_on_record:
            new = DerivesFrom(source=making.earlier, how=making.how)
            sources[later.id] = replace(later, derives_from=(*later.derives_from, new))
    return replace(archive, sources=sources, copies={**archive.copies, pair.id: replace(pair, ruling=tried.ruling)})


@given(archives_with_pairs())
@settings(max_examples=60)
def test_what_a_ruling_would_change_is_what_judging_everything_anew_shows(archive: Archive) -> None:
    before = judge_all(archive)

    for listed in listing(archive, ruling="all").pairs:
        assert listed.tried is not None
        for tried in listed.tried:
            after = judge_all(as_ruled(archive, listed.pair, tried))
            told = {change.feature: (standing(change.before), standing(change.after)) for change in tried.changes}
            assert told == {
                feature: (standing(before[feature]), standing(after[feature]))
                for feature in before
                if standing(before[feature]) != standing(after[feature])
            }


def test_a_pair_is_worth_ruling_on_where_two_witnesses_would_stand_for_one() -> None:
    (listed,) = listing(two_photographs()).pairs

    assert listed.tried is not None
    distinct, copy = listed.tried
    assert (distinct.ruling, lines_of(distinct)) == (Ruling.DISTINCT, [("headlamp/type", 1, 2)])
    assert (copy.ruling, copy.making, lines_of(copy)) == (Ruling.COPY, None, [])
    assert listed.would_change == ("headlamp/type",)


def test_a_copy_is_tried_as_made_from_the_certainly_earlier_one() -> None:
    (listed,) = listing(two_photographs(first="1936", second="1934-05")).pairs

    assert listed.tried is not None
    making = listed.tried[1].making
    assert making is not None
    assert (making.later, making.earlier, making.how, making.is_on_record) == (
        "first",
        "second",
        Derivation.PRINT,
        False,
    )


def test_a_copy_goes_back_to_what_its_original_was_made_from() -> None:
    books = (
        a_source("ledger", "logbook", created="1930"),
        a_source("minutes", "report", created="1934", of=["cites:ledger"]),
        a_source("history", "report", created="1950"),
    )
    items = [an_item("ledger"), an_item("history")]
    archive = an_archive(a_claim("acetylene", *items), *books, a_pair("history", "minutes"))

    (listed,) = listing(archive).pairs

    assert listed.tried is not None
    distinct, copy = listed.tried
    assert lines_of(distinct) == []
    assert lines_of(copy) == [("headlamp/type", 2, 1)]
    assert copy.making is not None
    assert (copy.making.later, copy.making.how) == ("history", Derivation.TRANSCRIPTION)


def test_a_pair_ruled_a_copy_is_tried_without_what_its_record_says() -> None:
    archive = two_photographs(a_source("second", of=["print:first"]))
    (pair,) = archive.copies.values()
    ruled = replace(archive, copies={pair.id: replace(pair, ruling=Ruling.COPY)})

    (listed,) = listing(ruled, ruling="copy").pairs

    assert listed.tried is not None
    (distinct,) = listed.tried
    assert distinct.making is not None
    assert distinct.making.is_on_record
    assert lines_of(distinct) == [("headlamp/type", 1, 2)]


def test_what_goes_back_by_way_of_others_stays_on_record() -> None:
    plate = a_source("plate", of=["scan:first"])
    (listed,) = listing(two_photographs(a_source("second", of=["print:plate"]), plate)).pairs

    assert listed.tried is not None
    distinct, copy = listed.tried
    assert copy.making is not None
    assert (copy.making.later, copy.making.how, copy.making.is_on_record) == ("second", None, True)
    assert (lines_of(distinct), lines_of(copy)) == ([], [])


def test_a_source_that_is_ended_by_a_later_issue_ends_its_copies_too() -> None:
    drawings = (
        a_source("issue-a", "drawing", created="1928"),
        a_source("issue-b", "drawing", created="1932", replaces="issue-a"),
        a_source("print-a", "drawing", created="1933"),
    )
    archive = an_archive(a_claim("acetylene", an_item("print-a")), *drawings, a_pair("issue-a", "print-a"))

    (listed,) = listing(archive).pairs

    assert listed.tried is not None
    assert [(each.before.value, each.after.value) for each in listed.tried[1].changes] == [("acetylene", None)]


def test_what_also_goes_back_to_the_later_issue_does_not_end_with_the_replaced_one() -> None:
    sheets = (
        a_source("issue-a", "drawing", created="1928"),
        a_source("issue-b", "drawing", created="1932", replaces="issue-a"),
        a_source("tracing", "drawing", created="1933"),
        a_source("blueprint", "drawing", of=["print:issue-a", "print:tracing"]),
    )
    archive = an_archive(a_claim("acetylene", "blueprint"), *sheets, a_pair("issue-b", "tracing"))

    (listed,) = listing(archive).pairs

    assert listed.tried is not None
    distinct, copy = listed.tried
    assert (lines_of(distinct), lines_of(copy)) == ([], [("headlamp/type", 0, 1)])


def test_who_only_copied_a_letter_is_no_longer_a_witness_of_it() -> None:
    letters = (
        a_source("copied", "letter", created="1936", creator="A. Fitter"),
        a_source("first", "letter", created="1934", creator="B. Clerk"),
        a_source("own", "notes", creator="A. Fitter", origin_stated=True),
    )
    archive = an_archive(a_claim("acetylene", "copied", "own"), *letters, a_pair("copied", "first"))

    (listed,) = listing(archive).pairs

    # The writer of the notes told of the letter too, until it is known that he only copied it.
    assert listed.tried is not None
    assert [lines_of(each) for each in listed.tried] == [[], [("headlamp/type", 1, 2)]]


def test_an_original_does_not_go_back_to_what_else_its_copy_was_made_from() -> None:
    pictures = (
        a_source("first", created="1934"),
        a_source("montage", created="1936", of=["print:other"]),
        a_source("other", created="1930"),
    )
    claim = a_claim("acetylene", an_item("first", "shows"), an_item("other", "shows"))
    archive = an_archive(claim, *pictures, *families(a_pair("first", "montage")))

    (listed,) = listing(archive).pairs

    # As long as nobody has ruled, the one that is called the first may have been taken from the montage.
    assert listed.tried is not None
    assert [lines_of(each) for each in listed.tried] == [[("headlamp/type", 1, 2)], [("headlamp/type", 1, 2)]]


def families(*pairs: CopyPair) -> Iterable[CopyPair]:
    return (replace(pair, found_by=FoundBy(method="picture")) for pair in pairs)


def test_a_picture_between_two_others_holds_them_together() -> None:
    pictures = [a_source(name) for name in ("a", "b", "c")]
    claim = a_claim("acetylene", an_item("a", "shows"), an_item("c", "shows"))
    archive = an_archive(claim, *pictures, *families(a_pair("a", "b"), a_pair("b", "c")))

    listed = listing(archive).pairs

    assert [each.would_change for each in listed] == [("headlamp/type",), ("headlamp/type",)]


def three_pairs() -> Archive:
    """Open pairs of which one would change two verdicts and one none, and one ruled on that would change one."""
    names = ("a", "b", "c", "d", "e")
    claims = [
        a_claim(
            "acetylene", *(an_item(name, "shows") for name in ("c", "d")), about=f"lamp/{part}", claim_id=f"c-{part}"
        )
        for part in ("form", "finish")
    ]
    return an_archive(
        a_component("lamp", a_feature("form"), a_feature("finish")),
        a_component("roof", a_feature("form")),
        a_claim("oil", an_item("a", "shows"), an_item("e", "shows"), about="roof/form"),
        *claims,
        *(a_source(name) for name in names),
        a_pair("a", "b"),
        a_pair("c", "d"),
        a_pair("a", "e", "distinct"),
    )


def ids(pairs: Iterable[ListedPair]) -> list[str]:
    return [each.pair.id for each in pairs]


def test_open_pairs_come_first_and_those_that_would_change_most() -> None:
    archive = three_pairs()

    assert ids(listing(archive, ruling="all").pairs) == ["c--d", "a--b", "a--e"]
    assert ids(listing(archive).pairs) == ["c--d", "a--b"]
    assert ids(listing(archive, ruling="distinct").pairs) == ["a--e"]
    assert ids(listing(archive, ruling="copy").pairs) == []
    assert listing(archive).counts == {Ruling.OPEN: 2, Ruling.COPY: 0, Ruling.DISTINCT: 1}


def test_pairs_are_narrowed_to_a_source_or_to_what_speaks_of_a_component() -> None:
    archive = three_pairs()
    tagged = replace(archive, sources={**archive.sources, "c": replace(archive.sources["c"], topics=("roof",))})

    assert ids(listing(archive, source="a", ruling="all").pairs) == ["a--b", "a--e"]
    assert ids(listing(archive, component="lamp").pairs) == ["c--d"]
    assert ids(listing(tagged, component="roof").pairs) == ["c--d", "a--b"]
    assert listing(archive, source="b").counts[Ruling.OPEN] == 1


def test_the_hazards_of_what_is_compared_come_with_their_cautions() -> None:
    film = replace(a_source("first"), hazards=("nitrate-film",))

    assert [each.hazard for each in listing(two_photographs(film)).cautions] == ["nitrate-film"]


def test_where_nothing_can_be_judged_yet_the_pairs_are_listed_all_the_same() -> None:
    (listed,) = listing(replace(two_photographs(), target=None)).pairs

    assert (listed.tried, listed.would_change) == (None, ())


@pytest.mark.parametrize(("asked", "near"), [({"component": "headlmp"}, "headlamp"), ({"source": "fist"}, "first")])
def test_what_is_not_there_is_told_with_the_nearest(asked: dict[str, str], near: str) -> None:
    with pytest.raises(UnknownRecordError) as unknown:
        listing(two_photographs(), **asked)

    assert f"`{near}`" in unknown.value.mend


def test_a_ruling_that_nobody_gives_is_refused() -> None:
    with pytest.raises(UsageRefusedError, match="no ruling `maybe`") as refused:
        listing(two_photographs(), ruling="maybe")

    assert refused.value.mend == f"write one of {', '.join(RULINGS)}"


def tried_on(archive: Archive, one: str, other: str) -> dict[Ruling, list[tuple[str, int, int]]]:
    """What each ruling on a pair would change in witnesses."""
    listed = next(each for each in listing(archive, ruling="all").pairs if each.pair.between == (one, other))
    assert listed.tried is not None
    return {tried.ruling: lines_of(tried) for tried in listed.tried}


def looks_like(one: str, other: str, ruling: str = "open") -> CopyPair:
    return replace(a_pair(one, other, ruling), found_by=FoundBy(method="picture"))


def test_a_ruling_reaches_what_may_go_back_to_one_of_the_two_through_a_likely_copy() -> None:
    pictures = (
        a_source("negative"),
        a_source("print", of=["print:negative"]),
        a_source("postcard"),
        a_source("slide"),
    )
    # The postcard may be the print over again, and so go back to the negative, of which the slide may be a copy.
    pairs = (looks_like("postcard", "print"), looks_like("negative", "slide"))
    items = [an_item(each, "shows", seen=seen_on("9")) for each in ("postcard", "slide")]

    archive = an_archive(a_claim("acetylene", *items), *pictures, *pairs)

    assert tried_on(archive, "negative", "slide")[Ruling.DISTINCT] == [("headlamp/type", 1, 2)]


@pytest.mark.parametrize(("ruled", "tried", "lines"), [("copy", "distinct", (1, 2)), ("distinct", "copy", (2, 1))])
def test_a_ruling_reaches_two_items_on_one_side_that_take_different_ways(
    ruled: str, tried: str, lines: tuple[int, int]
) -> None:
    pictures = (
        a_source("album", "report"),
        a_source("negative"),
        a_source("print", of=["print:negative"]),
        a_source("slide"),
    )
    # The print is cited for what the album says; the slide may have been made from the negative, as the print was.
    items = (an_item("print", via="album"), an_item("negative", "shows", seen=seen_on("9")))

    archive = an_archive(a_claim("acetylene", *items), *pictures, looks_like("print", "slide", ruled))

    assert tried_on(archive, "print", "slide")[Ruling(tried)] == [("headlamp/type", *lines)]


def test_a_copy_takes_over_the_unnamed_origin_of_what_it_is_made_from() -> None:
    sources = (a_source("book-of-1928", "book", created="1928"), a_source("album", created="1933"))
    items = (an_item("album", "shows", seen=seen_on("9")), an_item("another-book"))

    archive = an_archive(a_claim("acetylene", *items), *sources, looks_like("album", "book-of-1928"))

    # Neither book says where its facts come from: they may share that origin.
    archive = replace(archive, sources={**archive.sources, "another-book": a_source("another-book", "book")})
    assert tried_on(archive, "album", "book-of-1928")[Ruling.COPY] == [("headlamp/type", 2, 1)]


def test_a_ruling_reaches_items_that_descend_through_the_two() -> None:
    pictures = [a_source(each, "report") for each in ("album", "scrapbook")]
    items = (an_item("letter", via="album"), an_item("diary", via="scrapbook"))

    archive = an_archive(a_claim("acetylene", *items), *pictures, looks_like("album", "scrapbook"))

    assert tried_on(archive, "album", "scrapbook")[Ruling.DISTINCT] == [("headlamp/type", 1, 2)]
