import ast
from dataclasses import replace
from pathlib import Path

import pytest
from builders import (
    a_claim,
    a_component,
    a_date,
    a_decision,
    a_feature,
    a_pair,
    a_source,
    a_withdrawal,
    against,
    an_archive,
    an_item,
    applies,
    common_over,
    seen_on,
)
from checkout import ROOT
from public_archives import (
    CANARIES,
    CLEARED,
    CLOSED,
    DAY,
    TEAM,
    a_withheld_source,
    an_archive_that_holds_back,
    an_open_source,
    canary,
    leaked,
    texts_in,
    with_names_that_tell,
)

from provenance.records.archive import Archive
from provenance.records.claims import EvidenceItem
from provenance.records.dates import Day
from provenance.records.decisions import Made
from provenance.records.kinds import Access
from provenance.records.sources import Acquired
from provenance.rules.grades import Grade
from provenance.rules.judging import judge_all
from provenance.rules.public_view import public_view

TYPE = "headlamp/type"


def _seen(source: str) -> EvidenceItem:
    return an_item(source, "shows", seen=seen_on("9", "1934-05"))


def test_no_word_of_what_is_withheld_stands_anywhere_in_the_public_view() -> None:
    archive = an_archive_that_holds_back()

    view = public_view(archive, DAY)

    assert leaked(texts_in(archive)) == CANARIES
    assert leaked(texts_in(view)) == set()


@pytest.mark.parametrize(
    "told", ["zzteamtitleqx leaf", "zzclosedcreatorqx", "zzteamreferenceqx", "zzclosed-id", "opendonorqx"]
)
def test_no_name_that_the_team_gave_says_what_is_withheld(told: str) -> None:
    plain = an_archive_that_holds_back()
    archive = with_names_that_tell(plain, told)
    before = public_view(plain, DAY)

    view = public_view(archive, DAY)

    assert leaked(texts_in(view)) == set()
    assert view.archive.components["headlamp"].name == "Lamp of [withheld]"
    for feature, verdict in view.verdicts.items():
        judged = before.verdicts[feature]
        assert (verdict.value, verdict.grade, verdict.posterior) == (judged.value, judged.grade, judged.posterior)


def test_a_claim_about_a_related_type_stays_one_where_a_name_is_struck_out_of_the_types() -> None:
    given = an_open_source("trailer-photo", acquired=(Acquired(giver="opendonorqx"),))
    name = "Trailer of opendonorqx"
    item = an_item("trailer-photo", "shows", seen=seen_on(name), applies_to=applies(None, related=name))
    claim = a_claim("electric", item, to=applies(None, related=name))

    archive = an_archive(given, claim, related=[name])

    view = public_view(archive, DAY)

    (shown,) = view.archive.claims.values()
    assert judge_all(archive)[TYPE].grade is view.verdicts[TYPE].grade is Grade.INFERRED
    assert shown.applies_to.related == "Trailer of [withheld]"
    assert leaked(texts_in(view)) == set()


def test_only_the_door_makes_a_public_archive() -> None:
    makers = {
        path.relative_to(ROOT / "provenance").as_posix()
        for path in (ROOT / "provenance").rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and ast.unparse(node.func).endswith("PublicArchive")
    }

    assert makers == {"rules/public_view.py"}


def test_nothing_public_imports_what_is_made_of_a_whole_archive() -> None:
    """Public reports take the view and no archive: they name the type of the one, never that of the other."""
    appendix = ("appendix", "appendix_document", "appendix_parts", "appendix_readings", "citations", "declared")
    registers = ("registers", "registers_document", "registers_features", "registers_sheets", "registers_sources")
    for module in (*appendix, *registers, "public_evidence"):
        names = {node.id for node in ast.walk(ast.parse(_source(module))) if isinstance(node, ast.Name)}
        assert "Archive" not in names, module


def _source(module: str) -> str:
    return Path(ROOT / "provenance" / "reports" / f"{module}.py").read_text(encoding="utf-8")


def test_a_source_of_the_teams_is_counted_and_a_closed_one_is_not_even_that() -> None:
    archive = an_archive_that_holds_back()

    view = public_view(archive, DAY)

    assert view.held_privately[TYPE] == 1
    assert set(view.archive.sources) == {"open-photo"}


