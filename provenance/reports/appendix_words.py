"""The words of an appendix, and what each means: what the object claims to be, its parts, and how sure a value is."""

from collections.abc import Mapping

from provenance.rules.grades import Grade
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

UNDECIDED = "not recorded yet"

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
