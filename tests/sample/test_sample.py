"""The sample archive: its bytes, how hard its handbook is to read, and what its features rest on."""

import hashlib
import shutil
import statistics
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pypdfium2
import pytesseract
import pytest
import yaml
from rapidfuzz.distance import Levenshtein

from provenance import open_archive
from provenance.reports.evidence import FeatureEvidence
from provenance.rules.verdicts import Grade
from sample import letters

_SAMPLE = Path(__file__).resolve().parents[2] / "sample_archive"
_ARCHIVE = _SAMPLE / "archive"
_HANDBOOK = _ARCHIVE / "originals" / "handbook-1933" / "rail-cars-handbook.pdf"
_TRUTH = Path(__file__).resolve().parent / "truth" / "handbook-1933"
_PAGES = range(1, 13)
_PLATE = 9


def _read(path: Path) -> Any:
    return yaml.safe_load(path.read_text(encoding="utf-8"))


def _sources() -> dict[str, Any]:
    return {path.stem: _read(path) for path in sorted((_ARCHIVE / "sources").glob("*.yaml"))}


@cache
def _expected() -> Any:
    return _read(_SAMPLE / "expected.yaml")


@pytest.fixture(scope="module")
def judged(tmp_path_factory: pytest.TempPathFactory) -> dict[str, FeatureEvidence]:
    """What a copy of the sample answers, by feature."""
    copied = tmp_path_factory.mktemp("sample") / "archive"
    shutil.copytree(_ARCHIVE, copied, ignore=shutil.ignore_patterns(".derived"))
    opened = open_archive(copied)
    components = sorted({name.split("/")[0] for name in _expected()["features"]})
    found = [feature for name in components for feature in opened.evidence(name).features]
    return {feature.verdict.feature: feature for feature in found}


def _words(text: str) -> str:
    return " ".join(text.split())


@cache
def _character_errors(page: int) -> float:
    """Share of characters that plain Tesseract gets wrong: edits to the true text, over its length."""
    with pypdfium2.PdfDocument(_HANDBOOK) as document:
        picture = document[page - 1].render(scale=200 / 72).to_pil().convert("L")
    read = _words(pytesseract.image_to_string(picture, lang="eng", config="--psm 3 --dpi 200"))
    true = _words((_TRUTH / f"p{page:04}.txt").read_text(encoding="utf-8"))
    return Levenshtein.distance(true, read) / len(true)


def test_every_original_has_the_bytes_that_its_record_says() -> None:
    files = [file for source in _sources().values() for file in source.get("files", [])]

    found = [(_ARCHIVE / file["path"]).read_bytes() for file in files]

    assert [hashlib.sha256(content).hexdigest() for content in found] == [file["sha256"] for file in files]
    assert [len(content) for content in found] == [int(file["bytes"]) for file in files]


def test_every_file_among_the_originals_belongs_to_a_record() -> None:
    recorded = {file["path"] for source in _sources().values() for file in source.get("files", [])}

    stored = {path.relative_to(_ARCHIVE).as_posix() for path in (_ARCHIVE / "originals").rglob("*") if path.is_file()}

    assert stored == recorded


def test_the_whole_sample_stays_under_fifteen_megabytes() -> None:
    total = sum(path.stat().st_size for path in _SAMPLE.rglob("*") if path.is_file() and ".derived" not in path.parts)

    assert total < 15_000_000


def test_one_original_cannot_be_read() -> None:
    broken = (_ARCHIVE / "originals" / "photo-turntable" / "turntable.jpg").read_bytes()

    # A JPEG ends with the marker EOI, FF D9 (ITU-T T.81, B.1.1.3).
    assert broken.startswith(b"\xff\xd8")
    assert not broken.endswith(b"\xff\xd9")


def test_a_page_of_the_handbook_is_neither_clean_nor_hopeless() -> None:
    errors = _character_errors(5)

    assert 0.01 <= errors <= 0.08


@pytest.mark.long
def test_plain_recognition_gets_one_to_eight_characters_in_a_hundred_of_the_handbook_wrong() -> None:
    rates = [_character_errors(page) for page in _PAGES]

    assert 0.01 <= statistics.median(rates) <= 0.08
    assert max(rate for page, rate in zip(_PAGES, rates, strict=True) if page != _PLATE) <= 0.09


