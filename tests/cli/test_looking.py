"""The command that says what to look for in a picture, and the signs that are entered with a claim."""

from pathlib import Path

import pytest
from cli.command_line import SOUND, a_copy_of, ask, run
from tasks.team import a_text


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    """The sound archive; electric lamps always have the conduit, acetylene lamps never."""
    folder = a_copy_of(SOUND, tmp_path)
    file = folder / "components" / "headlamp.yaml"
    written = file.read_text(encoding="utf-8")
    lamp = "- {id: acetylene, name: acetylene lamp, also: [gas lamp]}"
    assert lamp in written
    with_sign = lamp.replace("}", ", signs: [{sign: conduit, expect: never}]}")
    a_text(file, written.replace(lamp, with_sign))
    return folder


def test_the_sign_that_tells_most_is_listed_with_the_pictures_to_look_at(archive: Path) -> None:
    answer = ask(archive, "signs", "headlamp/kind")
    page = run(archive, "signs", "headlamp/kind")

    assert (answer["decides_most"], [each["source"] for each in answer["pictures"]]) == ("conduit", ["photograph"])
    assert page.exit_code == 0
    assert "1. a conduit along the cantrail (conduit): would tell 0.28 bits" in page.stdout
    assert "“Photograph of No. 9 at Orrin” (photograph): shows this machine, known by its number" in page.stdout


@pytest.mark.parametrize(
    ("feature", "code", "what", "mend"),
    [
        ("headlamp/knd", 3, "`headlamp/knd`", "`headlamp/kind`"),
        ("headlamp/hood", 2, "is a presence", "provenance evidence headlamp/hood"),
        ("headlamp", 2, "is a component", "headlamp/kind"),
    ],
)
def test_what_cannot_be_told_by_signs_is_refused(archive: Path, feature: str, code: int, what: str, mend: str) -> None:
    refusal = ask(archive, "signs", feature, code=code)

    assert what in refusal["what"]
    assert mend in refusal["mend"]


def test_without_signs_the_command_says_how_to_add_them(archive: Path) -> None:
    file = archive / "components" / "headlamp.yaml"
    lines = file.read_text(encoding="utf-8").splitlines(keepends=True)
    bare = [line for line in lines if "expect: always" not in line and line.strip() != "signs:"]
    a_text(
        file,
        "".join(bare)
        .replace(", signs: [{sign: conduit, expect: never}]", "")
        .replace("  - {id: conduit, name: a conduit along the cantrail}\n", ""),
    )

    page = run(archive, "signs", "headlamp/kind")

    assert page.exit_code == 0
    assert "Define one in components/headlamp.yaml" in " ".join(page.stdout.split())
    assert "Define one in components/headlamp.yaml" in ask(archive, "signs", "headlamp/kind")["said"]


def test_a_trial_tells_what_the_signs_of_a_picture_would_change(archive: Path) -> None:
    """Acetylene by a manual of all machines: 10.0322 to 1, .909356. Analogy with the photograph of No. 9: 14 x .25.

    That is 3.5 points, 2.23872 to 1, for electric. The conduit seen: .95 / .05 = 19 to 1, 12.7875 points, shows; of the
    two at one place the heavier counts: electric 19 of 1 + 19 + 10.0322 = 30.0322: .632654.
    """
    words = ("claim", "headlamp/kind", "electric", "--source", "photograph", "--how", "analogy", "--applies-to", "9")

    plain = ask(archive, *words, "--by", "mh", "--try")
    signed = ask(archive, *words, "--sign", "conduit=seen", "--by", "mh", "--try")

    (before,) = plain["changes"]
    (after,) = signed["changes"]
    assert (before["after"]["value"], after["after"]["value"]) == ("acetylene", "electric")
    assert after["before"]["posterior"] == pytest.approx(0.909356, abs=5e-6)
    assert after["after"]["posterior"] == pytest.approx(0.632654, abs=5e-6)
    assert signed["written"] == []
    assert sorted(path.name for path in (archive / "claims").iterdir()) == ["headlamp-kind-acetylene.yaml"]


def test_a_sign_that_is_not_defined_is_refused_and_those_that_are_are_listed(archive: Path) -> None:
    refusal = ask(
        archive,
        *("claim", "headlamp/kind", "electric", "--source", "photograph", "--by", "mh"),
        "--sign",
        "nothing=seen",
        code=2,
    )

    assert refusal["what"] == "`nothing` is no sign of headlamp"
    assert refusal["mend"] == "its signs are: conduit; add one under `signs` in components/headlamp.yaml"
