"""The answer of `flags`: what needs attention, the most urgent first."""

from dataclasses import dataclass

from provenance.reports.cautioned import caution_lines, cautions_json
from provenance.reports.layout import counted, paragraph
from provenance.reports.standing import Standing
from provenance.rules.cautions import StandingCaution
from provenance.rules.flag_values import Urgency
from provenance.rules.flags import Flag, Level

ORDERS = ("level", "needed", "component", "rule")
"""By what flags can be put in order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Flagged:
    """What was flagged.

    Attributes:
        flags: by severity, then by when the part is needed, then by prominence.
        features: how many features were judged.
        not_looked_for: what this answer cannot know, a sentence each; empty when everything was looked for.
        cautions: of the components and sources that are flagged.
    """

    standing: Standing
    flags: tuple[Flag, ...]
    features: int
    not_looked_for: tuple[str, ...] = ()
    cautions: tuple[StandingCaution, ...] = ()

    @property
    def is_pressing(self) -> bool:
        """Whether anything is worse than a note."""
        return any(flag.severity is not Level.NOTE for flag in self.flags)


def in_order(flags: tuple[Flag, ...], by: str) -> tuple[Flag, ...]:
    """Put flags in another order; those that are alike in it stay as they come, the most urgent first.

    Args:
        flags: as they are raised: by level, then by when the part is needed, then by prominence.
        by: one of `ORDERS`; `level` leaves them as they are. By component: those about a source or a panel come last.
    """
    if by == "needed":
        return tuple(sorted(flags, key=lambda flag: Urgency(flag.needed_by).order))
    if by == "component":
        return tuple(sorted(flags, key=lambda flag: (*_place(flag), flag.about)))
    return tuple(sorted(flags, key=lambda flag: flag.flag)) if by == "rule" else flags


def _place(flag: Flag) -> tuple[bool, str]:
    is_of_component = flag.about_kind in {"features", "components"}
    return not is_of_component, flag.about.partition("/")[0] if is_of_component else flag.about_kind


def flagged_json(flagged: Flagged) -> dict[str, object]:
    """The JSON answer `flags`."""
    return {
        **flagged.standing.as_json("flags"),
        "cautions": cautions_json(flagged.cautions),
        "not_looked_for": list(flagged.not_looked_for),
        "flags": [
            {
                "flag": flag.flag,
                "severity": flag.severity.value,
                "about": flag.about,
                "sentence": flag.sentence,
                "mend": flag.mend,
                "claims": list(flag.claims),
                "sources": list(flag.sources),
                "needed_by": None if flag.needed_by is None else flag.needed_by.text,
            }
            for flag in flagged.flags
        ],
    }


def flagged_text(flagged: Flagged, width: int) -> str:
    """The page that people read."""
    lines = [*flagged.standing.as_lines(width), *caution_lines(flagged.cautions, width)]
    for sentence in flagged.not_looked_for:
        lines += paragraph(f"note: {sentence}", width, hang="  ")
    if flagged.not_looked_for:
        lines.append("")
    for flag in flagged.flags:
        lines += [*_flag_lines(flag, width), ""]
    return "\n".join([*lines, *paragraph(flagged_summary(flagged), width)])


def _flag_lines(flag: Flag, width: int) -> list[str]:
    needed = f", needed by {flag.needed_by}" if flag.needed_by is not None else ""
    lines = paragraph(f"{flag.severity.value}: {flag.about}: {flag.flag}{needed}", width, hang="  ")
    lines += paragraph(flag.sentence, width, indent="  ")
    return [*lines, *paragraph(f"mend: {flag.mend}", width, indent="  ", hang="    ")]


def flagged_summary(flagged: Flagged) -> str:
    """How many features were judged, and how many flags there are of each level, in a sentence."""
    counts = ", ".join(
        f"{sum(flag.severity is level for flag in flagged.flags)} {word}"
        for level, word in ((Level.STOP, "to stop for"), (Level.WARN, "to mend"), (Level.NOTE, "to know"))
    )
    features = counted(flagged.features, "feature").capitalize()
    return f"{features} judged; {counted(len(flagged.flags), 'flag')}: {counts}."
