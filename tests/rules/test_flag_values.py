from builders import FEATURE, a_claim, a_component, a_date, an_archive

from provenance.rules.flag_values import Urgency, urgencies


def test_a_source_is_as_pressing_as_the_most_pressing_feature_that_it_is_evidence_for() -> None:
    archive = an_archive(
        a_component("headlamp", needed_by="2027-05", prominence="hidden"),
        a_component("whistle", needed_by="2026-03"),
        a_claim("acetylene", "manual", "drawing"),
        a_claim("electric", "manual", about="whistle/type"),
        a_claim("oil", "letter", about="bell/none"),
        a_claim("oil", "manual", about="headlamp/type", claim_id="z"),
    )

    found = urgencies(archive)

    assert str(found["manual"].needed_by) == "2026-03"
    assert str(found["drawing"].needed_by) == "2027-05"
    assert found["letter"] == Urgency()
    assert found[FEATURE].prominence == "hidden"


def test_sooner_goes_before_later_and_never_comes_last() -> None:
    dates = [Urgency(a_date(text)) for text in ("2026", "2026-02", "../2027", "2028/..")]

    ordered = sorted([Urgency(), *dates], key=lambda urgency: urgency.order)

    assert [str(each.needed_by) for each in ordered] == ["2026", "2026-02", "../2027", "2028/..", "None"]


def test_what_visitors_look_at_goes_before_what_they_do_not_see() -> None:
    kinds = ("hidden", None, "focal", "visible")

    ordered = sorted((Urgency(None, kind) for kind in kinds), key=lambda urgency: urgency.order)

    assert [each.prominence for each in ordered] == ["focal", "visible", "hidden", None]
