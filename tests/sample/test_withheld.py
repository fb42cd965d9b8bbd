"""What the sample withholds from the public stays withheld in every dossier that leaves it."""

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from provenance.cli import main
from sample.copied import CONFIDENCE

_ARCHIVE = Path(__file__).resolve().parents[2] / "sample_archive" / "archive"
# Names and words that stand only in records and originals that are the team's or closed.
_CANARIES = (
    "dallimoor",
    "letter-1998-03-02",
    "mending of",
    "photo-no10-1935",
    "no. 10 at tollan road",
    "album-starrick",
    "photo-no9-brennow-1935",
    "starrick",
    "postcard-carrowsea",
    "orlaby's series",
)


@pytest.fixture(scope="module")
def dossiers(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The public dossiers of all components, one after the other, in small letters."""
    folder = tmp_path_factory.mktemp("public")
    copied = Path(shutil.copytree(_ARCHIVE, folder / "archive", ignore=shutil.ignore_patterns(".derived")))
    components = sorted(path.stem for path in (copied / "components").glob("*.yaml"))
    return _folded("\n".join(_dossier(copied, component, folder / f"{component}.txt") for component in components))


def _folded(text: str) -> str:
    return " ".join(text.casefold().split())


def _dossier(archive: Path, component: str, to: Path) -> str:
    asked = ["--archive", str(archive), "evidence", component, "--for", "public", "--output", str(to)]
    answer = CliRunner().invoke(main, asked)
    assert answer.exit_code == 0, answer.output
    return to.read_text(encoding="utf-8")


@pytest.mark.parametrize("canary", _CANARIES)
def test_nothing_of_what_is_withheld_stands_in_a_public_dossier(canary: str, dossiers: str) -> None:
    records = sorted((_ARCHIVE / "sources").glob("*.yaml"))

    written = [f"{path.stem} {path.read_text(encoding='utf-8')}" for path in records]
    held = _folded(" ".join((*written, *CONFIDENCE.lines)))

    assert canary in held
    assert canary not in dossiers


def test_a_public_dossier_is_judged_without_what_is_withheld_and_says_so(dossiers: str) -> None:
    _, _, after = dossiers.partition("exhaust whistle (exhaust-whistle)")

    whistle, _, _ = after.partition("weighed with")

    # All four witnesses make it 97 chances in 100; without the letter it is 8 + 2.5 carried over, 9.612, and 3: 95.
    assert "is probable, with about 95 chances in 100: three independent witnesses speak for it" in whistle
    assert dossiers.count("the object is a modern re-creation.") == len(list((_ARCHIVE / "components").glob("*.yaml")))
    assert "a further source is held in confidence" in dossiers
    assert "held privately" in dossiers
