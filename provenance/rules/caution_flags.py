"""Flags about hazards for which nobody has written a caution."""

from collections.abc import Iterator

from provenance.records.archive import Archive
from provenance.rules.cautions import REGISTER
from provenance.rules.flag_values import Flag, Level


def caution_flags(archive: Archive) -> Iterator[Flag]:
    """Raise `hazard-no-caution` about each component and source with a hazard that no register knows."""
    known = {caution.hazard for caution in archive.cautions} | {caution.hazard for caution in REGISTER}
    for component_id in sorted(archive.components):
        component = archive.components[component_id]
        for hazard in sorted({*component.hazards} - known):
            yield _flag(component_id, component.name, hazard, ())
    for source_id in sorted(archive.sources):
        source = archive.sources[source_id]
        for hazard in sorted({*source.hazards} - known):
            yield _flag(source_id, source.title, hazard, (source_id,))


def _flag(about: str, name: str, hazard: str, sources: tuple[str, ...]) -> Flag:
    return Flag(
        flag="hazard-no-caution",
        severity=Level.WARN,
        about=about,
        sentence=f"“{name}” has the hazard “{hazard}”, for which no caution has been written.",
        mend="add one under `cautions` in archive.yaml: what it may be, and whom to consult; or name a hazard that the "
        "register knows",
        sources=sources,
    )
