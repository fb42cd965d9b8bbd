from typing import Any

import pytest
from builders import BY, TODAY, Record, a_claim, a_date, a_source, a_withdrawal, an_archive, an_item

from provenance.records.archive import Archive
from provenance.records.dates import Day
from provenance.records.decisions import Panel, Statement
from provenance.records.kinds import Publish
from provenance.records.sources import Loan, Permission, Rights
from provenance.rules.findings import DoubtfulWords, Findings, FixityFault, UnreadPage, Untranscribed
from provenance.rules.flag_values import Flag, Level
from provenance.rules.source_flags import source_flags

DAY = Day(2026, 11, 25)
CLEARED = Rights(publish=Publish.ALLOWED)


def raised(archive: Archive, findings: Findings | None = None, today: Day | None = DAY) -> list[Flag]:
    return list(source_flags(archive, findings or Findings(), today))


def of(flag: str, *records: Record, findings: Findings | None = None, today: Day | None = DAY) -> list[Flag]:
    return [each for each in raised(an_archive(*records), findings, today) if each.flag == flag]


def test_a_find_that_nobody_has_tagged_is_noted() -> None:
    (flag,) = of("untagged-find", a_source("scan-0001", None), a_source("works-drawing", "drawing"))

    assert (flag.severity, flag.about, flag.sources) == (Level.NOTE, "scan-0001", ("scan-0001",))


def test_a_withdrawn_source_is_not_asked_about() -> None:
    withdrawn = a_source("hoax", "letter", withdrawn=a_withdrawal(), tagged=False)

    assert raised(an_archive(withdrawn, a_claim("acetylene", "hoax"))) == []


@pytest.mark.parametrize(
    ("rights", "unclear"),
    [
        (None, "nothing is entered about its rights"),
        (Rights(statement="CNE"), "it is not said whether it may be published"),
        (Rights(publish=Publish.ASK), "permission to publish it has still to be asked for"),
        (Rights(publish=Publish.ASK, permission=Permission(giver="A. Heir")), None),
        (Rights(publish=Publish.ALLOWED), None),
        (Rights(publish=Publish.REFUSED), None),
        (
            Rights(publish=Publish.ALLOWED, permission=Permission(until=a_date("2025"))),
            "the permission to publish it ended (2025)",
        ),
        (Rights(publish=Publish.ALLOWED, permission=Permission(until=a_date("2026"))), None),
        (Rights(publish=Publish.ALLOWED, permission=Permission(until=a_date("2026/.."))), None),
        (Rights(publish=Publish.REFUSED, permission=Permission(until=a_date("2025"))), None),
    ],
)
def test_the_rights_in_what_is_used_as_evidence_have_to_be_clear(rights: Rights | None, unclear: str | None) -> None:
    flags = of("rights-unclear", a_source("view", rights=rights), a_claim("acetylene", "view"))

    assert [flag.sentence for flag in flags] == ([f"“View” is used as evidence, but {unclear}."] if unclear else [])


def test_without_a_day_no_permission_has_ended() -> None:
    rights = Rights(publish=Publish.ALLOWED, permission=Permission(until=a_date("2025")))

    assert of("rights-unclear", a_source("view", rights=rights), a_claim("acetylene", "view"), today=None) == []


def test_the_rights_in_what_nobody_uses_are_not_asked_about() -> None:
    assert of("rights-unclear", a_source("view"), a_claim("acetylene", "view", withdrawn=a_withdrawal())) == []


def test_the_mend_names_whom_to_ask() -> None:
    sources = (
        a_source("a", rights=Rights(holder="the maker's heirs")),
        a_source("b", holder="County Record Office"),
        a_source("c"),
    )

    flags = of("rights-unclear", *sources, a_claim("acetylene", "a", "b", "c"))

    asked = [flag.mend.partition(",")[0] for flag in flags]
    assert asked == ["ask the maker's heirs", "ask County Record Office", "ask whoever holds the rights"]


