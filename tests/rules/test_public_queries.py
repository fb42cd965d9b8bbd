from dataclasses import replace

from builders import BY, TODAY, a_component, a_decision, a_feature, an_archive
from public_archives import DAY

from provenance.records.archive import Archive
from provenance.records.decisions import Query
from provenance.rules.public_view import public_view


def asked(about: str, *, is_open: bool = True) -> Archive:
    """Two features and a decision on the second, with one query."""
    archive = an_archive(
        a_component("headlamp", a_feature("type"), a_feature("rim")), a_decision("rimmed", "headlamp/rim")
    )
    query = Query(id="doubt", about=about, by=BY, date=TODAY, grounds="A letter says otherwise.", open=is_open)
    return replace(archive, queries={"doubt": query})


def test_the_public_is_told_that_something_is_in_doubt_and_not_what() -> None:
    view = public_view(asked("headlamp/type"), DAY)

    assert view.queried == {"headlamp/type"}
    assert view.archive.queries == {}


def test_a_doubt_about_a_decision_is_one_about_its_feature() -> None:
    assert public_view(asked("rimmed"), DAY).queried == {"headlamp/rim"}


def test_what_was_answered_or_is_about_a_panel_is_no_doubt_about_a_feature() -> None:
    assert public_view(asked("headlamp/type", is_open=False), DAY).queried == frozenset()
    assert public_view(asked("a-panel"), DAY).queried == frozenset()
