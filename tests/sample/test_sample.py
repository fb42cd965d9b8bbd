"""The sample archive: its bytes, how hard its handbook is to read, and what its features rest on."""

import hashlib
import shutil
import statistics
from collections.abc import Sequence
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pytesseract
import pytest
import yaml
from PIL import Image, ImageOps
from rapidfuzz import fuzz
from rapidfuzz.distance import Levenshtein

from provenance import open_archive
from provenance.reports.evidence import FeatureEvidence
from provenance.rules.flags import ALL_FLAGS
from provenance.rules.grades import Grade
from provenance.tasks.flagging import raise_flags
from provenance.tasks.opening import open_folder
from provenance.tasks.rebuilding import rebuild
from sample import copied, details, drawings, letters, plain_texts, printed
from sample.setting import Block

_SAMPLE = Path(__file__).resolve().parents[2] / "sample_archive"
_ARCHIVE = _SAMPLE / "archive"
_TRUTH = Path(__file__).resolve().parent / "truth" / "handbook-1933"
_PAGES = range(1, 13)
_PLATE = 9
_LETTERS = {
    "letter-1933-02-14": letters.OFFER,
    "letter-1933-06-20": letters.COUPLING,
    "letter-1962-10-08": letters.LEDGER,
    "letter-1998-03-02": copied.CONFIDENCE,
}
_QUOTED = {
    "book-ellowby-1958",
    "book-marthen-1966",
    "cutting-1933",
    "day-book-copy",
    "drawing-30921-b",
    "drawing-30921-c",
    "handbook-1933",
    "newsletter-1987",
    "note-tank-2021",
    "oral-fennick-1991",
    "oral-sallowby-1974",
    "plate-no9",
    "report-fitters-1934",
    "survey-2019",
    *_LETTERS,
    *plain_texts.AXLE_NOTES,
}
# Laid on the scanner sideways, with its head at the left.
_SIDEWAYS = {"report-fitters-1934"}
# In hundredths: the few characters on the drawings are read worst, at 73.
_LIKE = 70
_PAPER = 190


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


def _cited() -> list[Any]:
    claims = [_read(path) for path in sorted((_ARCHIVE / "claims").glob("*.yaml"))]
    return [item for claim in claims for item in claim["evidence"]]


def _set_text(blocks: Sequence[Block]) -> str:
    return " ".join(block.text for block in blocks)


def _true_text(source: str, page: int) -> str:
    """What stands on a page: as it was set, typed or lettered, or in the file itself where that is text."""
    set_text = {
        "book-ellowby-1958": _set_text(printed.ELLOWBY),
        "book-marthen-1966": _set_text(printed.MARTHEN[page - 1]) if page <= len(printed.MARTHEN) else "",
        "cutting-1933": _set_text(printed.CUTTING),
        "newsletter-1987": _set_text(copied.NEWSLETTER),
        "report-fitters-1934": _set_text(copied.FITTERS),
        "oral-fennick-1991": plain_texts.RECOLLECTION,
        "drawing-30921-b": drawings.ISSUE_B.lettered,
        "drawing-30921-c": drawings.ISSUE_C.lettered,
        "plate-no9": " ".join(text for text, _, _ in details.PLATE),
        **{name: " ".join(letter.lines).replace("~", "") for name, letter in _LETTERS.items()},
    }
    if source == "handbook-1933":
        return (_TRUTH / f"p{page:04}.txt").read_text(encoding="utf-8")
    return set_text[source] if source in set_text else _text_of_file(source, page)


def _text_of_file(source: str, page: int) -> str:
    path = _original(source)
    if path.suffix != ".pdf":
        return path.read_text(encoding="utf-8")
    with pypdfium2.PdfDocument(path) as document:
        return str(document[page - 1].get_textpage().get_text_bounded())


def _original(source: str) -> Path:
    return _ARCHIVE / str(_sources()[source]["files"][0]["path"])


def _framed_words(source: str, at: Any) -> str:
    """What plain Tesseract reads within a region, and nothing beside it."""
    page = _page_picture(source, at["page"])
    left, top, width, height = (float(share) / 100 for share in at["region"].removeprefix("percent:").split(","))
    area = (left * page.width, top * page.height, (left + width) * page.width, (top + height) * page.height)
    cut = page.crop(area)
    upright = cut.transpose(Image.Transpose.ROTATE_270) if source in _SIDEWAYS else cut
    framed = ImageOps.expand(upright, 20, fill=_PAPER)
    return _words(pytesseract.image_to_string(framed, lang="eng", config="--psm 11 --dpi 200"))


def _page_picture(source: str, page: int) -> Image.Image:
    path = _original(source)
    if path.suffix != ".pdf":
        with Image.open(path) as opened:
            return opened.convert("L")
    with pypdfium2.PdfDocument(path) as document:
        picture: Image.Image = document[page - 1].render(scale=200 / 72).to_pil()
    return picture.convert("L")


