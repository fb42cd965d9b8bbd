from typing import Any

import pytest
from builders import BY, FEATURE, TODAY, Record, a_claim, a_decision, an_archive

from provenance.records.decisions import Panel, Printed, Query
from provenance.rules.flag_values import Flag, Level
from provenance.rules.query_flags import query_flags

PANEL = Panel(id="lamps", title="The lamps", by=BY, date=TODAY)
PRINTED = Panel(id="lamps", title="The lamps", by=BY, date=TODAY, printed=(Printed(date=TODAY, digest="0" * 64),))


def a_query(about: str = FEATURE, **fields: Any) -> Query:
    known = {"id": "lamp-doubted", "by": BY, "date": TODAY, "grounds": "An old driver says oil"}
    return Query(about=about, **{**known, **fields})


def raised(query: Query, *records: Record, panel: Panel = PANEL) -> list[Flag]:
    archive = an_archive(*records, queries={query.id: query}, panels={panel.id: panel})
    return list(query_flags(archive))


def test_an_open_query_on_a_feature_is_flagged_with_its_grounds() -> None:
    (flag,) = raised(a_query())

    assert (flag.flag, flag.about, flag.severity) == ("query-open", FEATURE, Level.NOTE)
    assert flag.sentence == "“Headlamp type” is queried (lamp-doubted): An old driver says oil."
    assert flag.mend == "settle it, and enter the answer: provenance query lamp-doubted --answer …"


def test_a_query_that_is_answered_is_not() -> None:
    assert raised(a_query(open=False)) == []


def test_a_query_on_what_is_released_presses_and_stands_at_its_feature() -> None:
    decision = a_decision(basis=("headlamp-type-acetylene",))

    (on_decision,) = raised(a_query("build-the-lamp"), a_claim("acetylene", "drawing"), decision)
    (on_feature,) = raised(a_query(), decision)

    assert (on_decision.about, on_decision.severity) == (FEATURE, Level.WARN)
    assert on_decision.claims == ("headlamp-type-acetylene",)
    assert on_decision.sentence.startswith("“Headlamp type”, as decided in build-the-lamp, is queried")
    assert on_feature.severity is Level.WARN


@pytest.mark.parametrize(("panel", "level"), [(PANEL, Level.NOTE), (PRINTED, Level.WARN)])
def test_a_query_on_a_panel_presses_once_it_is_printed(panel: Panel, level: Level) -> None:
    (flag,) = raised(a_query("lamps", would_settle="the driver's own photograph"), panel=panel)

    assert (flag.about, flag.severity) == ("lamps", level)
    assert flag.sentence.startswith("Panel “The lamps” is queried")
    assert flag.mend.endswith("the driver's own photograph")


def test_a_query_on_something_that_is_no_longer_there_is_still_told() -> None:
    (flag,) = raised(a_query("headlamp/glass"))

    assert flag.sentence.startswith("“headlamp/glass” is queried")


def test_long_grounds_are_cut() -> None:
    (flag,) = raised(a_query(grounds="word " * 100))

    assert flag.sentence.endswith("word…")
    assert len(flag.sentence) < 220
