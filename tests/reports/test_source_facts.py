"""What is on record of a source, as the team reads it."""

from builders import a_source, an_archive

from provenance.records.dates import parse_edtf
from provenance.records.kinds import Access, KnownBy, Publish, SourceKind
from provenance.records.sources import Acquired, Loan, Permission, Rights, Shows
from provenance.reports.source_facts import facts_of


def test_everything_on_record_is_told_in_words() -> None:
    older = a_source("issue-a", title="Issue A")
    source = a_source(
        "issue-b",
        kind=SourceKind.DRAWING,
        tagged=False,
        created="1932~",
        creator="Brand",
        occasion="the trials",
        holder="Orrin Museum",
        place="Orrin",
        reference="OM/1",
        language=("en", "de"),
        issue="B",
        replaces="issue-a",
        executed=False,
        altered="reversed",
        process="colour",
        origin_stated=True,
        shows=(
            Shows(
                example="9",
                when=parse_edtf("1934"),
                known_by=KnownBy.NUMBER,
                component="lamp-of-old",
                note="at the back",
            ),
            Shows(),
        ),
        topics=("lamp-of-old",),
        reliability="B",
        reliability_why="of the works",
        rights=Rights(
            statement="InC",
            holder="the works",
            credit="Brand",
            publish=Publish.ALLOWED,
            permission=Permission(
                giver="the works",
                date=parse_edtf("2020"),
                scope=("panel", "web"),
                until=parse_edtf("2030"),
                file="letters/1.pdf",
            ),
        ),
        access=Access.CLOSED,
        access_until=parse_edtf("2031"),
        loan=Loan(owner="a lender", due=parse_edtf("2027-03")),
        acquired=(Acquired(giver="a finder", date=parse_edtf("2024"), received_as="scan.png", note="by post"),),
        note="torn",
    )

    facts = dict(facts_of(an_archive(older, source), source))

    assert facts["What it is"] == (
        "drawing; not looked at yet",
        "a design that was never built",
        "printed the wrong way round",
        "in colour",
        "says where its facts come from",
    )
    assert facts["Made"] == ("about 1932",)
    assert (facts["By"], facts["Occasion"]) == (("Brand",), ("the trials",))
    assert facts["Held by"] == ("Orrin Museum, Orrin", "OM/1")
    assert facts["Language"] == ("en, de",)
    assert facts["Issue"] == ("B", "replaces “Issue A” (issue-a)")
    assert facts["What it shows"] == (
        "No. 9, lamp-of-old, 1934, known by its number, at the back",
        "a machine, it is not known which",
    )
    assert facts["Speaks of"] == ("lamp-of-old",)
    assert facts["Reliability"] == ("B, usually reliable: of the works",)
    assert facts["Rights"] == (
        "In Copyright (InC)",
        "rights held by the works",
        "to be credited: Brand",
        "may be published",
        "permission from the works, 2020, for panel, web, until 2030, see letters/1.pdf",
    )
    assert facts["Who may see it"] == ("closed: held in confidence, until 2031",)
    assert facts["On loan"] == ("belongs to a lender", "due back: March 2027")
    assert facts["How it came"] == ("from a finder, 2024, received as scan.png, by post",)
    assert facts["Note"] == ("torn",)


def test_of_a_find_it_is_said_what_nobody_has_said_and_nothing_is_left_empty() -> None:
    find = a_source("find", kind=None, created=None, tagged=False)

    facts = dict(facts_of(an_archive(find), find))

    assert facts["What it is"] == ("nobody has said yet what it is",)
    assert facts["Made"] == ("nobody has said when",)
    assert facts["Rights"] == ("nothing is settled yet",)
    assert facts["Who may see it"] == ("the team alone",)
    assert {"On loan", "By", "Note", "What it shows", "Reliability"}.isdisjoint(facts)
    assert all(said and all(said) for said in facts.values())


def test_a_loan_that_went_back_or_has_no_day_says_so_and_rights_may_be_half_settled() -> None:
    back = a_source("back", loan=Loan(owner="a lender", returned=parse_edtf("2025")), rights=Rights(credit="Brand"))
    open_ended = a_source("open", loan=Loan(owner="a lender"), rights=Rights(publish=Publish.REFUSED))
    archive = an_archive(back, open_ended)

    assert dict(facts_of(archive, back))["On loan"][1] == "went back: 2025"
    assert dict(facts_of(archive, open_ended))["On loan"][1] == "no day is agreed on which it goes back"
    assert dict(facts_of(archive, back))["Rights"] == (
        "to be credited: Brand",
        "whether it may be published is not settled",
    )
    assert dict(facts_of(archive, open_ended))["Rights"] == ("its publication was refused",)
