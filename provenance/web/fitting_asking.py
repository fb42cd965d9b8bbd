"""What is shown of a feature, for its page and for the figures on it: worked out once while nothing changes."""

from provenance.reports.feature_shown import FeatureShown
from provenance.rules.lifting import Lifter
from provenance.tasks.evidence import features_at
from provenance.tasks.living import Current
from provenance.tasks.showing_features import show_feature


def feature_shown(now: Current, name: str) -> FeatureShown:
    """What is shown of a feature, worked out once while nothing changes.

    Raises:
        UnknownRecordError: no such component or feature; with the nearest.
        ArchiveError: the archive does not say yet what it represents.
    """
    features_at(now.archive, name)
    _ = now.opened.target
    return now.remembered(f"feature {name}", lambda: _shown(now, name))


def _shown(now: Current, name: str) -> FeatureShown:
    return show_feature(
        now.opened,
        name,
        verdicts=now.verdicts,
        raised=now.flagged.flags,
        readings=now.readings,
        lifter=now.remembered("lifter", lambda: Lifter(now.archive)),
    )
