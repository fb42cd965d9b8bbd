"""The sentences of an appendix that are the same in every format; texts of others stand in them as they came."""

from provenance.reports.appendix_values import Appendix
from provenance.reports.appendix_words import DRAFT, RE_CREATION
from provenance.rules.cautions import FITNESS

CAUTIONS = "Cautions"
REPRESENTED = "What is represented"
PARTS_SHOWN = "What you see"
STATEMENTS = "What each statement rests on"
CONJECTURE = "What is conjecture"
CHANGES = "What was changed for the present day"
SOURCES = "Sources"
CREDITS = "Credits"
WORDS = "The words used"

NO_CONJECTURE = "Nothing in the parts named here is known to be conjecture."
NO_CHANGES = "No change from the evidence is declared in the parts named here."
NO_PARTS = "The panel names no part."
NO_SOURCES = "No source can be shown."
NO_FEATURE = "No evidence is cited for this statement."
NO_VALUE = "nothing that can be shown here supports any answer"
ON_FITNESS = FITNESS


def running_line(appendix: Appendix) -> str:
    """What stands on every page."""
    marks = [DRAFT] if appendix.draft else []
    return " · ".join([*marks, f"{RE_CREATION[:1].upper()}{RE_CREATION[1:]}", f"Sources of “{appendix.title}”"])


def opening(appendix: Appendix) -> str:
    """What the object is."""
    return f"The object shown is {RE_CREATION}: {appendix.object}."


def represented(appendix: Appendix) -> str:
    """What is represented, and why."""
    if not appendix.period:
        return "It is not recorded yet which machine is represented, and when."
    why = f" Why: {appendix.why}" if appendix.why else " Why this one is not recorded yet."
    return f"{appendix.period}.{why}"


def closing(appendix: Appendix) -> str:
    """The day that it carries."""
    return f"{'Draft of' if appendix.draft else 'Printed on'} {appendix.printed}."
