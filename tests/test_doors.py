"""The rooms of the package keep to their doors; the tables here are the only place where a door is opened.

errors <- records <- rules <- reports, exchange <- tasks <- web <- cli
errors, records <- store, search, workers, pages <- tasks          pages <- reading, likeness <- tasks
"""

import tomllib
from pathlib import Path

import pytest
from doors import Doors, find_faults, find_unused

ROOT = Path(__file__).parent.parent

_RECORDS = frozenset({"errors", "records"})
_JUDGEMENT = _RECORDS | {"rules"}
_SIDE_ROOMS = frozenset({"store", "search", "workers", "pages", "reading", "likeness"})
_OUTWARD = frozenset({"reports", "exchange"})

ROOMS = {
    "": frozenset({"tasks"}),  # `from provenance import open_archive`, imported when it is asked for
    "errors": frozenset[str](),
    "records": frozenset({"errors"}),
    "rules": _RECORDS,
    "reports": _JUDGEMENT,
    "exchange": _JUDGEMENT,
    "store": _RECORDS,
    "search": _RECORDS,
    "workers": _RECORDS,
    "pages": _RECORDS,
    "reading": _RECORDS | {"pages"},
    "likeness": _RECORDS | {"pages"},
    "tasks": _JUDGEMENT | _SIDE_ROOMS | _OUTWARD,
    "cli": _JUDGEMENT | _OUTWARD | {"tasks", "web"},
    "web": _JUDGEMENT | _OUTWARD | {"tasks"},
    "__main__": frozenset({"cli"}),  # `python -m provenance`
}

LIBRARIES = {
    "citeproc": {"reports": "citations in a style of the Citation Style Language"},
    "click": {"cli": "the command line"},
    "cv2": {"likeness": "points by which a picture is known again, and the geometry between two pictures"},
    "docx": {"reports": "documents that word processors open"},
    "filelock": {
        "store": "one writer of records at a time",
        "search": "one builder of the index at a time; its lock lies with the index",
    },
    "flask": {"web": "the pages"},
    "flask_wtf": {"web": "the token of each form"},
    "fontpkg_arimo": {"reports": "the typeface of what is printed"},
    "fontpkg_noto_sans_arabic": {"reports": "the same for Arabic letters"},
    "fontTools": {"reports": "which characters a typeface has"},
    "jinja2": {
        "reports": "pages of HTML; whatever stands in a value is escaped",
        "web": "that a value which a page asks for and nobody gives is an error",
    },
    "jsonschema_rs": {"store": "records against their schemas"},
    "numpy": {
        "likeness": "pictures, points and letters compared as arrays",
        "pages": "levels of pictures whose numbers are not bytes",
        "reading": "how the lines of a page lean, and which of its ink no word covers, from sums over its points",
    },
    "openpyxl": {"store": "sheets that people hand in"},
    "pdfminer": {"pages": "the characters of a text layer; it comes with pdfplumber, which is built on it"},
    "pdfplumber": {"pages": "words of a text layer with their places"},
    "pikepdf": {"reports": "the parts of a long PDF joined with their tags"},
    "PIL": {
        "likeness": "pictures made small, and two of them drawn side by side",
        "pages": "pictures opened and turned upright",
        "reading": "pictures prepared for the recogniser, which takes nothing else",
    },
    "pypdfium2": {"pages": "page counts and rendering"},
    "pytesseract": {"reading": "recognition"},
    "typst": {"reports": "pages set and written as tagged PDF"},
    "waitress": {"web": "the server"},
    "werkzeug": {"web": "what Flask is made of: forms, files that arrive, addresses"},
    "whoosh": {"search": "the index"},
    "wtforms": {"web": "what Flask-WTF raises where a token is not the form's"},
    "xlsxwriter": {"reports": "spreadsheets"},
    "yaml": {"store": "records as people write them"},
}

