"""The cautions that stand first wherever a hazard is concerned.

Each says what the thing may be, to stop, whom to consult, and under which published rules; none gives a procedure. The
wordings are our own. Rules are named only where they were found published, with the country that they hold for; other
countries have their own. They are, all of the United Kingdom or a part of it:

- HSE leaflets INDG459 (oxygen), INDG469 (cellulose nitrate film), INDG178 (Pressure Systems Safety Regulations 2000)
  and INDG370 (Dangerous Substances and Explosive Atmospheres Regulations 2002);
- S.I. 2017/1075 (ionising radiations), S.I. 2002/2676 (lead), S.I. 2000/1043 (PCBs), the Control of Asbestos
  Regulations 2012, and the Firearms Act 1968;
- the Control of Substances Hazardous to Health Regulations 2002, as HSE names them for isocyanates and chromium, and
  Hazards in Collections, a site of London museums, for arsenic.

Which classes there are follows what Museum Development South West lists for museum collections; the rest is common
practice, no source. Looked up in November 2026: rules change, so every caution defers to local codes. A team adds its
own under `cautions`.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from provenance.records.archive import Archive

FITNESS = (
    "Evidence of what was once made is not evidence that it is safe to make or use today. "
    "Approval for use belongs to the competent authority."
)

_LOCAL = "local codes and licensed practice come first"
_UNITED_KINGDOM = "United Kingdom"
_GREAT_BRITAIN = "Great Britain"
_AT_WORK = "the authority for safety at work"
_RADIATION = "a radiation protection adviser"
_SUBSTANCES = "Control of Substances Hazardous to Health Regulations 2002"
_RADIATIONS = "Ionising Radiations Regulations 2017"


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingCaution:
    """A caution that is shown.

    Attributes:
        hazard: the word that records use for it.
        consult: whom to ask before anything is done.
        rules: the published rules that it falls under, among others; empty where none is named.
        jurisdiction: where those rules, or the team's caution, hold; empty where that is not said.
    """

    hazard: str
    text: str
    consult: str
    rules: str = ""
    jurisdiction: str = ""


def _caution(hazard: str, text: str, consult: str, rules: str = "", jurisdiction: str = "") -> StandingCaution:
    return StandingCaution(
        hazard=hazard,
        text=f"{text} Stop.",
        consult=f"{consult}; {_LOCAL}",
        rules=rules,
        jurisdiction=jurisdiction or (_UNITED_KINGDOM if rules else ""),
    )


REGISTER: tuple[StandingCaution, ...] = (
    _caution(
        "arsenic",
        "May hold arsenic, in old pigments, glass, and what skins and timber were treated with; it is poisonous.",
        f"{_AT_WORK} and a conservator",
        _SUBSTANCES,
    ),
    _caution(
        "asbestos",
        "May contain asbestos, or name it as the material. It is not to be reproduced, and the old material is not to "
        "be disturbed.",
        "a licensed asbestos surveyor and the authority for safety at work",
        "Control of Asbestos Regulations 2012",
        _GREAT_BRITAIN,
    ),
    _caution(
        "cadmium",
        "Plating, pigment or solder may hold cadmium, whose dust and fumes are poisonous.",
        f"{_AT_WORK} and a competent finisher",
    ),
    _caution(
        "cellulose-dope",
        "Nitrate and cellulose finishes burn fiercely and give off harmful vapour.",
        "the maker's safety data, the fire service and the authority for safety at work",
        "Dangerous Substances and Explosive Atmospheres Regulations 2002",
    ),
    _caution(
        "chromate",
        "Old primers, jointing pastes and treatments of light alloy may hold chromate, which is poisonous.",
        f"the maker's safety data and {_AT_WORK}",
        _SUBSTANCES,
    ),
    _caution(
        "controlled-drugs",
        "Old first-aid and medical sets may still hold drugs whose possession is restricted by law.",
        "the police and the authority for controlled drugs",
    ),
    _caution(
        "electric-shock",
        "Old wiring and equipment may be live at dangerous voltage, or become so, and capacitors hold their charge.",
        "a licensed electrician",
    ),
    _caution(
        "explosive",
        "May hold an explosive charge: ammunition, a detonator, a fog signal, a cartridge. It is to stay where it is.",
        "the police or the armed forces' disposal service",
    ),
    _caution(
        "firearms",
        "May be a firearm, or a part of one, in law, whether it works or not.",
        "the police firearms liaison officer, and a competent person for its classification",
        "Firearms Act 1968",
    ),
    _caution(
        "flammable",
        "Fuel, its vapour and what it has soaked into can catch fire or explode; an empty tank is no safer.",
        "the fire service and the authority for safety at work",
        "Dangerous Substances and Explosive Atmospheres Regulations 2002",
    ),
    _caution(
        "isocyanate",
        "Two-pack paints and foams give off isocyanates, which harm the lungs for life.",
        f"the maker's safety data and {_AT_WORK}",
        _SUBSTANCES,
    ),
    _caution(
        "lead-paint",
        "Old paint may contain lead; its dust and fumes are poisonous.",
        _AT_WORK,
        "Control of Lead at Work Regulations 2002",
        _GREAT_BRITAIN,
    ),
    _caution(
        "magnesium",
        "May be magnesium or an alloy of it, whose fires burn very hot and are made worse by water.",
        "the fire service, on metal fires, and the supplier of the material",
    ),
    _caution(
        "mercury",
        "May hold mercury, whose vapour is poisonous.",
        "the environment authority and a specialist contractor",
    ),
    _caution(
        "mould",
        "May carry mould, which harms people by breath and touch and spreads to other papers and cloth.",
        f"a conservator and {_AT_WORK}",
    ),
    _caution(
        "nitrate-film",
        "Film, negatives and X-ray plates of cellulose nitrate can catch fire by themselves, and burn without air.",
        "the fire service and a film archive",
        "HSE INDG469",
    ),
    _caution(
        "oxygen",
        "Oxygen makes oil, grease and cloth burn violently, even where there is only a little more of it than in air.",
        "a competent person for gas systems",
        "HSE INDG459",
    ),
    _caution(
        "pcb",
        "Old capacitors and transformer oil may contain PCBs, which are poisonous and regulated waste.",
        "the environment authority",
        "Environmental Protection (Disposal of Polychlorinated Biphenyls and other Dangerous Substances) Regulations "
        "2000",
        "England and Wales",
    ),
    _caution(
        "pressure",
        "Vessels, bottles, boilers and pipes under pressure can burst.",
        "a competent person for pressure systems, and the insurer",
        "Pressure Systems Safety Regulations 2000",
        _GREAT_BRITAIN,
    ),
    _caution(
        "pyrotechnic",
        "May hold a pyrotechnic charge: a flare, a signal, a smoke or fire cartridge. It is to stay where it is.",
        "the police or the armed forces' disposal service",
    ),
    _caution(
        "radium",
        "Luminous paint may be radioactive, whether it still glows or not; its dust is harmful.",
        _RADIATION,
        _RADIATIONS,
        _GREAT_BRITAIN,
    ),
    _caution(
        "stored-energy",
        "Springs, accumulators, flywheels and weights can release their energy without warning.",
        "a competent person for the equipment",
    ),
    _caution(
        "thorium",
        "Some magnesium alloys, lenses and gas mantles hold thorium, which is radioactive.",
        _RADIATION,
        _RADIATIONS,
        _GREAT_BRITAIN,
    ),
    _caution(
        "tritium",
        "Sealed luminous tubes and some luminous paints hold tritium, which is radioactive; a broken one gives it off.",
        _RADIATION,
        _RADIATIONS,
        _GREAT_BRITAIN,
    ),
)
"""The built-in register, in order of hazard."""


def cautions_for(archive: Archive, hazards: Iterable[str]) -> tuple[StandingCaution, ...]:
    """The cautions for the hazards, the team's own before the built-in ones, in order of hazard.

    A hazard that no register knows gets a caution that says so: it is never passed over in silence.
    """
    own = tuple(
        StandingCaution(
            hazard=caution.hazard,
            text=caution.text,
            consult=caution.consult,
            jurisdiction=caution.jurisdiction or "",
        )
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
        _AT_WORK,
    )
