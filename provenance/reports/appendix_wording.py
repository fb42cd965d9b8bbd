"""The sentences of an appendix that are our own; texts of others stand in them as they came."""

from provenance.reports.appendix_values import Appendix
from provenance.reports.appendix_words import DRAFT, RE_CREATION

CAUTIONS = "Cautions"
REPRESENTED = "What is represented"
PARTS_SHOWN = "What you see"
FEATURES = "What is shown of each part, and how that is known"
STATEMENTS = "What each statement rests on"
CONJECTURE = "What is conjecture, or in doubt"
CHANGES = "What was changed for the present day"
MARKED = "How new parts are marked"
SOURCES = "Sources"
CREDITS = "Credits"
WORDS = "The words used"

NO_CONJECTURE = "Nothing in the parts named here is known to be conjecture, or is built against the evidence."
NO_CHANGES = "No change from the evidence is declared in the parts named here."
NO_MARKS = "It is not recorded for the parts named here how new ones are marked."
NO_PARTS = "The panel names no part."
NO_STATEMENTS = "The panel makes no statement."
NO_SOURCES = "No source is cited."
NO_FEATURE = "No evidence is cited for this statement."
NO_VALUE = "nothing that can be shown here supports any answer"
NO_WORDS = "No word is used in a sense of its own."
UNBUILT = "In a design that was never built, which counts for nothing"
AGAINST = "Against it"
PAGES = (
    "“p.” gives the number that is printed on a page, where that is known; else pages are counted from the first page "
    "of the copy that was used."
)


LONGEST_TITLE = 80
"""How many characters of a title stand on every page; the whole of it heads the first."""


def running_line(appendix: Appendix) -> str:
    """What stands on every page."""
    marks = [DRAFT] if appendix.draft else []
    return " · ".join([*marks, f"{RE_CREATION[:1].upper()}{RE_CREATION[1:]}", f"Sources of “{_short(appendix)}”"])


def file_title(appendix: Appendix) -> str:
    """The title of the file."""
    return f"{SOURCES}: {_short(appendix)}"


def _short(appendix: Appendix) -> str:
    title = appendix.title
    return title if len(title) <= LONGEST_TITLE else f"{title[: LONGEST_TITLE - 1].rstrip()}…"


def purpose(appendix: Appendix) -> str:
    """What this is for."""
    return f"This says what the panel “{appendix.title}” rests on, statement by statement, and how sure that is."


def opening(appendix: Appendix) -> str:
    """What the object is, and what the word for it means."""
    meaning = ""
    if appendix.claimed is not None:
        word, means = appendix.claimed
        meaning = f" By {word} is meant: {means}."
    return f"The object shown is {RE_CREATION}: {appendix.object}.{meaning}"


def represented(appendix: Appendix) -> str:
    """What is represented, and why."""
    if not appendix.period:
        return "It is not recorded yet which machine is represented, and when."
    why = f" Why: {appendix.why}" if appendix.why else " Why this one is not recorded yet."
    return f"{appendix.period}.{why}"


def closing(appendix: Appendix) -> str:
    """Where it comes from, the day of the panel's words, and the day that it carries."""
    printed = f"{'Draft of' if appendix.draft else 'Printed on'} {appendix.printed}"
    return f"{printed} from the records of “{appendix.archive}”. The panel was written on {appendix.written}."
