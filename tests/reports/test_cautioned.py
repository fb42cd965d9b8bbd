from builders import an_archive
from reports.pages import WIDTH, overlong

from provenance.records.archive import Caution
from provenance.reports.cautioned import caution_lines, cautions_json
from provenance.rules.cautions import FITNESS, REGISTER, cautions_for


def test_without_a_hazard_nothing_is_said() -> None:
    assert caution_lines((), WIDTH) == []
    assert cautions_json(()) == []


def test_a_caution_says_whom_to_consult_and_that_form_is_no_proof_of_fitness() -> None:
    lines = caution_lines(cautions_for(an_archive(), ["asbestos", "pressure"]), WIDTH)

    said = " ".join(" ".join(lines).split())
    assert said.startswith("CAUTION, asbestos: May contain asbestos")
    assert "Consult a licensed asbestos surveyor" in said
    assert said.index("CAUTION, asbestos") < said.index("CAUTION, pressure") < said.index(FITNESS)
    assert said.count(FITNESS) == 1
    assert lines[-1] == ""


def test_the_whole_register_keeps_to_the_narrowest_page() -> None:
    assert overlong("\n".join(caution_lines(REGISTER, 60)), 60) == []


def test_programs_are_given_the_same() -> None:
    (caution,) = cautions_for(an_archive(), ["radium"])

    (told,) = cautions_json([caution])

    assert told.items() >= {"hazard": "radium", "text": caution.text, "consult": caution.consult}.items()


def test_the_rules_and_where_they_hold_are_named_where_they_are_known() -> None:
    ours = Caution(
        hazard="asbestos", text="The lagging holds it.", consult="the safety officer", jurisdiction="Denmark"
    )

    own, built_in = cautions_for(an_archive(cautions=(ours,)), ["asbestos"])
    said = " ".join(" ".join(caution_lines([own, built_in], WIDTH)).split())

    assert "CAUTION, asbestos: The lagging holds it. Consult the safety officer. (Denmark.)" in said
    assert f"{built_in.jurisdiction}: see {built_in.rules}, among others." in said
    assert cautions_json([own])[0]["jurisdiction"] == "Denmark"