@cache
def _character_errors(page: int) -> float:
    """Share of characters that plain Tesseract gets wrong: edits to the true text, over its length."""
    picture = _page_picture("handbook-1933", page)
    read = _words(pytesseract.image_to_string(picture, lang="eng", config="--psm 3 --dpi 200"))
    true = _words((_TRUTH / f"p{page:04}.txt").read_text(encoding="utf-8"))
    return Levenshtein.distance(true, read) / len(true)


def test_every_original_has_the_bytes_that_its_record_says() -> None:
    files = [file for source in _sources().values() for file in source.get("files", [])]

    found = [(_ARCHIVE / file["path"]).read_bytes() for file in files]

    assert [hashlib.sha256(content).hexdigest() for content in found] == [file["sha256"] for file in files]
    assert [len(content) for content in found] == [int(file["bytes"]) for file in files]


def test_what_came_as_plain_text_is_what_is_written_down_beside_this_test() -> None:
    written = {
        "day-book-copy": plain_texts.DAY_BOOK,
        "note-tank-2021": plain_texts.NOTE,
        "oral-sallowby-1974": plain_texts.TRANSCRIPT,
        **plain_texts.AXLE_NOTES,
    }

    stored = {source: _original(source).read_bytes() for source in written}

    assert stored == {source: text.encode() for source, text in written.items()}


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


def test_every_quotation_stands_in_what_was_typed_printed_or_written() -> None:
    quoted = [item for item in _cited() if "quote" in item]

    missing = [
        (item["source"], item["quote"])
        for item in quoted
        if item["quote"] not in _words(_true_text(item["source"], item["at"].get("page", 1)))
    ]

    assert {item["source"] for item in quoted} == _QUOTED
    assert missing == []


@pytest.mark.long
def test_every_region_that_is_quoted_frames_the_words() -> None:
    framed = [item for item in _cited() if "quote" in item and "region" in item["at"]]

    astray = [
        (item["source"], item["at"], item["quote"])
        for item in framed
        if fuzz.partial_ratio(item["quote"], _framed_words(item["source"], item["at"])) < _LIKE
    ]

    assert len(framed) >= 25
    assert astray == []


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


_MEASURED = {name: feature for name, feature in _expected()["features"].items() if "measure" in feature}


@pytest.mark.parametrize("name", sorted(_MEASURED))
def test_a_measure_is_known_as_closely_as_was_worked_out_by_hand(name: str, judged: dict[str, FeatureEvidence]) -> None:
    expected = _MEASURED[name]

    quantity = judged[name].verdict.quantity

    assert quantity is not None
    assert quantity.expanded == pytest.approx(expected["expanded"], abs=0.5e-3)
    assert quantity.degrees == expected.get("degrees")
    # A sum of squares of what decimals leave over; of one figure exactly 0.
    assert quantity.chi_square == (
        pytest.approx(expected["chi_square"], abs=1e-9) if "chi_square" in expected else None
    )


def test_every_measure_and_every_change_over_of_the_sample_has_its_arithmetic(
    judged: dict[str, FeatureEvidence],
) -> None:
    expected = _expected()["features"]

    measured = {name for name, found in judged.items() if found.verdict.quantity is not None}
    changed = {name for name, found in judged.items() if found.verdict.change_over is not None}

    assert measured == set(_MEASURED)
    assert changed == {name for name, feature in expected.items() if "change_over" in feature} == {"hand-brake/control"}


def test_the_hand_brake_changed_between_the_two_cars_that_the_day_book_speaks_of(
    judged: dict[str, FeatureEvidence],
) -> None:
    expected = _expected()["features"]["hand-brake/control"]

    change = judged["hand-brake/control"].verdict.change_over

    assert change is not None
    assert {"before": change.before.example, "after": change.after.example} == {
        "before": expected["change_over"]["before"],
        "after": expected["change_over"]["after"],
    }
    assert (change.before.value, change.after.value) == (expected["outweighed"][0], expected["value"])
    assert change.probability == pytest.approx(expected["change_over"]["probability"], abs=1e-12)


def test_the_tube_on_another_car_tells_of_electric_lamps_and_is_no_witness_beside_the_handbook(
    judged: dict[str, FeatureEvidence],
) -> None:
    best = judged["headlamp/illuminant"].verdict.best

    assert best is not None
    (told,) = [item for item in best.items if item.told_by and item.weight > 0]
    by_hand = [item for item in best.items if item.source == "handbook-1933"]

    assert told.source == "photo-no10-1935"
    # Of two options the sign is always with the one and never with the other: 10 log10(.95 / .05).
    assert told.weight == pytest.approx(12.788, abs=0.5e-3)
    assert told.how == "shows"
    assert told.counted
    assert [item.counted for item in by_hand] == [False]


