"""Equipment and materials whose names should make somebody think of a hazard; common practice, no source.

A word that suggests a hazard proves nothing: it asks whether the hazard was thought of. The classes follow the register
of cautions.
"""

import re
from collections.abc import Iterator

from provenance.errors import Place, Problem, Severity
from provenance.records.archive import Archive
from provenance.records.components import Component
from provenance.records.wording import fold_wording

WORDS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("arsenic", ("arsenic", "emerald green", "taxidermy")),
    (
        "asbestos",
        (
            *("asbestos", "brake block", "brake lining", "brake pad", "brake shoe", "clutch lining", "clutch plate"),
            *("fire curtain", "gas mask", "gasket", "gland packing", "heat shield", "lagging"),
        ),
    ),
    ("cadmium", ("cadmium",)),
    ("cellulose-dope", ("celluloid", "cellulose paint", "dope", "nitrate finish")),
    ("chromate", ("chromate", "chromate primer")),
    ("controlled-drugs", ("first aid box", "first aid kit", "medical chest", "morphine")),
    ("electric-shock", ("dynamo", "fuse box", "ignition coil", "magneto", "switchboard")),
    ("explosive", ("ammunition", "detonator", "fog signal")),
    ("firearms", ("pistol", "revolver", "rifle")),
    ("flammable", ("acetylene generator", "carburettor", "fuel pump", "fuel tank", "petrol pump", "petrol tank")),
    ("isocyanate", ("isocyanate", "polyurethane", "two pack")),
    ("lead-paint", ("lead paint", "red lead", "white lead")),
    ("magnesium", ("magnesium",)),
    ("mercury", ("barometer", "manometer", "mercury", "mercury switch", "thermometer")),
    ("nitrate-film", ("cine film", "film negative", "film reel", "nitrate film", "x ray film")),
    ("oxygen", ("breathing apparatus", "oxygen")),
    ("pcb", ("capacitor", "transformer")),
    (
        "pressure",
        (
            *("accumulator", "air bottle", "air receiver", "air reservoir", "boiler", "fire bottle"),
            *("fire extinguisher", "gas bottle", "gas cylinder", "oxygen bottle", "oxygen cylinder", "pressure vessel"),
        ),
    ),
    ("pyrotechnic", ("flare", "signal cartridge", "smoke cartridge", "verey light", "very light")),
    ("radium", ("compass", "dial", "luminous", "radium")),
    ("stored-energy", ("accumulator", "bungee", "counterweight", "flywheel", "inertia starter", "spring")),
    ("thorium", ("gas mantle", "thoriated", "thorium")),
    ("tritium", ("tritium",)),
)
"""By hazard, the words that suggest it, in the singular; a hyphen counts as a space."""

_NOT_A_WORD = re.compile(r"[\W_]+")


def suggested_hazards(text: str) -> tuple[tuple[str, str], ...]:
    """The hazards that a name suggests, each with the first word that suggests it, in order of hazard."""
    spaced = f" {_spaced(text)} "
    return tuple(
        (hazard, found[0])
        for hazard, words in WORDS
        if (found := [word for word in words if any(f" {form} " in spaced for form in (word, f"{word}s"))])
    )


def hazards_not_named(archive: Archive) -> Iterator[Problem]:
    """Components whose name suggests a hazard that they do not have (rule `hazard-suggested`), as a note.

    Where the component's note speaks of the hazard by its word, somebody has thought of it.
    """
    for component_id in sorted(archive.components):
        component = archive.components[component_id]
        for hazard, word in _suggested(component):
            yield Problem(
                place=Place(file=f"components/{component_id}.yaml", field="name"),
                rule="hazard-suggested",
                what=f"`{word}` suggests the hazard {hazard}, which is not among its hazards",
                mend=f"add `{hazard}` to its `hazards`; where it is none, speak of “{_spaced(hazard)}” in its `note`",
                severity=Severity.NOTE,
            )


def _suggested(component: Component) -> Iterator[tuple[str, str]]:
    said = f" {_spaced(component.note or '')} "
    for hazard, word in suggested_hazards(" / ".join((component.name, *component.also_called))):
        if hazard not in component.hazards and f" {hazard.replace('-', ' ')} " not in said:
            yield hazard, word


def _spaced(text: str) -> str:
    return _NOT_A_WORD.sub(" ", fold_wording(text)).strip()