def test_a_grade_that_is_lower_in_public_is_said_to_be_held_up_by_something_in_confidence() -> None:
    # given: three sightings by three people; in public one is left
    archive = an_archive_that_holds_back()
    assert judge_all(archive)[TYPE].grade is Grade.ESTABLISHED

    view = public_view(archive, DAY)

    assert view.verdicts[TYPE].grade is Grade.UNCORROBORATED
    assert TYPE in view.in_confidence


def test_a_value_that_only_withheld_sources_give_is_nobodys_in_public() -> None:
    view = public_view(an_archive_that_holds_back(), DAY)

    assert view.verdicts["headlamp/finish"].candidates == ()
    assert "headlamp/finish" in view.in_confidence
    assert view.held_privately["headlamp/finish"] == 0


def test_a_value_of_a_withheld_source_stays_withheld_where_an_open_one_speaks_against_it() -> None:
    finish = a_component("headlamp", a_feature("finish", "text", "finish"))
    secret = a_withheld_source(TEAM, Access.TEAM)
    claim = a_claim("zzteamvalueqx", secret.id, against("open-book"), about="headlamp/finish")

    view = public_view(an_archive(finish, secret, an_open_source("open-book", "manual"), claim), DAY)

    assert view.archive.claims == {}


def test_that_something_is_there_or_is_not_is_nobodys_wording() -> None:
    hood = a_component("headlamp", a_feature("hood", "presence", "presence"))
    secret = a_withheld_source(CLOSED, Access.CLOSED)
    claim = a_claim("present", secret.id, against("open-book"), about="headlamp/hood")

    view = public_view(an_archive(hood, secret, an_open_source("open-book", "manual"), claim), DAY)

    assert view.verdicts["headlamp/hood"].value == "absent"
    assert "headlamp/hood" in view.in_confidence


def test_what_goes_back_to_a_withheld_source_is_not_judged_on_either() -> None:
    ledger = a_source("ledger", "logbook", access=Access.CLOSED)
    copy = an_open_source("copy", "notes", of=["transcription:ledger"])
    claim = a_claim("electric", "copy", "manual")

    view = public_view(an_archive(ledger, copy, an_open_source("manual", "manual"), claim), DAY)

    (shown,) = view.archive.claims.values()
    assert [item.source for item in shown.evidence] == ["manual"]
    assert view.archive.sources["copy"].derives_from == ()


def test_public_verdicts_are_those_judged_without_what_is_withheld() -> None:
    """The same grades, chances and witnesses as `--without` gives: a second way to the same answer."""
    ledger = a_source("ledger", "logbook", access=Access.CLOSED)
    album = a_source("album", "photograph", access=Access.TEAM)
    books = [an_open_source(f"book-{n}", "book", of=["ledger"]) for n in (1, 2)]
    manual, memo = an_open_source("manual", "manual"), an_open_source("memo", "letter", creator="B. Sorrin")
    electric = a_claim("electric", "manual", "memo", "book-1", "album", to="all")
    acetylene = a_claim("acetylene", "book-2", "ledger", _seen("open-photo"), to="all")
    archive = an_archive(ledger, album, *books, manual, memo, an_open_source("open-photo"), electric, acetylene)

    public = public_view(archive, DAY).verdicts[TYPE]
    without = judge_all(archive, without=frozenset({"ledger", "album"}))[TYPE]

    assert (public.grade, public.value, public.lines) == (without.grade, without.value, without.lines)
    assert public.posterior == pytest.approx(without.posterior)


def test_a_book_that_cites_a_closed_ledger_does_not_become_a_witness_of_its_own() -> None:
    # given: two books that both took the value from one closed ledger, and say so
    ledger = a_source("ledger", "logbook", access=Access.CLOSED)
    books = [an_open_source(f"book-{n}", "book", of=["ledger"], origin_stated=True) for n in (1, 2)]

    view = public_view(an_archive(ledger, *books, a_claim("electric", "book-1", "book-2")), DAY)

    assert view.verdicts[TYPE].lines == 0


def test_what_was_withdrawn_is_not_told_and_keeps_nothing_in_confidence() -> None:
    hoax = an_open_source("hoax", withdrawn=a_withdrawal())
    archive = an_archive(
        hoax, an_open_source("manual", "manual"), a_claim("electric", "manual"), a_claim("oil", "hoax"),
        a_decision("gone", withdrawn=a_withdrawal()), a_decision("maybe", status="proposed"),
    )  # fmt: skip

    view = public_view(archive, DAY)

    assert set(view.archive.sources) == {"manual"}
    assert [claim.value for claim in view.archive.claims.values()] == ["electric"]
    assert view.archive.decisions == {}
    assert view.in_confidence == frozenset()


