"""The answer of `register`: where it was written, how much it lists, and what the team should know of it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from provenance.reports.layout import counted, listed, paragraph
from provenance.reports.standing import Standing
from provenance.rules.clearance import NotCleared

_SHOWN = 12
"""How many sources the page names of those about which one person has to be asked the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asking:
    """What somebody has to be asked before these sources are published.

    Attributes:
        ask: whom.
        why: what is missing, in words.
        sources: each with its title and id, in order of id.
    """

    ask: str
    why: str
    sources: tuple[str, ...]

    def sentence(self, most: int | None = None) -> str:
        """Say it, with that many sources by name at most; None for all."""
        named = self.sources[:most]
        rest = len(self.sources) - len(named)
        more = (f"{rest} more (`--json` names them all)",) if rest else ()
        return f"Not cleared for print, {self.why}: ask {self.ask} about {listed((*named, *more))}."


@dataclass(frozen=True, slots=True, kw_only=True)
class Registered:
    """A register that was written.

    Attributes:
        which: `sources` or `features`.
        output: the file, as it was named.
        rows: how many sources or features it lists.
        held_privately: how many sources of the team's are not shown in it.
        draft: whether it is marked as a draft.
        askings: whom to ask about sources that are listed and not cleared for print.
        said: other sentences for the team.
    """

    standing: Standing
    which: str
    output: str
    rows: int
    held_privately: int
    draft: bool
    askings: tuple[Asking, ...]
    said: tuple[str, ...]


def askings(missing: Iterable[NotCleared]) -> tuple[Asking, ...]:
    """Put together what the same person has to be asked for the same reason, in order of whom and why."""
    gathered: dict[tuple[str, str], list[str]] = {}
    for each in sorted(missing, key=_id_of):
        gathered.setdefault((each.ask, each.why), []).append(f"“{each.title}” ({each.source})")
    return tuple(Asking(ask=ask, why=why, sources=tuple(sources)) for (ask, why), sources in sorted(gathered.items()))


def _id_of(missing: NotCleared) -> str:
    return missing.source


def registered_json(answer: Registered) -> dict[str, object]:
    """The JSON answer `register`."""
    return {
        **answer.standing.as_json("register"),
        "which": answer.which,
        "output": answer.output,
        "rows": answer.rows,
        "held_privately": answer.held_privately,
        "draft": answer.draft,
        "written": [],
        "said": [*answer.said, *(each.sentence() for each in answer.askings)],
    }


def registered_text(answer: Registered, width: int) -> str:
    """The page that people read."""
    lines = answer.standing.as_lines(width)
    for sentence in _sentences(answer):
        lines += paragraph(sentence, width)
    lines += paragraph(f"written: {answer.output}", width)
    return "\n".join(lines)


def _sentences(answer: Registered) -> Iterator[str]:
    yield from answer.said
    yield from (each.sentence(_SHOWN) for each in answer.askings)
    what = "A draft of the register" if answer.draft else "The register"
    yield f"{what} of {answer.which} lists {counted(answer.rows, answer.which[:-1])}."
    if answer.held_privately:
        held = counted(answer.held_privately, "source")
        yield f"{held[:1].upper()}{held[1:]} of the team's {'is' if answer.held_privately == 1 else 'are'} not shown."