def test_unclear_rights_behind_a_panel_are_a_warning() -> None:
    panel = Panel(
        id="cab", title="The cab", by=BY, date=TODAY, statements=(Statement(text="Gas.", features=("headlamp/type",)),)
    )
    archive = an_archive(
        a_source("view"), a_source("other"), a_claim("acetylene", "view"), a_claim("x", "other", about="bell/x"),
        panels={panel.id: panel},
    )  # fmt: skip

    flags = {flag.about: flag for flag in raised(archive)}

    assert (flags["view"].severity, flags["other"].severity) == (Level.WARN, Level.NOTE)
    assert flags["view"].sentence.endswith(", and a panel speaks of what it shows.")


@pytest.mark.parametrize(
    ("due", "returned", "level"),
    [
        ("2026-11-24", None, Level.WARN),
        ("2026-11-25", None, Level.NOTE),
        ("2026-12-25", None, Level.NOTE),  # thirty days on
        ("2026-12-26", None, None),
        ("2026-12", None, Level.NOTE),  # its first day is within thirty
        ("2026", None, Level.NOTE),  # some day of the year, which is not over
        ("2026-10", None, Level.WARN),
        ("2026-10", "2026-09-01", None),
        (None, None, None),
        ("2026-10/..", None, None),
        ("../2026-10", None, None),
    ],
)
def test_a_loan_is_noted_a_month_ahead_and_warned_of_once_overdue(
    due: str | None, returned: str | None, level: Level | None
) -> None:
    loan = Loan(owner="A. Keeper", due=a_date(due) if due else None, returned=a_date(returned) if returned else None)

    assert [flag.severity for flag in of("loan-due", a_source("album", loan=loan))] == ([level] if level else [])


def test_a_loan_says_whose_it_is_and_when_it_is_due() -> None:
    def sentence(due: str) -> str:
        return of("loan-due", a_source("album", loan=Loan(owner="A. Keeper", due=a_date(due))))[0].sentence

    assert sentence("2026-10") == "“Album” is on loan from A. Keeper and was due back on 2026-10."
    assert sentence("2026-12") == "“Album” is on loan from A. Keeper and is due back on 2026-12."


def test_without_a_day_no_loan_is_due() -> None:
    loan = Loan(owner="A. Keeper", due=a_date("2020"))

    assert of("loan-due", a_source("album", loan=loan), today=None) == []


def test_the_pages_of_one_source_that_could_not_be_read_are_one_flag() -> None:
    unread = tuple(UnreadPage(source="manual", page=page, why="it is blank") for page in (7, 3, 3))
    findings = Findings(unread=(*unread, UnreadPage(source="lost", page=None, why="the file is empty")))

    flags = of("unread-page", a_source("manual", "manual"), a_claim("acetylene", "manual"), findings=findings)

    assert [flag.sentence for flag in flags] == [
        "lost could not be read: the file is empty.",
        "Pages 3 and 7 of “Manual” could not be read: it is blank.",
    ]
    assert (flags[1].claims, flags[1].severity) == (("headlamp-type-acetylene",), Level.WARN)


def test_one_unread_page_is_one_page() -> None:
    findings = Findings(unread=(UnreadPage(source="manual", page=3, why="it took too long"),))

    (flag,) = of("unread-page", a_source("manual", "manual"), findings=findings)

    assert flag.sentence.startswith("Page 3 of “Manual” could not be read")


def test_pages_that_were_read_only_in_part_are_a_flag_beside_those_that_were_not_read_at_all() -> None:
    in_part = tuple(
        UnreadPage(source="manual", page=page, why="a column is left out", is_in_part=True) for page in (4, 2)
    )
    findings = Findings(unread=(*in_part, UnreadPage(source="manual", page=3, why="it is blank")))

    flags = of("unread-page", a_source("manual", "manual"), findings=findings)

    assert [flag.sentence for flag in flags] == [
        "Page 3 of “Manual” could not be read: it is blank.",
        "Pages 2 and 4 of “Manual” were read only in part: a column is left out.",
    ]
    assert "rebuild" in flags[0].mend
    assert "rebuild" not in flags[1].mend
    assert "transcript" in flags[1].mend


