"""What is asked of a source about a feature is what makes sense for the kinds of both."""

import pytest
from builders import a_feature, a_source

from provenance.rules.askable import askable

LAMP = a_feature("lamp", "choice")
HEIGHT = a_feature("height", "quantity", "dimension")


def test_only_a_figure_has_a_give_or_take() -> None:
    assert askable(HEIGHT, a_source("drawing", "drawing")).uncertainty
    assert not askable(LAMP, a_source("drawing", "drawing")).uncertainty


@pytest.mark.parametrize("kind", ["artefact", "survey", "analysis"])
def test_the_condition_is_asked_of_a_piece_that_can_be_measured(kind: str) -> None:
    assert askable(HEIGHT, a_source("it", kind)).condition
    assert not askable(LAMP, a_source("it", kind)).condition
    assert not askable(HEIGHT, a_source("it", "photograph")).condition


@pytest.mark.parametrize("kind", ["photograph", "artefact", "logbook"])
def test_a_machine_is_seen_in_pictures_pieces_and_the_works_own_notes(kind: str) -> None:
    assert askable(LAMP, a_source("it", kind)).seen
    assert askable(LAMP, a_source("it", kind)).signs
    assert not askable(LAMP, a_source("it", "manual")).seen
    assert not askable(LAMP, a_source("it", "manual")).signs


def test_signs_tell_the_options_of_a_choice_apart() -> None:
    assert not askable(HEIGHT, a_source("photograph")).signs


def test_while_nothing_is_known_everything_is_asked_that_may_make_sense() -> None:
    asked = askable(None, a_source("find", None))

    assert asked.uncertainty
    assert asked.condition
    assert asked.seen
    assert asked.who
    assert not asked.signs  # whose signs, is not known


def test_who_speaks_is_asked_where_somebody_speaks_and_via_where_there_is_a_parent() -> None:
    assert askable(LAMP, a_source("tape", "oral-history")).who
    assert not askable(LAMP, a_source("drawing", "drawing")).who
    assert askable(LAMP, a_source("tracing", "drawing", of=["drawing"])).via
    assert not askable(LAMP, a_source("drawing", "drawing")).via
