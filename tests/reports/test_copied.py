"""The pairs of likely copies as people and programs read them."""

from dataclasses import replace
from pathlib import Path
from typing import Any

from answers import faults_of
from builders import a_claim, a_date, a_pair, a_source, a_withdrawal, an_archive, an_item

from provenance.records.archive import Archive
from provenance.records.decisions import AlikePlace, CopyPair, FoundBy
from provenance.records.kinds import Derivation, Ruling
from provenance.records.regions import parse_region, parse_time_span
from provenance.reports.copied import Copies, copies_json
from provenance.reports.copied_text import copies_text
from provenance.reports.copied_words import dated_words, person_words, ruling_words
from provenance.tasks.listing_copies import list_copies
from provenance.tasks.opening import Opened

FOUND = FoundBy(
    method="picture",
    score="0.91",
    places=(AlikePlace(page=1), AlikePlace(page=14, region=parse_region("percent:10,10,40,40"))),
)


def an_archive_with(pair: CopyPair, **dates: str) -> Archive:
    pictures = [a_source(name, title=f"View {name}", created=dates.get(name)) for name in ("first", "second")]
    items = [an_item(name, "shows") for name in ("first", "second")]
    return an_archive(a_claim("acetylene", *items), *pictures, pair)


def listing(archive: Archive, **asked: Any) -> Copies:
    return list_copies(Opened(folder=Path(), archive=archive, left_out=()), **asked)


def page(archive: Archive, **asked: Any) -> str:
    return copies_text(listing(archive, **asked), 100)


def found_pair(**fields: Any) -> CopyPair:
    return replace(a_pair("first", "second"), why="the same crack in the plate", found_by=FOUND, **fields)


def test_an_open_pair_is_told_with_what_each_ruling_would_change_and_how_it_is_ruled_on() -> None:
    assert page(an_archive_with(found_pair(note="ask the family"), first="1934-05")) == (
        "One pair of sources waits for a ruling. None was ruled on yet.\n"
        "Until somebody rules on a pair, the two count as one witness.\n"
        "\n"
        "1. first and second\n"
        "   “View first” (photograph, May 1934)\n"
        "   “View second” (photograph, without a date)\n"
        "   alike: the same crack in the plate\n"
        "   found by comparing pictures, alike to 0.91 of 1, page 1 of first and part of page 14 of second;\n"
        "     entered by Mary Holt, 25 November 2026\n"
        "   note: ask the family\n"
        "   if neither is a copy of the other: one verdict would change:\n"
        "     headlamp/type (Headlamp type)\n"
        "       before: Acetylene: uncorroborated, chance 96 %, one independent witness\n"
        "       after: Acetylene: established, chance over 99 %, 2 independent witnesses\n"
        "   if they are copies (their dates do not say which was made from which): no verdict would change.\n"
        "\n"
        "To rule on it, if the one was made from the other:\n"
        '  provenance copies confirm first second --how print --original ID --why "…"\n'
        "and if neither was:\n"
        '  provenance copies rule-out first second --why "…"\n'
        "With --try it is only told what would change."
    )


def test_where_the_dates_tell_the_original_nobody_is_asked_for_it() -> None:
    text = page(an_archive_with(found_pair(), first="1934", second="1936"))

    assert "if second is a print of first: no verdict would change." in text
    assert "copies confirm first second --how print --why" in text


def test_what_is_on_record_already_is_said() -> None:
    archive = an_archive_with(found_pair())
    declared = replace(archive, sources={**archive.sources, "second": a_source("second", of=["crop:first"])})
    through = {
        **archive.sources,
        "plate": a_source("plate", of=["scan:first"]),
        "second": a_source("second", of=["print:plate"]),
    }

    assert "if second is a part of first, as is on record already" in page(declared)
    assert "(and what second says in `derives_from` is taken out)" in page(declared)
    assert "if second goes back to first, as is on record already" in page(replace(archive, sources=through))


def ruled(ruling: str) -> CopyPair:
    how = Derivation.PRINT
    return found_pair(ruling=Ruling(ruling), how=how, why_ruled="seen", ruled_by="mh", ruled_date=a_date("2026-12-01"))


