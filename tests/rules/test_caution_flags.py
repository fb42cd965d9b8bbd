from builders import a_component, a_source, an_archive

from provenance.records.archive import Caution
from provenance.rules.caution_flags import caution_flags
from provenance.rules.flag_values import Level

OURS = Caution(hazard="petrol-tank", text="The tank was never cleaned.", consult="the fire officer")


def test_a_hazard_that_no_register_knows_is_flagged_on_component_and_source() -> None:
    archive = an_archive(
        a_component(hazards=("beryllium", "asbestos")), a_source("nest", "artefact", hazards=("wasps",))
    )

    raised = list(caution_flags(archive))

    assert [(flag.about, flag.severity, flag.sources) for flag in raised] == [
        ("headlamp", Level.WARN, ()),
        ("nest", Level.WARN, ("nest",)),
    ]
    assert raised[0].sentence == "“Headlamp” has the hazard “beryllium”, for which no caution has been written."


def test_a_hazard_of_the_register_or_of_the_teams_own_cautions_is_not() -> None:
    archive = an_archive(a_component(hazards=("petrol-tank", "radium")), cautions=(OURS,))

    assert list(caution_flags(archive)) == []
