"""What an installation gets: everything that the package needs to run, and nothing else."""

import shutil
import subprocess
import sys
import sysconfig
import tomllib
import venv
import zipfile
from email.parser import Parser
from importlib.metadata import distribution
from pathlib import Path

import pytest
from checkout import ROOT, bare_environment, copy_checkout, list_files
from packaging.requirements import Requirement


def _run(*command: str | Path, cwd: Path, home: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [str(word) for word in command],
        cwd=cwd,
        env=bare_environment(home),
        capture_output=True,
        check=False,
        text=True,
        encoding="utf-8",
    )


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from a copy as a clone would have it."""
    folder = tmp_path_factory.mktemp("built")
    copy = copy_checkout(folder / "checkout", "provenance", "schemas", "README.md", "LICENSE", "pyproject.toml")
    options = ["--no-deps", "--no-build-isolation", "--no-index", "--disable-pip-version-check"]
    built = _run(
        sys.executable, "-m", "pip", "wheel", *options, "--wheel-dir", folder, copy, cwd=folder, home=folder / "home"
    )
    assert built.returncode == 0, built.stderr
    (path,) = folder.glob("*.whl")
    return path


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new environment with the wheel in it, and in sight only the packages of the lock file for running."""
    folder = tmp_path_factory.mktemp("installed")
    venv.create(folder, with_pip=False, symlinks=True)
    site_packages = Path(sysconfig.get_path("purelib", vars={"base": str(folder), "platbase": str(folder)}))
    for requirement in _locked():
        if requirement.marker is None or requirement.marker.evaluate():
            _link_distribution(requirement.name, site_packages)
    options = ["--no-deps", "--no-index", "--disable-pip-version-check", "--quiet"]
    python = folder / "bin" / "python"
    done = _run(
        sys.executable, "-m", "pip", "--python", python, "install", *options, wheel, cwd=folder, home=folder / "home"
    )
    assert done.returncode == 0, done.stderr
    return folder / "bin"


def _locked() -> tuple[Requirement, ...]:
    lines = (ROOT / ".ci" / "requirements.txt").read_text(encoding="utf-8").splitlines()
    return tuple(Requirement(line.removesuffix("\\")) for line in lines if line and not line.startswith((" ", "#")))


def _link_distribution(name: str, site_packages: Path) -> None:
    """Show one installed package to another environment, without copying its files."""
    here = distribution(name)
    for top in {Path(file).parts[0] for file in here.files or () if not str(file).startswith("..")}:
        target = site_packages / top
        if top != "__pycache__" and not target.exists():
            target.symlink_to(Path(str(here.locate_file(top))))


def test_the_wheel_holds_the_package_with_its_schemas_and_nothing_else(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        held = {name for name in archive.namelist() if ".dist-info/" not in name}

    source = {name for name in list_files() if name.startswith("provenance/")}
    schemas = {f"provenance/{name}" for name in list_files() if name.startswith("schemas/")}

    assert schemas
    assert held == source | schemas
    assert "provenance/py.typed" in held


def test_the_wheel_names_its_command_its_licence_and_its_python(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        (entry_points,) = [archive.read(name) for name in archive.namelist() if name.endswith("entry_points.txt")]
        (metadata,) = [archive.read(name) for name in archive.namelist() if name.endswith("METADATA")]

    stated = Parser().parsestr(metadata.decode())

    assert b"provenance = provenance.cli:main" in entry_points
    assert stated["License-Expression"] == "MIT"
    assert stated["Requires-Python"] == ">=3.11"
    assert str(stated.get_payload()).lstrip().startswith("#")


def test_the_lock_file_for_running_holds_every_package_that_the_wheel_asks_for(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        (metadata,) = [archive.read(name) for name in archive.namelist() if name.endswith("METADATA")]
    asked = [Requirement(text) for text in Parser().parsestr(metadata.decode()).get_all("Requires-Dist") or ()]
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]

    locked = {requirement.name.lower(): requirement.specifier for requirement in _locked()}

    assert len(asked) == len(project["dependencies"])
    for requirement in asked:
        (pin,) = locked[requirement.name.lower()]
        assert requirement.specifier.contains(pin.version)


def test_the_installed_command_checks_the_sample_archive_far_from_the_checkout(installed: Path, tmp_path: Path) -> None:
    archive = tmp_path / "somewhere" / "else"
    shutil.copytree(ROOT / "sample_archive" / "archive", archive)

    checked = _run(installed / "provenance", "check", cwd=archive, home=tmp_path / "home")
    version = _run(installed / "provenance", "--version", cwd=tmp_path, home=tmp_path / "home")

    assert checked.returncode == 0, checked.stdout + checked.stderr
    assert "Traceback" not in checked.stderr
    assert distribution("provenance").version in version.stdout


def test_the_installed_package_is_the_wheel_and_not_the_checkout(installed: Path, tmp_path: Path) -> None:
    asked = "import provenance; print(provenance.__file__)"

    found = _run(installed / "python", "-c", asked, cwd=tmp_path, home=tmp_path / "home").stdout.strip()

    assert Path(found).is_relative_to(installed.parent)


@pytest.mark.long
def test_the_wheel_runs_with_what_the_registry_gives_for_the_lock_file(wheel: Path, tmp_path: Path) -> None:
    fresh = tmp_path / "fresh"
    archive = shutil.copytree(ROOT / "sample_archive" / "archive", tmp_path / "archive")
    venv.create(fresh, with_pip=True, symlinks=True)
    python = fresh / "bin" / "python"
    locked = ["--only-binary", ":all:", "--require-hashes", "--requirement", str(ROOT / ".ci" / "requirements.txt")]

    brought = _run(python, "-m", "pip", "install", "--quiet", *locked, cwd=tmp_path, home=tmp_path / "home")
    installed = _run(python, "-m", "pip", "install", "--no-index", wheel, cwd=tmp_path, home=tmp_path / "home")
    sound = _run(python, "-m", "pip", "check", cwd=tmp_path, home=tmp_path / "home")
    checked = _run(fresh / "bin" / "provenance", "check", cwd=archive, home=tmp_path / "home")

    assert brought.returncode == 0, brought.stderr
    assert installed.returncode == 0, installed.stderr
    assert sound.returncode == 0, sound.stdout
    assert checked.returncode == 0, checked.stdout + checked.stderr
