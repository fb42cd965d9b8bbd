"""Adding by hand, as it is typed: records, features and people, and what is refused."""

from pathlib import Path

import pytest
from cli.command_line import SOUND, a_copy_of, ask, run
from hypothesis import given
from hypothesis import strategies as st

from provenance.store.record_kinds import is_record_id
from provenance.tasks.adding import require_id
from provenance.tasks.opening import open_folder

BY = ("--by", "mh", "--date", "2026-02-01")


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    return a_copy_of(SOUND, tmp_path)


def test_a_component_is_added_with_all_that_was_said_of_it(archive: Path) -> None:
    ask(archive, "add", "component", "lighting", "--name", "Lighting", *BY)
    words = ["--part-of", "lighting", "--reference", "H-207", "--reference", "drawing 30922", "--also", "tail light"]
    more = ["--hazard", "carbide", "--needed-by", "May 2027", "--prominence", "focal", "--made-as", "reproduction"]

    answer = ask(archive, "add", "component", "tail-lamp", "--name", "Tail lamp", *words, *more, *BY)

    lamp = open_folder(archive).archive.components["tail-lamp"]
    assert (answer["record"], answer["written"], answer["said"]) == ("tail-lamp", ["components/tail-lamp.yaml"], [])
    assert (lamp.name, lamp.part_of, lamp.references) == ("Tail lamp", "lighting", ("H-207", "drawing 30922"))
    assert (lamp.also_called, lamp.hazards, str(lamp.needed_by)) == (("tail light",), ("carbide",), "2027-05")
    assert (lamp.prominence, lamp.made_as, lamp.by, str(lamp.date)) == ("focal", "reproduction", "mh", "2026-02-01")


def test_a_feature_is_appended_and_the_rest_of_the_file_stays_as_it_was(archive: Path) -> None:
    file = archive / "components" / "headlamp.yaml"
    before = file.read_text(encoding="utf-8") + "# asked the works on 3 May\n"
    file.write_text(before, encoding="utf-8")
    figures = ["--unit", "mm", "--needed", "10 mm", "--datum", "rail level", "--changes", "in-service"]

    answer = ask(
        archive,
        *["add", "feature", "headlamp/height", "--name", "Height", "--aspect", "position", "--kind", "quantity"],
        *figures,
    )

    feature = open_folder(archive).archive.features["headlamp/height"]
    after = file.read_text(encoding="utf-8").splitlines()
    assert answer["written"] == ["components/headlamp.yaml"]
    assert (feature.unit, feature.needed, feature.datum, feature.changes) == ("mm", "10 mm", "rail level", "in-service")
    assert set(before.splitlines()) <= set(after)


def test_options_and_wordings_are_written_as_they_are_typed(archive: Path) -> None:
    fuel = ["--option", "oil=Oil burner", "--option", "gas"]
    run(archive, *["add", "feature", "headlamp/fuel", "--name", "Fuel", "--aspect", "form", "--kind", "choice"], *fuel)
    steel = ["--same", "M.S.| mild steel"]
    run(
        archive,
        *["add", "feature", "headlamp/metal", "--name", "Metal", "--aspect", "material", "--kind", "text"],
        *steel,
    )

    features = open_folder(archive).archive.features

    options = features["headlamp/fuel"].options
    assert [(option.id, option.name) for option in options] == [("oil", "Oil burner"), ("gas", "gas")]
    assert features["headlamp/metal"].same == (("M.S.", "mild steel"),)


def test_statements_are_added_to_a_panel_one_after_another(archive: Path) -> None:
    ask(archive, "add", "panel", "lighting", "--title", "Lamps", *BY)

    ask(archive, *["add", "statement", "lighting", "--text", "She burnt gas."], *["--feature", "headlamp/kind"])
    ask(archive, "add", "statement", "lighting", "--text", "The glass was red.")

    said = open_folder(archive).archive.panels["lighting"].statements
    assert [(each.text, each.features) for each in said] == [
        ("She burnt gas.", ("headlamp/kind",)),
        ("The glass was red.", ()),
    ]
    assert "there is no panel" in run(archive, "add", "statement", "nosuch", "--text", "x").stderr
    assert run(archive, "add", "statement", "lighting", "--text", " ").exit_code == 2


