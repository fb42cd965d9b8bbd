"""The answer of `flags`: what needs attention, the most urgent first."""

from dataclasses import dataclass

from provenance.reports.cautioned import caution_lines, cautions_json
from provenance.reports.layout import counted, paragraph
from provenance.reports.standing import Standing
from provenance.rules.cautions import StandingCaution
from provenance.rules.flags import Flag, Level


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
    return "\n".join([*lines, *paragraph(_summary(flagged), width)])


def _flag_lines(flag: Flag, width: int) -> list[str]:
    needed = f", needed by {flag.needed_by}" if flag.needed_by is not None else ""
    lines = paragraph(f"{flag.severity.value}: {flag.about}: {flag.flag}{needed}", width, hang="  ")
    lines += paragraph(flag.sentence, width, indent="  ")
    return [*lines, *paragraph(f"mend: {flag.mend}", width, indent="  ", hang="    ")]


def _summary(flagged: Flagged) -> str:
    counts = ", ".join(
        f"{sum(flag.severity is level for flag in flagged.flags)} {word}"
        for level, word in ((Level.STOP, "to stop for"), (Level.WARN, "to mend"), (Level.NOTE, "to know"))
    )
    features = counted(flagged.features, "feature").capitalize()
    return f"{features} judged; {counted(len(flagged.flags), 'flag')}: {counts}."
