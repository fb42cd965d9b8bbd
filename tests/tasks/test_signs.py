"""What to look for in a picture: in a folder on disk, and what is refused."""

from pathlib import Path

import pytest
from tasks.team import a_team_archive, a_text

from provenance.errors import ProvenanceError, UnknownRecordError, UsageRefusedError
from provenance.reports.signs import SignsAnswer
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.signs import signs_for

HEAD = "name: Headlamp\nby: mh\ndate: 2026-01-10\n"
SIGNS = "signs:\n  - {id: conduit, name: a conduit along the cantrail}\n  - {id: box, name: a box on the step}\n"
CHOICE = """features:
  - id: kind
    name: Kind of lamp
    aspect: form
    kind: choice
    options:
      - id: acetylene
        name: acetylene lamp
        signs:
          - {sign: conduit, expect: never, source: handbook}
          - {sign: box, expect: sometimes}
      - id: electric
        name: electric lamp
        signs:
          - {sign: conduit, expect: always, source: handbook}
"""
BARE = """features:
  - id: kind
    name: Kind of lamp
    aspect: form
    kind: choice
    options:
      - {id: acetylene, name: acetylene lamp}
      - {id: electric, name: electric lamp}
"""
HOOD = "  - {id: hood, name: Hood over the lamp, aspect: presence, kind: presence}\n"


def with_headlamp(scratch: Path, *parts: str) -> Opened:
    folder = a_team_archive(scratch).folder
    a_text(folder / "components" / "headlamp.yaml", "".join([HEAD, *parts]))
    return open_folder(folder)


def refused(opened: Opened, feature: str) -> ProvenanceError:
    with pytest.raises(ProvenanceError) as refusal:
        signs_for(opened, feature)
    return refusal.value


def test_what_is_known_the_signs_and_the_pictures_come_from_the_folder(tmp_path: Path) -> None:
    """A manual of all machines says acetylene: 11 points carried over at .98: 10.0322 to 1, .909356; electric .090644.

    Conduit seen: .909356 x .05 + .090644 x .95 = .131580; electric .086112 / .131580 = .654447. Not seen: .868420;
    acetylene .863888 / .868420 = .994781. In bits .438616 - .131580 x .930034 - .868420 x .047080 = .275358. The box
    is as likely with either.
    """
    answer = signs_for(with_headlamp(tmp_path, SIGNS, CHOICE), "headlamp/kind")

    looking = answer.looking
    assert [(option.id, round(chance, 4)) for option, chance in looking.chances] == [
        ("acetylene", 0.9094),
        ("electric", 0.0906),
    ]
    assert [(sign.id, round(sign.bits, 4)) for sign in looking.signs] == [("conduit", 0.2754), ("box", 0)]
    told = looking.signs[0]
    assert (told.if_seen.leads_with, told.if_not_seen.leads_with) == pytest.approx((0.65445, 0.99478), abs=5e-5)
    assert [(picture.source, picture.shows) for picture in looking.pictures] == [
        ("photograph", "shows this machine, known by its number")
    ]
    assert (answer.titles, answer.no_signs, answer.cautions) == ({"handbook": "Working instructions"}, "", ())


def test_the_source_in_which_a_sign_was_looked_for_is_named_by_its_title(tmp_path: Path) -> None:
    folder = with_headlamp(tmp_path, SIGNS, CHOICE).folder
    item = "{source: photograph, stance: supports, how: implies, signs: {box: out-of-view}}"
    a_text(
        folder / "claims" / "lamp.yaml",
        f'about: headlamp/kind\nvalue: electric\napplies_to: {{examples: ["9"]}}\nevidence:\n  - {item}\nby: mh\n'
        "date: 2026-01-11\n",
    )

    answer = signs_for(open_folder(folder), "headlamp/kind")

    assert answer.titles["photograph"] == "Photograph of No. 9 at Orrin"
    assert [report.claim for sign in answer.looking.signs for report in sign.reports] == ["lamp"]
    assert answer.looking.pictures == ()


def test_the_cautions_of_the_component_are_part_of_the_answer(tmp_path: Path) -> None:
    answer = signs_for(with_headlamp(tmp_path, "hazards: [asbestos]\n", SIGNS, CHOICE), "headlamp/kind")

    assert [caution.hazard for caution in answer.cautions] == ["asbestos"]


def test_an_unknown_feature_is_refused_with_the_nearest(tmp_path: Path) -> None:
    refusal = refused(with_headlamp(tmp_path, SIGNS, CHOICE), "headlamp/knd")

    assert isinstance(refusal, UnknownRecordError)
    assert "`headlamp/kind`" in refusal.mend


@pytest.mark.parametrize(
    ("feature", "what", "mend"),
    [
        (
            "headlamp/hood",
            "`headlamp/hood` is a presence, and only the options of a choice are told apart by signs",
            "see what it rests on with `provenance evidence headlamp/hood`",
        ),
        (
            "headlamp",
            "`headlamp` is a component, and signs tell the options of one feature apart",
            "name one of its choices: headlamp/kind",
        ),
    ],
)
def test_what_is_no_choice_is_refused_with_what_to_ask(tmp_path: Path, feature: str, what: str, mend: str) -> None:
    refusal = refused(with_headlamp(tmp_path, SIGNS, CHOICE, HOOD), feature)

    assert isinstance(refusal, UsageRefusedError)
    assert (refusal.what, refusal.mend) == (what, mend)


def test_a_component_without_a_choice_says_that_it_has_none(tmp_path: Path) -> None:
    refusal = refused(with_headlamp(tmp_path, SIGNS, "features:\n", HOOD), "headlamp")

    assert refusal.mend == "it has no feature of the kind choice yet"


def no_signs(answer: SignsAnswer) -> str:
    assert answer.looking.signs == ()
    return answer.no_signs


def test_where_no_sign_is_defined_the_answer_shows_how_to_write_one(tmp_path: Path) -> None:
    assert no_signs(signs_for(with_headlamp(tmp_path, BARE), "headlamp/kind")) == (
        "No option of headlamp/kind says which signs it shows, so there is nothing to look for yet. Define one in "
        "components/headlamp.yaml, such as `signs: [{id: conduit, name: a conduit along the cantrail}]`; under each "
        "option of the feature in components/headlamp.yaml write how often it shows it, and who says so, such as "
        "`signs: [{sign: conduit, expect: always, source: ID}]` (or `never`, or `sometimes`)."
    )


def test_where_signs_are_defined_that_no_option_lists_they_are_named(tmp_path: Path) -> None:
    said = no_signs(signs_for(with_headlamp(tmp_path, SIGNS, BARE), "headlamp/kind"))

    assert "The signs of headlamp are conduit, box; under each option" in said
    assert "`signs: [{sign: conduit, expect: always, source: ID}]`" in said