def test_a_pair_that_was_ruled_on_is_told_with_who_ruled_when_and_why() -> None:
    archive = an_archive_with(ruled("copy"))

    everything, nothing = page(archive, ruling="all"), page(archive)

    assert "   ruled a copy (print) by Mary Holt on 1 December 2026: “seen”\n" in everything
    assert "To rule on it" not in everything
    assert nothing == (
        "No pairs of sources wait for a ruling. Ruled on so far: 1 as copies.\n"
        "Those that were ruled on are listed with --ruling all."
    )


def test_what_was_narrowed_is_said_and_both_rulings_are_counted() -> None:
    archive = an_archive_with(ruled("copy"))
    more = {"first--third": a_pair("first", "third", "distinct"), "second--third": a_pair("second", "third")}
    whole = replace(archive, copies={**archive.copies, **more}, sources={**archive.sources, "third": a_source("third")})

    assert page(whole, component="headlamp", source="third").startswith(
        "One pair of sources about headlamp with third waits for a ruling. Ruled on so far: 1 as distinct.\n"
    )
    assert "Ruled on so far: 1 as copies and 1 as distinct." in page(whole)


def test_a_pair_without_figures_is_told_as_it_is_recorded() -> None:
    by_hand = replace(a_pair("first", "second"), found_by=FoundBy(method="by eye"))
    elsewhere = replace(by_hand, found_by=FoundBy(method="a light table", score="good"))
    heard = AlikePlace(time=parse_time_span("00:00:10"))
    recording = replace(by_hand, found_by=FoundBy(method="text", places=(heard, AlikePlace())))

    assert "   entered by Mary Holt, 25 November 2026\n" in page(an_archive_with(a_pair("first", "second")))
    assert "   found by eye; entered by" in page(an_archive_with(by_hand))
    assert "   found by a light table, score good; entered by" in page(an_archive_with(elsewhere))
    assert "   found by comparing texts, at 00:00:10" in page(an_archive_with(recording))
    assert "the whole of second" in page(an_archive_with(recording))


def test_where_nothing_can_be_judged_yet_that_is_said() -> None:
    archive = replace(an_archive_with(found_pair()), target=None)

    text = page(archive)

    assert "It is not said yet which example is represented" in text
    assert "would change:" not in text
    assert "--original ID" in text


def test_a_source_without_kind_and_one_that_is_withdrawn_are_told_as_such() -> None:
    archive = an_archive_with(found_pair())
    first, second = (archive.sources[name] for name in ("first", "second"))
    sources = {"first": replace(first, kind=None), "second": replace(second, withdrawn=a_withdrawal())}
    text = page(replace(archive, sources=sources))

    assert "“View first” (of a kind that nobody has said yet, without a date)" in text
    assert "“View second” (photograph, without a date; withdrawn)" in text


def test_the_answer_for_programs_has_what_the_page_has() -> None:
    archive = an_archive_with(found_pair(), first="1934", second="1936")

    answer: Any = copies_json(listing(archive))

    assert faults_of(answer) == []
    (pair,) = answer["pairs"]
    assert (pair["between"], pair["ruling"], pair["method"], pair["score"]) == (
        ["first", "second"],
        "open",
        "picture",
        "0.91",
    )
    assert pair["would_change"] == ["headlamp/type"]
    assert [(each["ruling"], each["later"], each["how"]) for each in pair["if_ruled"]] == [
        ("distinct", None, None),
        ("copy", "second", "print"),
    ]
    assert pair["places"][1] == {"page": 14, "region": "percent:10,10,40,40", "time": None}


def test_the_answer_is_sound_for_every_ruling_and_where_nothing_is_said() -> None:
    bare = an_archive_with(a_pair("first", "second"))

    assert faults_of(copies_json(listing(bare))) == []
    assert faults_of(copies_json(listing(replace(bare, target=None)))) == []
    for ruling in ("copy", "distinct"):
        assert faults_of(copies_json(listing(an_archive_with(ruled(ruling)), ruling=ruling))) == []


def test_words_of_a_ruling_hold_what_is_recorded_and_no_more() -> None:
    archive = an_archive_with(a_pair("first", "second"))

    assert ruling_words(a_pair("first", "second"), archive) == "open: nobody has ruled on it"
    assert ruling_words(a_pair("first", "second", "distinct"), archive) == "ruled distinct"
    assert ruling_words(ruled("distinct"), archive) == "ruled distinct by Mary Holt on 1 December 2026: “seen”"
    assert person_words(archive, "zz") == "zz"
    assert dated_words(a_source("x", created="1934~")) == "about 1934"