IMPORTED_AS = {
    "citeproc-py": "citeproc",
    "flask-wtf": "flask_wtf",
    "fontpkg-arimo": "fontpkg_arimo",
    "fontpkg-noto-sans-arabic": "fontpkg_noto_sans_arabic",
    "fonttools": "fontTools",
    "jsonschema-rs": "jsonschema_rs",
    "opencv-python-headless": "cv2",
    "pdfminer.six": "pdfminer",
    "pillow": "PIL",
    "python-docx": "docx",
    "pyyaml": "yaml",
}

NOWHERE = frozenset[str]()
REFUSED = {
    "ftplib": NOWHERE,  # nothing here uses the network
    "http.client": NOWHERE,
    "smtplib": NOWHERE,
    "socket": frozenset({"web"}),  # which numbers this machine has; nothing is sent
    "urllib.request": NOWHERE,
    "marshal": NOWHERE,  # what was written by one version is read by the next
    "pickle": frozenset({"workers"}),  # between a parent and its own children, never on disk
    "shelve": NOWHERE,
}

DOORS = Doors(
    package="provenance",
    rooms=ROOMS,
    libraries=LIBRARIES,
    pure=frozenset({"errors", "records", "rules", "reports"}),
    refused=REFUSED,
)


def test_the_package_keeps_to_its_doors() -> None:
    faults = find_faults(ROOT / "provenance", DOORS)

    assert faults == ()


def test_every_library_in_the_table_is_used_where_the_table_says() -> None:
    unused = find_unused(ROOT / "provenance", DOORS)

    assert unused == ()


def test_every_library_that_an_installation_brings_stands_in_the_table() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]

    names = [requirement.split(">")[0].split("=")[0].strip().lower() for requirement in project["dependencies"]]

    assert sorted(IMPORTED_AS.get(name, name) for name in names) == sorted(LIBRARIES)


SMALL_DOORS = Doors(
    package="small",
    rooms={
        "": frozenset({"front"}),
        "stone": frozenset(),
        "judge": frozenset({"stone"}),
        "side": frozenset({"stone"}),
        "front": frozenset({"stone", "judge", "side"}),
    },
    libraries={"yaml": {"side": "text"}},
    pure=frozenset({"stone", "judge"}),
    refused={"socket": NOWHERE, "http.client": NOWHERE},
)

SOUND = {
    "__init__.py": "def start():\n    from small.front import task\n    return task\n",
    "stone.py": "import dataclasses\nfrom pathlib import PurePosixPath\n",
    "judge/__init__.py": "",
    "judge/weights.py": "from small import __version__\nfrom small.stone import dataclasses\n",
    "judge/grades.py": "from . import weights\nfrom .weights import x\n",
    "side/__init__.py": "import os\nimport yaml\n",
    "front/__init__.py": "",
    "front/task.py": "import small.side\nfrom small import judge\n",
}