def test_a_panel_a_lead_and_a_person_are_added(archive: Path) -> None:
    panel = ask(archive, *["add", "panel", "lighting", "--title", "Lamps", "--component", "headlamp"], *BY)
    lead = ask(
        archive,
        *[
            "add",
            "lead",
            "albums",
            "--what",
            "Albums",
            "--place",
            "Orrin",
            "--hoped-for",
            "headlamp/kind",
            "--effort",
            "small",
        ],
        *BY,
    )
    person = ask(archive, "add", "person", "tw", "--name", "T. Wenlark", "--credited-as", "Tom Wenlark")

    records = open_folder(archive).archive
    assert [answer["written"] for answer in (panel, lead, person)] == [
        ["panels/lighting.yaml"],
        ["leads/albums.yaml"],
        ["archive.yaml"],
    ]
    assert (records.panels["lighting"].components, records.leads["albums"].effort) == (("headlamp",), "small")
    assert records.people[-1].credited_as == "Tom Wenlark"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("component Head_Lamp --name X", "did you mean `head-lamp`?"),
        ("component headlamp --name X", "already"),
        ("component lens --name X --part-of headlmap", "did you mean `headlamp`?"),
        ("component lens --name X --prominence seen", "`focal`"),
        ("component lens --name X --needed-by soon", "--needed-by"),
        ("lead albums --what X --hoped-for headlamp/kin", "did you mean `headlamp/kind`?"),
        ("panel lamps --title X --component headlmap", "did you mean `headlamp`?"),
    ],
)
def test_what_cannot_be_is_refused_with_what_may_be_meant(archive: Path, words: str, said: str) -> None:
    before = {path: path.read_bytes() for path in archive.rglob("*.yaml")}

    result = run(archive, "add", *words.split(), *BY)

    assert result.exit_code == 2
    assert said in result.stderr
    assert {path: path.read_bytes() for path in archive.rglob("*.yaml")} == before


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("feature headlmap/size --name X --aspect form --kind text", "did you mean `headlamp`?"),
        ("feature headlamp/kind --name X --aspect form --kind text", "already: Kind of lamp"),
        ("feature headlamp --name X --aspect form --kind text", "component and feature"),
        ("feature headlamp/size --name X --aspect shape --kind text", "`form`"),
        ("feature headlamp/size --name X --aspect form --kind text --unit mm", "quantity"),
        ("person mh --name X", "M. Hollin already"),
        ("person M.H. --name X", "did you mean `m-h`?"),
    ],
)
def test_a_feature_or_person_that_cannot_be_is_refused(archive: Path, words: str, said: str) -> None:
    result = run(archive, "add", *words.split())

    assert result.exit_code == 2
    assert said in result.stderr


def test_a_component_whose_record_is_faulty_gets_no_feature(archive: Path) -> None:
    (archive / "components" / "lens.yaml").write_text("name: Lens\nsize: 3\n", encoding="utf-8")

    result = run(archive, *["add", "feature", "lens/size", "--name", "X", "--aspect", "form", "--kind", "text"])

    assert result.exit_code == 2
    assert "mend that record first" in result.stderr


def test_a_component_that_looks_like_one_held_already_is_said(archive: Path) -> None:
    run(archive, *["add", "component", "lens", "--name", "Lens", "--reference", "H-204"], *BY)

    answer = ask(archive, *["add", "component", "other", "--name", "lens", "--reference", "h.2O4"], *BY)

    assert answer["said"] == [
        "lens is called Lens too; is other another part?",
        "lens has the number H-204 too; is other another part?",
    ]


def test_nothing_named_to_be_added_shows_how(archive: Path) -> None:
    result = run(archive, "add")

    assert result.exit_code == 2
    assert "component" in result.output


def test_a_page_says_what_was_written(archive: Path) -> None:
    result = run(archive, *["add", "person", "tw", "--name", "Wenlark"])

    assert result.stdout == "written: archive.yaml\n"


@given(st.from_regex(r"[a-z0-9]{1,6}(-[a-z0-9]{1,6}){0,3}", fullmatch=True).filter(is_record_id))
def test_every_id_is_taken(record_id: str) -> None:
    require_id(record_id)
