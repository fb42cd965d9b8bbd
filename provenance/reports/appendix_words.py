"""The words of an appendix, and what each means: what the object claims to be, its parts, and how sure a value is."""

from collections.abc import Mapping

from provenance.records.kinds import SourceKind
from provenance.rules.grades import Category, Grade
from provenance.rules.verdicts import Candidate
from provenance.rules.weights import Weights

RE_CREATION = "a modern re-creation"
DRAFT = "DRAFT, not for display"

CLAIMS = {
    "replica": "a copy by the first maker, or to the first maker's drawings, materials and methods throughout",
    "reproduction": "newly made after the evidence, with every departure from it declared",
    "reconstruction": "surviving original pieces made up to a whole with new ones",
    "representation": "the look alone, without the working parts",
}
"""What the finished object can claim to be."""

PARTS = {
    "original": "an original part, as it was found",
    "conserved-original": "an original part, conserved",
    "reproduction": "newly made, after the evidence",
    "substitute": "something else in its place, because the true part could not be had or made",
    "not-represented": "not shown",
}
"""What a part is."""

UNDECIDED = "not recorded yet whether it is an original or newly made"

CLASSES: Mapping[SourceKind, str] = {
    SourceKind.PHOTOGRAPH: "In pictures",
    SourceKind.FILM: "In pictures",
    SourceKind.ARTWORK: "In pictures",
    SourceKind.ARTEFACT: "On what survives",
    SourceKind.SURVEY: "On what survives",
    SourceKind.ANALYSIS: "On what survives",
    SourceKind.DRAWING: "In drawings",
    SourceKind.SPECIFICATION: "In writing",
    SourceKind.MANUAL: "In writing",
    SourceKind.CATALOGUE: "In writing",
    SourceKind.LOGBOOK: "In writing",
    SourceKind.REPORT: "In writing",
    SourceKind.LETTER: "In writing",
    SourceKind.NEWSPAPER: "In writing",
    SourceKind.BOOK: "In writing",
    SourceKind.NOTES: "In writing",
    SourceKind.WEBSITE: "In writing",
    SourceKind.OPINION: "In the opinion of somebody who knows such things",
    SourceKind.ORAL_HISTORY: "As told by people",
    SourceKind.SCALE_MODEL: "In models made after it",
    SourceKind.MODEL_3D: "In models made after it",
}
"""The class of evidence that a source is of."""

OF_OTHERS = frozenset({Category.SAME_BATCH, Category.SAME_TYPE, Category.RELATED_TYPE})
"""What is known of another machine, and only by comparison of this one."""

NEARNESS: Mapping[Category, str] = {
    Category.ITSELF: "from evidence of this very machine",
    Category.COVERED: "from evidence of a group of machines with this one among them",
    Category.SAME_BATCH: "by comparison with a sister machine of its batch",
}
"""How near the evidence for a value comes to the machine represented, the nearest first; the rest is of others."""

BY_COMPARISON = "by comparison with other machines"
ORIGINAL = "the original part itself"
AS_IT_IS = "as it survives"
ONLY_CONJECTURE = "conjecture"
NEW_TODAY = "changed for the present day"

PRIVATELY = ("held privately", "a source that the team may use and may not show; nothing said here is judged on it")
CONFIDENCE = ("held in confidence", "something that may not be shown, and that would change what is said here of this")
UNBUILT = ("design never built", "a drawing or a specification of something that was not made; it counts for nothing")

WITNESS = ("independent witness", "a source, or several that go back to one another, counted once")

REASONS = {
    "safety": "for safety",
    "regulation": "because the law of today asks for it",
    "availability": "because the true material or part cannot be had",
    "cost": "for its cost",
    "durability": "to make it last",
    "skill": "because the skill is no longer to be had",
    "display": "for the display",
}
"""Why the present day asks for a departure from the evidence."""


def sureness(candidate: Candidate) -> str:
    """How sure a value is, in a few words."""
    if candidate.grade in {Grade.INFERRED, Grade.OUTWEIGHED}:
        return candidate.grade.value
    witnesses = "one independent witness" if candidate.lines == 1 else f"{candidate.lines} independent witnesses"
    return f"{candidate.grade.value}, on {witnesses}"


def grade_words(weights: Weights) -> Mapping[Grade, str]:
    """What each grade means, with the chances that this team asks for."""
    established, probable = round(100 * weights.established), round(100 * weights.probable)
    return {
        Grade.ESTABLISHED: f"seen as built, on two or more independent witnesses or the part itself, and at least "
        f"{established} chances in 100",
        Grade.PROBABLE: f"at least {probable} chances in 100, on two or more independent witnesses",
        Grade.POSSIBLE: "supported, but no more than that",
        Grade.UNCORROBORATED: "one witness, which nothing independent confirms",
        Grade.INFERRED: "known only by comparison with other machines",
        Grade.CONTESTED: "another answer is supported too, and directly",
        Grade.UNSUPPORTED: "nothing that can be shown here supports any answer",
        Grade.OUTWEIGHED: "supported, but less than another answer",
    }
