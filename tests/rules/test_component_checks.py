from builders import a_component, a_feature, an_archive, an_option

from provenance.records.archive import Archive
from provenance.records.components import Option, Sign
from provenance.rules.component_checks import ambiguous_components


def told(archive: Archive) -> list[tuple[str, str, str]]:
    problems = list(ambiguous_components(archive))
    assert all(problem.rule == "named-twice" and problem.mend for problem in problems)
    return [(problem.place.file, problem.place.field, problem.what) for problem in problems]


def test_the_headlamp_of_the_tests_is_told_apart() -> None:
    assert told(an_archive()) == []


def test_two_features_of_one_id_cannot_be_told_apart() -> None:
    archive = an_archive(
        a_component("headlamp", a_feature("type"), a_feature("hood", "presence"), a_feature("type", "text"))
    )

    assert told(archive) == [("components/headlamp.yaml", "features[2].id", "2 features are called `type`")]


def test_two_signs_of_one_id_cannot_be_told_apart() -> None:
    signs = tuple(Sign(id="conduit-on-cantrail", name=name) for name in ("a conduit", "a pipe", "a rod"))
    archive = an_archive(a_component(signs=signs))

    assert told(archive) == [
        ("components/headlamp.yaml", "signs[2].id", "3 signs are called `conduit-on-cantrail`"),
    ]


def test_two_options_that_share_a_word_cannot_be_told_apart_whatever_its_case() -> None:
    """A claim of `Gas  Lamp` might mean either."""
    options = (an_option("acetylene", "gas lamp"), an_option("oil"), an_option("coal-gas", "Gas Lamp"))
    archive = an_archive(a_component("headlamp", a_feature(options=options)))

    assert told(archive) == [
        ("components/headlamp.yaml", "features[0].options[2]", "2 options are called `gas lamp`"),
    ]


def test_an_option_may_repeat_its_own_word() -> None:
    options = (Option(id="oil", name="Oil", also=("oil", "paraffin")), Option(id="electric", name="electric"))

    assert told(an_archive(a_component("headlamp", a_feature(options=options)))) == []


def test_two_components_may_have_a_feature_of_the_same_id() -> None:
    assert told(an_archive(a_component("headlamp"), a_component("tail-lamp"))) == []
