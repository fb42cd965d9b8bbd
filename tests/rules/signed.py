"""Choices whose options are told apart by signs, for the tests of signs."""

from builders import a_feature

from provenance.records.components import Feature, Option, OptionSign
from provenance.records.kinds import Expected, SignSeen

SEEN, NOT_SEEN, OUT_OF_VIEW = SignSeen.SEEN, SignSeen.NOT_SEEN, SignSeen.OUT_OF_VIEW


def option_showing(option_id: str, **expected: str) -> Option:
    """An option with how often it shows each sign: `conduit="always"`, or `conduit="always by handbook"`."""
    signs = []
    for sign, written in expected.items():
        expect, _, source = written.partition(" by ")
        signs.append(OptionSign(sign=sign, expect=Expected(expect), source=source or None))
    return Option(id=option_id, name=option_id.capitalize(), signs=tuple(signs))


def a_choice(*options: Option, aspect: str = "form") -> Feature:
    """The feature headlamp/type, between these options."""
    return a_feature(options=options, aspect=aspect)


def told_by_conduit(source: str = "handbook", *more: Option) -> Feature:
    """Electric lamps always have the conduit and acetylene lamps never, says that source."""
    return a_choice(
        option_showing("electric", conduit=f"always by {source}"),
        option_showing("acetylene", conduit=f"never by {source}"),
        *more,
    )
