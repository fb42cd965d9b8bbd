from builders import FEATURE, TODAY, a_claim, a_component, a_decision, a_source, an_archive, an_item, seen_on

from provenance.records.dates import Day
from provenance.rules.findings import Findings, FixityFault
from provenance.rules.flags import ALL_FLAGS, flags, flags_of, not_looked_for
from provenance.rules.judging import judge_all

DAY = Day(2026, 11, 25)


def test_flags_come_by_severity_then_need_then_prominence() -> None:
    archive = an_archive(
        a_component("bell"),
        a_component("buffer", prominence="focal"),
        a_component("coupling", needed_by="2027"),
        a_component("door", needed_by="2026-12", prominence="hidden"),
        a_source("scan", None),
    )
    findings = Findings(fixity=(FixityFault(source="scan", path="originals/scan/a.jpg", why="it is gone"),))

    raised = flags(archive, findings, today=DAY)

    assert [(flag.severity, flag.flag, flag.about) for flag in raised] == [
        ("stop", "no-evidence", "door/type"),
        ("stop", "no-evidence", "coupling/type"),
        ("stop", "no-evidence", "buffer/type"),
        ("stop", "no-evidence", "bell/type"),
        ("stop", "fixity-broken", "scan"),
        ("note", "untagged-find", "scan"),
    ]
    assert str(raised[0].needed_by) == "2026-12"


def test_a_source_takes_the_need_of_what_it_is_evidence_for() -> None:
    archive = an_archive(a_component(needed_by="2027"), a_claim("acetylene", "drawing", "manual"))

    raised = flags(archive, Findings(), today=DAY)

    assert {flag.flag for flag in raised} == {"rights-unclear"}
    assert [str(flag.needed_by) for flag in raised] == ["2027", "2027"]


def test_verdicts_at_hand_are_used() -> None:
    archive = an_archive(a_claim("acetylene", "drawing"))

    assert flags(archive, Findings(), today=DAY, verdicts=judge_all(archive)) == flags(archive, Findings(), today=DAY)
    assert flags_of(FEATURE, flags(archive, Findings(), today=DAY, verdicts={})) == ()


def test_the_flags_of_a_feature_are_named_once_each_in_order() -> None:
    view = an_item("view", "shows", seen=seen_on("4"))
    archive = an_archive(a_source("view"), a_claim("acetylene", view))

    raised = flags(archive, Findings(), today=DAY)

    assert flags_of(FEATURE, (*raised, *raised)) == ("inferred-only", "other-example-only", "single-source")
    assert {flag.flag for flag in raised} <= set(ALL_FLAGS)


def test_without_a_day_the_loans_are_said_not_to_be_looked_for() -> None:
    findings = Findings(unread=(), untranscribed=(), doubtful=(), fixity=())

    (said,) = not_looked_for(findings, None)

    assert said == "Loans that fall due, permissions that run out and printed panels were not looked for."
    assert not_looked_for(findings, TODAY.earliest) == ()


def test_what_was_decided_is_flagged_with_its_feature() -> None:
    archive = an_archive(a_claim("acetylene", "drawing"), a_decision(build="oil", why="a guess"))

    raised = flags(archive, Findings(), today=DAY)

    assert flags_of(FEATURE, raised)[0] == "conjecture-undeclared"
    assert set(ALL_FLAGS) >= {flag.flag for flag in raised}
