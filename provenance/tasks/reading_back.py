"""What somebody enters, read back before it is written: a figure as the judgement will take it."""

from provenance.records.archive import Archive
from provenance.records.kinds import FeatureKind, How
from provenance.records.measures import MeasureError
from provenance.rules.read_back import ReadBack, read_back
from provenance.tasks.evidence_items import Evidence, usual_how


def read_figure_back(archive: Archive, evidence: Evidence) -> ReadBack | None:
    """Read the figure of an item of evidence back.

    Args:
        archive: the archive.
        evidence: as typed so far.

    Returns:
        None where the feature is no quantity or has no unit, the source is not there, or the figure cannot be read:
        what is wrong with it is said where it is tried.
    """
    feature, source = archive.features.get(evidence.feature), archive.sources.get(evidence.source)
    if feature is None or source is None or feature.kind is not FeatureKind.QUANTITY or not evidence.value:
        return None
    how = evidence.item.get("how") or usual_how(source, feature)
    if how not in list(How):
        return None
    try:
        return read_back(feature, evidence.value, evidence.whole.get("uncertainty"), kind=source.kind, how=How(how))
    except MeasureError:
        return None
