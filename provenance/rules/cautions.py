"""The cautions that stand first wherever a hazard is concerned.

Each names what the hazard is and whom to consult, and gives no procedure. The wordings are our own; the publications
that a reader is sent to are named where they are published: HSE INDG469 (cellulose nitrate film), HSE INDG459 (oxygen),
the Control of Asbestos Regulations 2012, the Ionising Radiations Regulations 2017, the Pressure Systems Safety
Regulations 2000 (all of the United Kingdom; other countries have their own). A team adds its own under `cautions`.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from provenance.records.archive import Archive

FITNESS = (
    "Evidence of what was once made is not evidence that it is safe to make or use today. "
    "Approval for use belongs to the competent authority."
)

_LOCAL = "local codes and licensed practice come first"


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingCaution:
    """A caution that is shown.

    Attributes:
        hazard: the word that records use for it.
        consult: whom to ask before anything is done.
    """

    hazard: str
    text: str
    consult: str


def _caution(hazard: str, text: str, consult: str) -> StandingCaution:
    return StandingCaution(hazard=hazard, text=text, consult=f"{consult}; {_LOCAL}")


REGISTER: tuple[StandingCaution, ...] = (
    _caution(
        "asbestos",
        "May contain asbestos, or name it as the material. It is not to be reproduced, and the old material is not to "
        "be disturbed.",
        "a licensed asbestos surveyor and the authority for safety at work",
    ),
    _caution(
        "cellulose-dope",
        "Nitrate and cellulose finishes burn fiercely and give off harmful vapour; two-pack finishes harm the lungs.",
        "the maker's safety data and the authority for safety at work",
    ),
    _caution(
        "electric-shock",
        "Old wiring and equipment may be live at dangerous voltage, or become so.",
        "a licensed electrician",
    ),
    _caution(
        "explosive",
        "May hold an explosive or pyrotechnic charge. Leave it where it is.",
        "the police or the armed forces' disposal service",
    ),
    _caution(
        "flammable",
        "Fuel, its vapour and what it has soaked into can catch fire or explode.",
        "the fire service and the authority for safety at work",
    ),
    _caution(
        "lead-paint",
        "Old paint may contain lead or chromate; its dust and fumes are poisonous.",
        "the authority for safety at work",
    ),
    _caution(
        "mercury",
        "May hold mercury, whose vapour is poisonous.",
        "the environment authority and a specialist contractor",
    ),
    _caution(
        "nitrate-film",
        "Film of cellulose nitrate can catch fire by itself, and burns without air.",
        "the fire service and a film archive (in the United Kingdom, see HSE INDG469)",
    ),
    _caution(
        "oxygen",
        "Oxygen makes oil, grease and cloth burn violently.",
        "a competent person for gas systems (in the United Kingdom, see HSE INDG459)",
    ),
    _caution(
        "pcb",
        "Old capacitors and transformer oil may contain PCBs, which are poisonous and regulated waste.",
        "the environment authority",
    ),
    _caution(
        "pressure",
        "Vessels and pipes under pressure can burst.",
        "a competent person for pressure systems, and the insurer",
    ),
    _caution(
        "radium",
        "Luminous paint may be radioactive, whether it still glows or not; its dust is harmful.",
        "a radiation protection adviser",
    ),
    _caution(
        "stored-energy",
        "Springs, accumulators and weights can release their energy without warning.",
        "a competent person for the equipment",
    ),
)
"""The built-in register, in order of hazard."""


def cautions_for(archive: Archive, hazards: Iterable[str]) -> tuple[StandingCaution, ...]:
    """The cautions for the hazards, the team's own before the built-in ones, in order of hazard.

    A hazard that no register knows gets a caution that says so: it is never passed over in silence.
    """
    own = tuple(
        StandingCaution(hazard=caution.hazard, text=caution.text, consult=caution.consult)
        for caution in archive.cautions
    )
    found = []
    for hazard in sorted(set(hazards)):
        known = [caution for caution in (*own, *REGISTER) if caution.hazard == hazard]
        found += known or [_unknown(hazard)]
    return tuple(found)


def _unknown(hazard: str) -> StandingCaution:
    return _caution(
        hazard,
        f"The record names the hazard “{hazard}”, for which no caution has been written.",
        "the authority for safety at work",
    )
