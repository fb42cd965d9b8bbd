import pytest
from builders import FEATURE, a_claim, a_component, a_date, a_feature, an_archive

from provenance.rules.flag_values import Flag, Level, Urgency, urgencies


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

    assert str(found["sources", "manual"].needed_by) == "2026-03"
    assert str(found["sources", "drawing"].needed_by) == "2027-05"
    assert found["sources", "letter"] == Urgency()
    assert found["features", FEATURE].prominence == "hidden"


def test_a_source_and_a_component_of_one_name_are_not_taken_for_one_another() -> None:
    lamp = a_component("lamp", a_feature(), needed_by="2030")
    other = a_component("bell", needed_by="2026")

    found = urgencies(an_archive(lamp, other, a_claim("acetylene", "lamp", about="bell/type")))

    assert str(found["components", "lamp"].needed_by) == "2030"
    assert str(found["sources", "lamp"].needed_by) == "2026"


@pytest.mark.parametrize(
    ("about", "flag", "sources", "kind"),
    [
        ("lamp/type", "contested", ("lamp",), "features"),
        ("lamp", "unread-page", ("lamp",), "sources"),
        ("lamp", "hazard-no-caution", (), "components"),
        ("lamp", "hazard-no-caution", ("lamp",), "sources"),
        ("lamp", "panel-overtaken", (), "panels"),
    ],
)
def test_a_flag_knows_what_kind_of_thing_it_is_about(
    about: str, flag: str, sources: tuple[str, ...], kind: str
) -> None:
    raised = Flag(flag=flag, severity=Level.NOTE, about=about, sentence="So.", mend="Mend it.", sources=sources)

    assert raised.about_kind == kind


def test_sooner_goes_before_later_and_never_comes_last() -> None:
    dates = [Urgency(a_date(text)) for text in ("2026", "2026-02", "../2027", "2028/..")]

    ordered = sorted([Urgency(), *dates], key=lambda urgency: urgency.order)

    assert [str(each.needed_by) for each in ordered] == ["2026", "2026-02", "../2027", "2028/..", "None"]


def test_what_visitors_look_at_goes_before_what_they_do_not_see() -> None:
    kinds = ("hidden", None, "focal", "visible")

    ordered = sorted((Urgency(None, kind) for kind in kinds), key=lambda urgency: urgency.order)

    assert [each.prominence for each in ordered] == ["focal", "visible", "hidden", None]
