from dataclasses import replace

from builders import BY, TODAY, a_claim, a_component, a_date, a_decision, a_feature, an_archive
from public_archives import DAY, an_open_source

from provenance.records.archive import Archive
from provenance.records.dates import Day
from provenance.records.decisions import Panel, Printed, Statement
from provenance.records.kinds import Access
from provenance.records.sources import Source
from provenance.rules.findings import Findings
from provenance.rules.flags import Flag, flags
from provenance.rules.panel_flags import panel_digest, panel_flags
from provenance.rules.public_view import public_view

TYPE = "headlamp/type"
PANEL = Panel(
    id="lamp",
    title="How it was lit",
    by=BY,
    date=TODAY,
    statements=(Statement(text="No. 9 had electric lamps.", features=(TYPE, "headlamp/gone")),),
)


def _archive(*sources: Source, panel: Panel = PANEL, cited: tuple[str, ...] = ("a", "b")) -> Archive:
    held = {source.id: source for source in (an_open_source("a", "manual"), an_open_source("b", "drawing"), *sources)}
    return replace(an_archive(*held.values(), a_claim("electric", *cited)), panels={panel.id: panel})


def _printed(archive: Archive, day: Day = DAY) -> Archive:
    """The same archive with the panel's printing kept."""
    panel = archive.panels["lamp"]
    kept = Printed(date=a_date(str(day)), digest=panel_digest(public_view(archive, day), "lamp"))
    return replace(archive, panels={"lamp": replace(panel, printed=(*panel.printed, kept))})


def _raised(archive: Archive, day: Day = DAY) -> list[Flag]:
    return list(panel_flags(archive, day))


def test_a_panel_that_still_says_what_the_records_say_is_not_overtaken() -> None:
    assert _raised(_printed(_archive())) == []


def test_a_panel_that_was_never_printed_is_not_overtaken() -> None:
    assert _raised(_archive()) == []


def test_a_panel_is_overtaken_once_a_grade_behind_it_has_fallen() -> None:
    printed = _printed(_archive())
    fewer = replace(printed, claims=_archive(cited=("a",)).claims)

    (flag,) = _raised(fewer)

    assert (flag.flag, flag.about, flag.claims) == ("panel-overtaken", "lamp", ("headlamp-type-electric",))
    assert "printed on 2026-11-25" in flag.sentence
    assert replace(flag, sources=("a",)) in flags(fewer, Findings(), today=DAY)


def test_a_panel_is_overtaken_once_another_value_is_the_best() -> None:
    printed = _printed(_archive())
    other = replace(printed, claims={claim.id: claim for claim in [a_claim("oil", "a", "b")]})

    assert len(_raised(other)) == 1


def test_a_panel_is_overtaken_once_a_statement_reads_otherwise() -> None:
    printed = _printed(_archive())
    reworded = replace(printed.panels["lamp"], statements=(Statement(text="It was lit.", features=(TYPE,)),))

    assert len(_raised(replace(printed, panels={"lamp": reworded}))) == 1


def test_a_change_of_what_no_statement_speaks_of_overtakes_nothing() -> None:
    printed = _printed(_archive())
    more = replace(
        printed,
        components={"headlamp": a_component("headlamp", a_feature(), a_feature("hood", "presence", "presence"))},
        decisions={"d": a_decision("d")},
    )

    assert _raised(more) == []


def test_a_source_that_opens_with_time_overtakes_a_panel_on_that_day_and_not_before() -> None:
    closed = an_open_source("b", "drawing", access=Access.CLOSED, access_until=a_date("2026-12-31"))
    printed = _printed(_archive(closed))

    assert _raised(printed, Day(2026, 12, 31)) == []
    assert len(_raised(printed, Day(2027, 1, 1))) == 1


def test_only_the_last_printing_hangs_on_the_wall() -> None:
    first = _printed(_archive(cited=("a",)))
    second = _printed(replace(first, claims=_archive().claims))

    assert _raised(second) == []


def test_without_a_day_printed_panels_are_not_looked_at() -> None:
    fewer = replace(_printed(_archive()), claims=_archive(cited=("a",)).claims)

    assert "panel-overtaken" not in {flag.flag for flag in flags(fewer, Findings(), today=None)}