VIOLATIONS = {
    "a side room imports the judgement": (
        {"side/look.py": "import small.judge.grades\n"},
        "small/side/look.py:1: side may not import judge",
    ),
    "an import inside a function": (
        {"stone.py": "def f():\n    from small.side import x\n"},
        "small/stone.py:2: stone may not import side",
    ),
    "an import inside a class inside an if": (
        {"stone.py": "if f():\n    class A:\n        import small.side as s\n"},
        "small/stone.py:3: stone may not import side",
    ),
    "a room taken from the package": (
        {"stone.py": "from small import side\n"},
        "small/stone.py:1: stone may not import side",
    ),
    "a relative import out of the room": (
        {"judge/out.py": "from ..side import x\n"},
        "small/judge/out.py:1: judge may not import side",
    ),
    "a relative import of a room": (
        {"judge/__init__.py": "from .. import side\n"},
        "small/judge/__init__.py:1: judge may not import side",
    ),
    "the package imports past its door": (
        {"__init__.py": "from .judge import grades\n"},
        "small/__init__.py:1: the package itself may not import judge",
    ),
    "the package imported as a whole": (
        {"side/whole.py": "from small import start\n"},
        "small/side/whole.py:1: imports the package as a whole; name the room",
    ),
    "a folder that nobody placed": (
        {"attic/__init__.py": ""},
        "small/attic: nobody has placed this room among the doors",
    ),
    "a folder without an init that nobody placed": (
        {"attic/deep/trunk.py": ""},
        "small/attic: nobody has placed this room among the doors",
    ),
    "a module that nobody placed": (
        {"attic.py": ""},
        "small/attic.py: nobody has placed this room among the doors",
    ),
    "a library in a second room": (
        {"front/task.py": "from yaml import compose\n"},
        "small/front/task.py:1: front may not import the library yaml",
    ),
    "a library that stands in no table": (
        {"side/x.py": "import requests.api\n"},
        "small/side/x.py:1: side may not import the library requests",
    ),
    "the disk in a pure room": (
        {"judge/x.py": "import os.path\n"},
        "small/judge/x.py:1: judge is pure and may not import os.path",
    ),
    "a path in a pure room": (
        {"judge/x.py": "from pathlib import Path\n"},
        "small/judge/x.py:1: judge is pure and may not import pathlib.Path",
    ),
    "the clock in a pure room": (
        {"judge/x.py": "import datetime\nd = datetime.date.today()\n"},
        "small/judge/x.py:2: judge is pure and may not call today",
    ),
    "a file opened in a pure room": (
        {"judge/x.py": "text = open('x').read()\n"},
        "small/judge/x.py:1: judge is pure and may not call open",
    ),
    "a refused module": (
        {"front/x.py": "import socket\n"},
        "small/front/x.py:1: front may not import socket",
    ),
    "a refused module by its inner name": (
        {"front/x.py": "from http.client import HTTPConnection\n"},
        "small/front/x.py:1: front may not import http.client",
    ),
    "a refused module taken from its package": (
        {"front/x.py": "from http import client\n"},
        "small/front/x.py:1: front may not import http.client",
    ),
    "an import by a name made at run time": (
        {"front/x.py": "import importlib\nimportlib.import_module('small.' + 'x')\n"},
        "small/front/x.py:2: imports by a name made at run time",
    ),
    "an import for the type checker alone": (
        {"stone.py": "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    pass\n"},
        "small/stone.py:2: an import for the type checker alone hides a circle",
    ),
    "the type checker's flag by its full name": (
        {"stone.py": "import typing as t\nif t.TYPE_CHECKING:\n    pass\n"},
        "small/stone.py:2: an import for the type checker alone hides a circle",
    ),
    "a module as long as nobody reads": (
        {"stone.py": "x = 1\n" * 401},
        "small/stone.py: 401 lines, over 400",
    ),
    "a module whose name tells nothing": (
        {"front/helpers.py": ""},
        "small/front/helpers.py: the name tells a newcomer nothing",
    ),
    "a folder whose name tells nothing": (
        {"front/common/x.py": ""},
        "small/front/common/x.py: the name tells a newcomer nothing",
    ),
}


def _make_package(folder: Path, files: dict[str, str]) -> Path:
    for name, text in files.items():
        path = folder / "small" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder / "small"


def test_a_sound_package_has_no_faults(tmp_path: Path) -> None:
    package = _make_package(tmp_path, SOUND)

    assert find_faults(package, SMALL_DOORS) == ()
    assert find_unused(package, SMALL_DOORS) == ()


@pytest.mark.parametrize("violation", VIOLATIONS)
def test_each_violation_is_named_alone(tmp_path: Path, violation: str) -> None:
    changed, fault = VIOLATIONS[violation]
    package = _make_package(tmp_path, SOUND | changed)

    assert find_faults(package, SMALL_DOORS) == (fault,)


def test_modules_in_a_circle_inside_one_room_are_named(tmp_path: Path) -> None:
    circle = {"judge/weights.py": "def f():\n    from small.judge.grades import x\n"}
    package = _make_package(tmp_path, SOUND | circle)

    (fault,) = find_faults(package, SMALL_DOORS)

    assert "modules in a circle" in fault
    assert "small.judge.weights" in fault
    assert "small.judge.grades" in fault


def test_a_library_that_its_room_no_longer_imports_is_named(tmp_path: Path) -> None:
    package = _make_package(tmp_path, SOUND | {"side/__init__.py": ""})

    assert find_unused(package, SMALL_DOORS) == ("side does not import yaml",)