def _about(group: str) -> set[tuple[str, str]]:
    return {(about, flag) for about, flags in _expected()[group].items() for flag in flags}


def _raised(folder: Path, rule: str | None = None) -> set[tuple[str, str]]:
    raised = raise_flags(open_folder(folder), today=date(2026, 11, 1), rule=rule).flags
    return {(flag.about, flag.flag) for flag in raised}


def _copy(to: Path) -> Path:
    return Path(shutil.copytree(_ARCHIVE, to / "archive", ignore=shutil.ignore_patterns(".derived")))


def test_the_sources_components_and_panels_that_need_attention_are_flagged(tmp_path: Path) -> None:
    copied_to = _copy(tmp_path)

    raised = _raised(copied_to)

    assert _about("sources") | _about("components") | _about("panels") <= raised


def test_the_lamps_of_the_saloon_that_are_built_never_went_with_what_electric_light_needs(tmp_path: Path) -> None:
    copied_to = _copy(tmp_path)

    raised = raise_flags(open_folder(copied_to), today=date(2026, 11, 1), rule="never-coexisted").flags

    (flag,) = raised
    assert flag.about == "saloon-lamp/kind"
    # Only statements, and only of Nos. 9 to 11, speak of these two; what was seen on a car sets no limit to others.
    assert set(flag.claims) == {"battery-voltage-12-volts", "conduit-bore-3-4-in", "saloon-lamp-kind-acetylene"}
    assert set(flag.sources) == {"handbook-1933", "newsletter-1987"}


def test_an_original_that_was_damaged_is_flagged(tmp_path: Path) -> None:
    copied_to = _copy(tmp_path)
    plate = copied_to / "originals" / "plate-no9" / "plate.jpg"
    content = bytearray(plate.read_bytes())
    content[5000] ^= 1

    plate.write_bytes(content)

    assert _raised(copied_to, "fixity-broken") == _about("damaged")


@pytest.mark.long
def test_a_quotation_that_was_hard_to_read_is_flagged_once_the_pages_have_been_read(tmp_path: Path) -> None:
    copied_to = _copy(tmp_path)

    rebuild(open_folder(copied_to))

    assert _about("read") <= _raised(copied_to, "doubtful-reading")
    assert _raised(copied_to, "unread-page") == {("photo-turntable", "unread-page")}


def test_every_flag_occurs_for_an_honest_reason() -> None:
    of_features = {flag for feature in _expected()["features"].values() for flag in feature["flags"]}

    of_records = {flag for group in ("sources", "components", "panels", "read", "damaged") for _, flag in _about(group)}

    assert of_features | of_records == set(ALL_FLAGS)


def test_every_claim_cites_a_page_a_region_a_time_or_words() -> None:
    cited = [(item["source"], set(item.get("at", {})) | ({"quote"} & set(item))) for item in _cited()]

    nowhere = [source for source, place in cited if not place]

    assert len(list((_ARCHIVE / "claims").glob("*.yaml"))) >= 45
    # A piece has no pages: it is looked at itself.
    assert nowhere == ["ventilator-no11"]


def test_the_inspection_cards_are_one_file_of_three_pages() -> None:
    with Image.open(_original("inspection-cards")) as opened:
        pages = getattr(opened, "n_frames", 1)

    assert pages == 3


def test_the_sheet_that_was_scanned_sideways_was_typed_out_word_for_word() -> None:
    typed = (_ARCHIVE / "transcripts" / "report-fitters-1934" / "p0001.txt").read_text(encoding="utf-8")

    picture = _page_picture("report-fitters-1934", 1)

    assert _words(typed.partition("\n\n")[2]) == _words(_set_text(copied.FITTERS).replace("|", " "))
    assert picture.height > picture.width


def test_the_second_print_and_the_crop_are_the_picture_that_their_records_say() -> None:
    first = _page_picture("photo-no9-carrowsea-1934", 1)

    cut = _page_picture("detail-lamps-carrowsea", 1)
    second = _page_picture("print-carrowsea-second", 1)

    assert _likeness(first.crop(_shares(first, 0.7, 0.56, 0.92, 0.92)), cut) > 0.95
    assert _likeness(first, second.crop((22, 22, second.width - 22, second.height - 22))) > 0.95
    assert _likeness(first, _page_picture("photo-no6-1931", 1)) < 0.95


def _shares(picture: Image.Image, *edges: float) -> tuple[float, float, float, float]:
    left, top, right, bottom = edges
    return left * picture.width, top * picture.height, right * picture.width, bottom * picture.height


def _likeness(one: Image.Image, other: Image.Image) -> float:
    """Pearson's correlation of two pictures' tones, both brought to one small size."""
    first, second = (np.asarray(picture.resize((120, 80)), dtype=np.float64).ravel() for picture in (one, other))
    return float(np.corrcoef(first, second)[0, 1])
