"""Whether a printed panel still says what its records say: the digest of what it said, and the flag for a change."""

import hashlib
import json
from collections.abc import Iterator

from provenance.records.archive import Archive
from provenance.records.dates import Day
from provenance.records.decisions import Panel
from provenance.rules.flag_values import Flag, Level
from provenance.rules.public_values import PublicArchive
from provenance.rules.public_view import public_view

OVERTAKEN = "panel-overtaken"


def panel_digest(view: PublicArchive, panel_id: str) -> str:
    """Digest what a panel says: each statement with the public grade and value of each feature that it speaks of.

    Args:
        view: the archive as the public sees it.
        panel_id: the panel.

    Returns:
        SHA-256 as 64 hexadecimal digits.
    """
    panel = view.archive.panels[panel_id]
    said = [[statement.text, [_standing(view, each) for each in statement.features]] for statement in panel.statements]
    written = json.dumps([panel.title, said], ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(written.encode()).hexdigest()


def panel_flags(archive: Archive, today: Day) -> Iterator[Flag]:
    """Raise `panel-overtaken` for each panel whose last printing says what its records say no longer.

    Args:
        archive: the archive.
        today: the day on which it is asked: a source that has become open since counts.
    """
    printed = [archive.panels[each] for each in sorted(archive.panels) if archive.panels[each].printed]
    if not printed:
        return
    spoken_of = {feature for panel in printed for statement in panel.statements for feature in statement.features}
    view = public_view(archive, today, only=spoken_of)
    for panel in printed:
        if panel_digest(view, panel.id) != panel.printed[-1].digest:
            yield Flag(
                flag=OVERTAKEN,
                severity=Level.WARN,
                about=panel.id,
                sentence=f"Panel “{panel.title}” was printed on {panel.printed[-1].date}; a statement, or a grade or "
                "value behind one, has changed since.",
                mend=f"read the panel again, then print its appendix again: `provenance appendix {panel.id}`",
                claims=_claims(archive, panel),
            )


def _standing(view: PublicArchive, feature: str) -> list[str | None]:
    verdict = view.verdicts.get(feature)
    return [feature, verdict.grade if verdict else None, verdict.shown if verdict else None]


def _claims(archive: Archive, panel: Panel) -> tuple[str, ...]:
    features = {feature for statement in panel.statements for feature in statement.features}
    return tuple(sorted(claim.id for claim in archive.claims.values() if claim.about in features))