def test_claims_and_decisions_carry_numbers_for_ids_since_theirs_may_hold_text() -> None:
    first, second = a_claim("electric", "manual"), a_claim("oil", "manual")
    kept = a_decision(
        "build-electric", basis=(first.id,), set_aside=((second.id, "later"), ("gone", "-")), replaces="x"
    )
    archive = an_archive(an_open_source("manual", "manual"), first, second, kept)

    view = public_view(archive, DAY)

    assert [(each.id, each.value) for each in view.archive.claims.values()] == [
        ("claim-0001", "electric"),
        ("claim-0002", "oil"),
    ]
    (decision,) = view.archive.decisions.values()
    assert (decision.id, decision.basis, decision.replaces) == ("decision-0001", ("claim-0001",), None)
    assert [each.claim for each in decision.set_aside] == ["claim-0002"]


def test_a_pair_of_likely_copies_is_one_witness_in_public_too() -> None:
    one, other = an_open_source("print-a"), an_open_source("print-b")
    claim = a_claim("electric", _seen("print-a"), _seen("print-b"))

    both = public_view(an_archive(one, other, claim, a_pair("print-a", "print-b")), DAY)
    half = public_view(an_archive(one, replace(other, access=Access.TEAM), claim, a_pair("print-a", "print-b")), DAY)

    assert both.verdicts[TYPE].lines == 1
    assert half.archive.copies == {}


def test_parts_that_a_withheld_source_calls_interchangeable_are_not_called_so_in_public() -> None:
    lists = a_source("lists", "catalogue", access=Access.TEAM)
    part = a_component(common_to=(common_over("5..11", "lists"),))

    view = public_view(an_archive(part, lists), DAY)

    assert view.archive.components["headlamp"].common_to == ()


def test_a_closure_that_has_ended_opens_a_source_on_that_day_and_not_before() -> None:
    archive = _with_access_until("2030-06-30")

    assert set(public_view(archive, Day(2030, 6, 30)).archive.sources) == set()
    assert set(public_view(archive, Day(2030, 7, 1)).archive.sources) == {"diary"}


def _with_access_until(until: str) -> Archive:
    diary = a_source("diary", "logbook", access=Access.CLOSED, access_until=a_date(until), rights=CLEARED)
    return an_archive(diary, a_claim("electric", "diary", to=applies()))


def test_sources_that_are_shown_and_not_cleared_are_named_with_whom_to_ask() -> None:
    archive = an_archive(an_open_source("manual", "manual", rights=None, holder="Orrin Library"))

    view = public_view(archive, DAY)

    assert view.not_cleared["manual"].ask == "Orrin Library"


def test_the_canaries_of_a_withheld_source_are_all_in_its_record() -> None:
    """Else the search for them would prove nothing."""
    words = "\n".join(texts_in(a_withheld_source(TEAM, Access.TEAM)))

    for field in "title creator holder place reference file donor note".split():  # noqa: SIM905  plainer than quotes
        assert canary(TEAM, field) in words


def test_a_view_for_some_features_judges_them_as_the_whole_view_does_and_holds_no_other_claims() -> None:
    archive = an_archive_that_holds_back()

    whole, part = public_view(archive, DAY), public_view(archive, DAY, only={TYPE})

    assert part.verdicts == {TYPE: whole.verdicts[TYPE]}
    assert {claim.about for claim in part.archive.claims.values()} == {TYPE}


def test_a_claim_about_a_feature_that_is_not_there_is_not_shown() -> None:
    """Nobody has judged what its items go back to."""
    stray = a_claim("brass", "manual", about="headlamp/gone")

    view = public_view(an_archive(a_component(), an_open_source("manual", "manual"), stray), DAY)

    assert view.archive.claims == {}


def test_of_what_was_made_the_day_alone_is_told() -> None:
    made = Made(date=a_date("2026-02"), by="mh", value="as made", fits="badly", inspected_by="mh", photo="p", note="n")

    view = public_view(an_archive(a_decision(made=(made,))), DAY)

    (decision,) = view.archive.decisions.values()
    assert decision.made == (Made(date=a_date("2026-02")),)
