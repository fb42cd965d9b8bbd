"""What rests on a source, a claim, a decision, a component or a feature?"""

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.reports.used import Used
from provenance.rules.references import FEATURES
from provenance.rules.resting import KINDS, Steps, Thing, things_named, what_rests_on
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened


def used(opened: Opened, name: str, steps: Steps | None = None) -> Used:
    """List everything that rests on a record or a feature.

    Args:
        opened: the archive.
        name: an id, `component/feature`, or the file of a record, such as `sources/handbook`.
        steps: what rests on what in the archive, where it is at hand; None to have it gathered.

    Raises:
        UnknownRecordError: nothing is so named.
        UsageRefusedError: records of several kinds are.
    """
    things = things_named(opened.archive, name)
    if not things:
        known = [record_id for kind in KINDS for record_id in getattr(opened.archive, kind)]
        listing = "name a source, a claim, a decision, a panel, a component or a component/feature"
        raise UnknownRecordError(f"there is no record `{name}`", nearest_mend(name, known, listing))
    if len(things) > 1:
        files = " or ".join(f"`{thing.record.removesuffix('.yaml')}`" for thing in things)
        raise UsageRefusedError(f"`{name}` is the id of {len(things)} records", f"say which: {files}")
    (thing,) = things
    return Used(standing=opened.standing, of=_named(thing), rests=what_rests_on(opened.archive, thing, steps))


def _named(thing: Thing) -> str:
    return thing.id if thing.kind == FEATURES else thing.record
