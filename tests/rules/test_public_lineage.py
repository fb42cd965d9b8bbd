"""The team's sources behind open ones: lines stay true in public, and nobody is named."""

from typing import Any

from builders import a_claim, a_pair, a_source, an_archive, an_item
from public_archives import CANARIES, DAY, TEAM, a_withheld_source, an_open_source, leaked, texts_in

from provenance.records.kinds import Access
from provenance.records.sources import Source
from provenance.rules.grades import Grade
from provenance.rules.judging import judge_all
from provenance.rules.public_view import public_view

TYPE = "headlamp/type"
NODE = "*withheld-0001*"


def _of_the_teams(source_id: str, kind: str, **fields: Any) -> Source:
    return a_source(source_id, kind, access=Access.TEAM, **fields)


def test_two_open_books_that_cite_one_ledger_of_the_teams_are_one_witness_in_public_too() -> None:
    ledger = _of_the_teams("ledger", "logbook")
    books = [an_open_source(f"book-{n}", "book", of=["ledger"]) for n in (1, 2)]
    archive = an_archive(ledger, *books, a_claim("electric", "book-1", "book-2"))

    verdict = public_view(archive, DAY).verdicts[TYPE]

    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.UNCORROBORATED, 1, (NODE,))
    assert "go back to “a source held privately”" in verdict.explanation
    assert "edger" not in verdict.explanation


def test_where_nothing_of_the_teams_is_cited_itself_the_public_judges_as_the_team_does() -> None:
    """A chain of copies, a pair of likely copies, and an item that names its parent: the same chances and lines."""
    letter = _of_the_teams("letter", "letter", creator="T. Ossary")
    copy = _of_the_teams("copy", "letter", of=["transcription:letter"])
    extracts = [an_open_source(f"extract-{n}", "report", of=["extract:copy"]) for n in (1, 2)]
    print_ = an_open_source("print", "report", of=["cites:letter", "cites:manual"])
    manual = an_open_source("manual", "manual")
    claims = [
        a_claim("electric", "extract-1", an_item("print", via="letter"), "manual"),
        a_claim("oil", "extract-2", an_item("print", via="manual", page=2)),
    ]
    archive = an_archive(letter, copy, *extracts, print_, manual, *claims, a_pair("letter", "manual"))

    whole, view = judge_all(archive)[TYPE], public_view(archive, DAY)

    public = view.verdicts[TYPE]
    assert (public.grade, public.value, public.lines, public.posterior) == (
        whole.grade,
        whole.value,
        whole.lines,
        whole.posterior,
    )
    assert public.lines_if_ruled_out == whole.lines_if_ruled_out
    assert view.in_confidence == frozenset()


def test_a_node_tells_what_sort_of_thing_it_was_and_nothing_else() -> None:
    secret = a_withheld_source(TEAM, Access.TEAM)
    open_print = an_open_source("print", of=[f"print:{secret.id}"])

    view = public_view(an_archive(secret, open_print, a_claim("electric", "print")), DAY)

    assert view.archive.sources[NODE].kind is secret.kind
    assert CANARIES
    assert leaked(texts_in(view)) == set()


def test_two_private_letters_of_one_person_are_one_witness_behind_what_was_made_of_them() -> None:
    letters = [_of_the_teams(f"letter-{n}", "letter", creator="T. Ossary") for n in (1, 2)]
    other = _of_the_teams("letter-3", "letter", creator="unknown")
    extracts = [an_open_source(f"extract-{n}", "report", of=[f"extract:letter-{n}"]) for n in (1, 2, 3)]
    claim = a_claim("electric", *(extract.id for extract in extracts))

    view = public_view(an_archive(*letters, other, *extracts, claim), DAY)

    assert view.verdicts[TYPE].lines == 2
    assert "Ossary" not in "\n".join(texts_in(view.archive) | texts_in(view.verdicts))


def test_pictures_of_one_occasion_stay_one_witness_behind_what_was_made_of_them() -> None:
    pictures = [
        _of_the_teams(f"picture-{n}", "photograph", creator="N. Corrin", occasion="the trial run") for n in (1, 2)
    ]
    prints = [an_open_source(f"print-{n}", "photograph", of=[f"print:picture-{n}"]) for n in (1, 2)]

    view = public_view(an_archive(*pictures, *prints, a_claim("electric", "print-1", "print-2")), DAY)

    assert view.verdicts[TYPE].lines == 1
    assert "trial run" not in "\n".join(texts_in(view.archive) | texts_in(view.verdicts))


def test_a_tie_that_could_not_be_kept_without_a_name_takes_what_goes_back_to_it_out_of_judgement() -> None:
    # given: a private letter of somebody who also wrote a letter that is shown, and an open report that quotes the one
    private = _of_the_teams("private", "letter", creator="T. Ossary")
    report = an_open_source("report", "report", of=["cites:private"])
    shown = an_open_source("shown", "letter", creator="T. Ossary")

    view = public_view(an_archive(private, report, shown, a_claim("electric", "report", "shown")), DAY)

    (claim,) = view.archive.claims.values()
    assert [item.source for item in claim.evidence] == ["shown"]
    assert set(view.archive.sources) == {"report", "shown"}


def test_whoever_speaks_in_a_source_that_is_shown_is_such_a_tie_too() -> None:
    private = _of_the_teams("private", "letter", creator="T. Ossary")
    report = an_open_source("report", "report", of=["cites:private"])
    tape = an_open_source("tape", "oral-history")
    claim = a_claim("electric", "report", an_item("tape", who="T. Ossary"))

    view = public_view(an_archive(private, report, tape, claim), DAY)

    assert view.verdicts[TYPE].lines == 1
