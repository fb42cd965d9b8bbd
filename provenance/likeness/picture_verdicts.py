"""The thresholds by which two pictures count as one, and the sentence that says why."""

from dataclasses import dataclass

from provenance.likeness.aligned import Agreement
from provenance.likeness.values import Form, Likeness

# Chosen on pictures, views of one scene and forms filled in twice of families on which no figures are reported. Copies:
# light and dark agree in .70 and more of the blocks, and each has something that the other lacks in .02 of them, up to
# .065 where one was written over. Scenes: .66 at most agree. Forms: up to .90 agree, but .068 and more are contrary.
# Of most forms, and of every scene taken for one at all, more than .12 is contrary, of a copy .08 at most.
# Tables of one layout: between the rules .92 at most agrees, of a copy .97, or .93 where it was written over. Unrelated
# pictures: 3 points by chance, seldom 5.
_LEAST_POINTS = 8
_LEAST_BLOCKS = 10
_LEAST_OVERLAP = 0.08
_COPY_AGREES = 0.70
_COPY_CONTRARY = 0.066
_COPY_BETWEEN_RULES = 0.94
_POSSIBLE_POINTS = 12
_POSSIBLE_AGREES = 0.5
_POSSIBLE_CONTRARY = 0.12
_WITHOUT_POINTS, _WITHOUT_POINTS_BLOCKS = 0.85, 30


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Findings:
    """What was found of two pictures.

    Attributes:
        inliers: how many points agree with the geometry; 0 where the pictures were laid on one another without points.
        agreement: of light and dark.
        overlap: the share of the smaller picture that the matched area covers, 0 to 1.
        smaller: `first` or `second`: of which the greater share is common to both.
        place: where the smaller lies on the larger, such as `in the upper right of`; `on the whole of` where they are
            equally large.
        turn: by how many degrees, clockwise, the second picture is turned.
        form: how the second has to be taken.
    """

    inliers: int
    agreement: Agreement
    overlap: float
    smaller: str
    place: str
    turn: float
    form: Form


def judge(found: Findings) -> Likeness:
    """Copy, possible or distinct: the first rule that holds."""
    seen = found.agreement
    if not found.inliers:
        alike = (
            seen.agreeing >= _WITHOUT_POINTS
            and seen.contrary <= _COPY_CONTRARY
            and seen.told_by >= _WITHOUT_POINTS_BLOCKS
        )
        return Likeness.POSSIBLE if alike else Likeness.DISTINCT
    if found.inliers < _LEAST_POINTS or seen.told_by < _LEAST_BLOCKS or found.overlap < _LEAST_OVERLAP:
        return Likeness.DISTINCT
    if seen.agreeing >= _COPY_AGREES and not _is_filled_in_otherwise(seen):
        return Likeness.COPY
    may_be = seen.agreeing >= _POSSIBLE_AGREES and seen.contrary <= _POSSIBLE_CONTRARY
    if found.inliers >= _POSSIBLE_POINTS and may_be:
        return Likeness.POSSIBLE
    return Likeness.DISTINCT


def _is_filled_in_otherwise(seen: Agreement) -> bool:
    return seen.contrary > _COPY_CONTRARY or seen.between_rules < _COPY_BETWEEN_RULES


def score(found: Findings) -> float:
    """0 to 1, for sorting: how much agrees, less what is contrary, weighed by how many points tell it."""
    seen = found.agreement
    weight = min(1.0, (found.inliers + 4) / 24)
    return max(0.0, min(1.0, seen.agreeing * weight * (1 - min(1.0, 2 * seen.contrary)) * (0.5 + seen.correlation / 2)))


def say_why(found: Findings, likeness: Likeness) -> str:
    """One plain sentence with the figures."""
    larger = "second" if found.smaller == "first" else "first"
    points = f"{found.inliers} points agree" if found.inliers else "too few points to tell by"
    share = "the whole" if found.overlap > 0.97 else _percent(found.overlap)
    where = f"{share} of the {found.smaller} picture lies {found.place} the {larger}"
    return "; ".join([points, where + _taken(found), _light_and_dark(found.agreement, likeness)])


def _taken(found: Findings) -> str:
    turned = f"turned by {abs(found.turn):.0f} degrees" if abs(found.turn) >= 1.5 else ""
    form = {
        Form.PLAIN: "", Form.MIRRORED: "as in a mirror", Form.NEGATIVE: "as a negative",
        Form.MIRRORED_NEGATIVE: "as a negative seen from behind",
    }[found.form]  # fmt: skip
    said = [word for word in (turned, form) if word]
    return ", " + " and ".join(said) if said else ""


def _light_and_dark(seen: Agreement, likeness: Likeness) -> str:
    agrees = f"light and dark agree in {_percent(seen.agreeing)} of what can be seen there"
    own = f"in {_percent(seen.contrary)} of it each has something that the other lacks"
    if likeness is Likeness.DISTINCT:
        too_much = seen.contrary > _POSSIBLE_CONTRARY and seen.agreeing >= _POSSIBLE_AGREES
        return f"{agrees}, but {own}" if too_much else f"{agrees}, which is too little"
    if likeness is Likeness.COPY:
        return agrees
    if seen.contrary <= _COPY_CONTRARY and _is_filled_in_otherwise(seen):
        return (
            f"{agrees}, but between the ruled lines in {_percent(seen.between_rules)}: perhaps one form filled in twice"
        )
    if seen.contrary > _COPY_CONTRARY:
        return f"{agrees}, but {own}: perhaps one form filled in twice, or one place photographed twice"
    if seen.agreeing < _COPY_AGREES:
        return f"{agrees}: perhaps one place photographed twice"
    return agrees


def _percent(share: float) -> str:
    return f"{share:.0%}".replace("%", " %")
