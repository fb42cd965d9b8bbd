"""What does this fitting rest on, as a contractor or the public may be told?"""

from collections.abc import Sequence

from provenance.reports.evidence import Evidence
from provenance.reports.public_evidence import addressed, compose_public_evidence, shown_not_cleared
from provenance.rules.clearance import NotCleared
from provenance.rules.judging import judge_all
from provenance.rules.public_values import PublicArchive
from provenance.tasks.evidence import features_at, require_sources
from provenance.tasks.going_public import day_of, public_standing, require_cleared, through_the_door
from provenance.tasks.opening import Opened


def public_answer(
    opened: Opened, place: str, *, audience: str, day: str, without: Sequence[str] = (), draft: bool = False
) -> tuple[PublicArchive, Evidence]:
    """Judge a component, or one feature of it, on what may be shown; with the public view that it was judged on.

    Args:
        opened: the archive.
        place: `component` or `component/feature`.
        audience: `contractor` or `public`.
        day: the day on which closures and permissions are looked at.
        without: sources to judge without; of those that may be shown.
        draft: whether it is marked as a draft; then it may show what is not cleared.

    Raises:
        UnknownRecordError: no such component, feature or source.
        ArchiveError: the archive does not say yet what it represents.
        WriteRefusedError: the archive is not whole, or something is not cleared.
    """
    names = features_at(opened.archive, place)
    view = through_the_door(opened, day_of(day), draft=draft)
    require_sources(view.archive, without)
    verdicts = judge_all(view.archive, without=frozenset(without), only=names) if without else view.verdicts
    target = view.archive.target or opened.target
    chosen = {name: verdicts[name] for name in names}
    evidence = compose_public_evidence(
        view, public_standing(opened, view), target, place, chosen, without=tuple(without)
    )
    require_cleared(shown_not_cleared(view, evidence), draft=draft)
    return view, addressed(evidence, audience, draft=draft)


def not_cleared_for(opened: Opened, place: str, *, audience: str, day: str) -> tuple[NotCleared, ...]:
    """The sources that keep such an answer from leaving the team, each with what to ask whom; in order of id.

    Args:
        opened: the archive.
        place: `component` or `component/feature`.
        audience: `contractor` or `public`.
        day: the day on which closures and permissions are looked at.

    Raises:
        UnknownRecordError: no such component or feature.
        ArchiveError: the archive does not say yet what it represents.
    """
    view, evidence = public_answer(opened, place, audience=audience, day=day, draft=True)
    return shown_not_cleared(view, evidence)