def test_one_page_that_was_read_in_part_is_one_page() -> None:
    findings = Findings(unread=(UnreadPage(source="manual", page=3, why="a column is left out", is_in_part=True),))

    (flag,) = of("unread-page", a_source("manual", "manual"), findings=findings)

    assert flag.sentence == "Page 3 of “Manual” was read only in part: a column is left out."


def a_recording(source: str, number: int = 1) -> Untranscribed:
    return Untranscribed(
        source=source, recording=f"side-{number}.wav", transcript=f"transcripts/{source}/t{number:02}.vtt"
    )


def test_a_recording_that_nobody_has_transcribed_is_noted_with_where_to_write_it_down() -> None:
    findings = Findings(untranscribed=(a_recording("tape"),))

    (flag,) = of("not-transcribed", a_source("tape", "oral-history"), findings=findings)

    assert (flag.severity, flag.about, flag.sources, flag.claims) == (Level.NOTE, "tape", ("tape",), ())
    assert flag.sentence == "Nobody has written down yet what is said on “Tape” (side-1.wav)."
    assert "transcripts/tape/t01.vtt" in flag.mend


def test_it_presses_once_a_claim_rests_on_it_and_the_recordings_of_one_source_are_one_flag() -> None:
    findings = Findings(untranscribed=(a_recording("tape"), a_recording("other"), a_recording("tape", 2)))

    flags = of("not-transcribed", a_source("tape", "oral-history"), a_claim("acetylene", "tape"), findings=findings)

    assert [(flag.about, flag.severity, flag.claims) for flag in flags] == [
        ("other", Level.NOTE, ()),
        ("tape", Level.WARN, ("headlamp-type-acetylene",)),
    ]
    assert flags[1].sentence == (
        "Nobody has written down yet what is said on “Tape” (side-1.wav and side-2.wav); 1 claim rests on it."
    )


def doubtful(*words: str, page: int = 3, **item: Any) -> list[Flag]:
    claim = a_claim("acetylene", an_item("manual", page=item.pop("cited", 3), **item))
    findings = Findings(doubtful=(DoubtfulWords(source="manual", page=page, words=words),))
    return of("doubtful-reading", a_source("manual", "manual"), claim, findings=findings)


def test_a_doubtful_word_in_a_quotation_is_a_warning_that_names_the_claim() -> None:
    (flag,) = doubtful("H-2O4", "lamp", quote="LAMP to drawing H-204")

    assert (flag.severity, flag.claims) == (Level.WARN, ("headlamp-type-acetylene",))
    assert flag.sentence == (
        "The reading of “Manual”, page 3, is doubtful at “lamp”; 1 claim rests on what stands there."
    )


def test_doubtful_words_beside_a_quotation_do_not_matter() -> None:
    assert doubtful("H-2O4", quote="lamp to drawing") == []


def test_on_a_cited_page_without_a_quotation_every_doubtful_word_matters() -> None:
    (flag,) = doubtful("H-2O4", "lamp")

    assert (flag.severity, flag.claims) == (Level.WARN, ("headlamp-type-acetylene",))


def test_doubtful_words_on_a_page_that_nobody_cites_are_a_note() -> None:
    (flag,) = doubtful("H-2O4", cited=9)

    assert (flag.severity, flag.claims) == (Level.NOTE, ())


def test_a_page_read_without_doubt_raises_nothing() -> None:
    assert doubtful() == []


def test_several_doubtful_pages_of_a_source_are_one_flag() -> None:
    found = tuple(DoubtfulWords(source="manual", page=page, words=("x",)) for page in (4, 2))

    (flag,) = of("doubtful-reading", a_source("manual", "manual"), findings=Findings(doubtful=found))

    assert "pages 2 and 4" in flag.sentence


def test_a_file_that_is_not_as_it_was_received_stops() -> None:
    fault = FixityFault(source="manual", path="originals/manual/m.pdf", why="its checksum differs")

    (flag,) = of(
        "fixity-broken",
        a_source("manual", "manual"),
        a_claim("acetylene", "manual"),
        findings=Findings(fixity=(fault,)),
    )

    assert (flag.severity, flag.claims) == (Level.STOP, ("headlamp-type-acetylene",))
    assert flag.sentence == "originals/manual/m.pdf of “Manual” is not as it was received: its checksum differs."