def test_every_quotation_from_the_handbook_stands_on_its_page() -> None:
    claims = [_read(path) for path in sorted((_ARCHIVE / "claims").glob("*.yaml"))]
    items = [item for claim in claims for item in claim["evidence"] if item["source"] == "handbook-1933"]

    missing = [
        item["quote"]
        for item in items
        if item["quote"] not in _words((_TRUTH / f"p{item['at']['page']:04}.txt").read_text(encoding="utf-8"))
    ]

    assert len(items) >= 10
    assert missing == []


def test_every_quotation_from_a_letter_was_typed_in_it() -> None:
    typed = {
        "letter-1933-02-14": letters.OFFER,
        "letter-1933-06-20": letters.COUPLING,
        "letter-1962-10-08": letters.LEDGER,
    }
    claims = [_read(path) for path in sorted((_ARCHIVE / "claims").glob("*.yaml"))]
    items = [item for claim in claims for item in claim["evidence"] if item["source"] in typed]

    missing = [
        item["quote"]
        for item in items
        if item["quote"] not in _words(" ".join(typed[item["source"]].lines)).replace("~", "")
    ]

    assert len(items) >= 5
    assert missing == []


def test_every_feature_of_the_sample_has_an_expectation() -> None:
    components = [(path.stem, _read(path)) for path in sorted((_ARCHIVE / "components").glob("*.yaml"))]

    features = {f"{name}/{feature['id']}" for name, record in components for feature in record.get("features", [])}

    assert features == set(_expected()["features"])


def test_every_grade_occurs_for_an_honest_reason() -> None:
    features = _expected()["features"].values()

    grades = {feature["grade"] for feature in features}

    assert grades == {
        "established",
        "probable",
        "possible",
        "uncorroborated",
        "inferred",
        "contested",
        "unsupported",
    }
    assert any(feature["outweighed"] for feature in features)
    assert all(feature["why"] for feature in features)


@pytest.mark.parametrize("name", sorted(_expected()["features"]))
def test_the_verdict_is_the_one_worked_out_by_hand(name: str, judged: dict[str, FeatureEvidence]) -> None:
    expected = _expected()["features"][name]

    verdict = judged[name].verdict

    assert verdict.grade == expected["grade"]
    assert verdict.value == expected["value"]
    assert verdict.lines == expected["lines"]
    assert verdict.lines_if_ruled_out == expected.get("lines_if_ruled_out")
    assert verdict.posterior == pytest.approx(expected["chance"], abs=0.5e-4)
    assert (verdict.best.weight_for if verdict.best else 0) == pytest.approx(expected["weight"], abs=1.5e-3)


@pytest.mark.parametrize("name", sorted(_expected()["features"]))
def test_the_other_values_and_the_flags_are_those_worked_out_by_hand(
    name: str, judged: dict[str, FeatureEvidence]
) -> None:
    expected = _expected()["features"][name]

    verdict = judged[name].verdict
    others = {candidate.value: candidate.grade for candidate in verdict.candidates if candidate is not verdict.best}

    assert {value for value, grade in others.items() if grade is Grade.OUTWEIGHED} == set(expected["outweighed"])
    assert {value for value, grade in others.items() if grade is Grade.CONTESTED} == set(
        expected.get("contested_by", [])
    )
    assert list(verdict.rests_on) == expected.get("rests_on", [])
    assert set(judged[name].flags) == set(expected["flags"])


def test_the_sources_that_need_attention_are_flagged(tmp_path: Path) -> None:
    copied = tmp_path / "archive"
    shutil.copytree(_ARCHIVE, copied, ignore=shutil.ignore_patterns(".derived"))
    opened = open_archive(copied)

    raised = {(flag.about, flag.flag) for flag in opened.flags(today=date(2026, 11, 1)).flags}

    expected = {(source, flag) for source, flags in _expected()["sources"].items() for flag in flags}
    assert expected - {("photo-turntable", "unread-page")} <= raised
