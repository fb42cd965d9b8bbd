"""PDFs that were made to do harm or are badly broken, opened and read in real workers under the real limits.

Each stands before a sound one: what it costs is its own page and no other.
"""

from collections.abc import Callable, Iterable
from pathlib import Path

import pikepdf
import pytest
from pages.hostile_pdfs import (
    CATALOG,
    FONT,
    ONE_PAGE,
    SQUARE,
    bomb,
    bomb_of_objects,
    deep_tree,
    drawn,
    loop_of_pages,
    nested_arrays,
    nested_beside,
    page,
    pages_of_text,
    self_reference,
    stream,
    unfolding,
    with_actions,
    write_pdf,
)
from tracing import named_calls, trace

from provenance.pages.identifying import OriginalFacts, identify
from provenance.pages.signatures import PDF
from provenance.reading.page_reading import PageJob, read_page
from provenance.records.readings import Origin, PageReading
from provenance.tasks.identifying_files import IDENTIFY_BYTES, IDENTIFY_SECONDS
from provenance.tasks.reading_pages import PAGE_BYTES, PAGE_SECONDS
from provenance.workers.outcomes import FaultKind, Outcome
from provenance.workers.running import run_in_workers

SENTENCE = "The lamp bracket stands on the headstock"


def identified(*paths: Path) -> dict[str, Outcome[Path, OriginalFacts]]:
    outcomes = run_in_workers(identify, paths, workers=1, seconds_each=IDENTIFY_SECONDS, memory_bytes=IDENTIFY_BYTES)
    return {outcome.job.name: outcome for outcome in outcomes}


def read(jobs: Iterable[tuple[Path, int]]) -> dict[tuple[str, int], Outcome[PageJob, PageReading]]:
    wanted = [PageJob(path=path, media_type=PDF, page=number) for path, number in jobs]
    outcomes = run_in_workers(read_page, wanted, workers=1, seconds_each=PAGE_SECONDS, memory_bytes=PAGE_BYTES)
    return {(outcome.job.path.name, outcome.job.page): outcome for outcome in outcomes}


def fault_of(outcome: Outcome[PageJob, PageReading]) -> tuple[FaultKind, str]:
    assert outcome.fault is not None, outcome
    return outcome.fault.kind, outcome.fault.what


def value_of(outcome: Outcome[PageJob, PageReading]) -> PageReading:
    assert outcome.value is not None, outcome
    return outcome.value


def read_before_a_sound_one(path: Path, pages: int = 1) -> list[Outcome[PageJob, PageReading]]:
    """Read the pages of a document, then that of a sound one by the same worker: it has to come out."""
    sound = write_pdf(path.with_name("sound.pdf"), *drawn())
    outcomes = read([*((path, number) for number in range(1, pages + 1)), (sound, 1)])
    assert value_of(outcomes.pop(("sound.pdf", 1))).text == SENTENCE
    return [outcomes[path.name, number] for number in range(1, pages + 1)]


def sound_pages(path: Path) -> int | None:
    """How many pages the worker finds in the file; None where it ends under it. A sound file after it comes out."""
    sound = write_pdf(path.with_name("sound.pdf"), *drawn())
    outcomes = identified(path, sound)
    assert outcomes["sound.pdf"].value == OriginalFacts(media_type=PDF, pages=1)
    facts = outcomes[path.name].value
    return facts.pages if facts else None


@pytest.mark.parametrize(
    "content", [b" ", pytest.param(b"0 0 m 9 9 l S\n", marks=pytest.mark.long)], ids=["nothing", "lines"]
)
def test_three_megabytes_that_unfold_to_gigabytes_cost_their_own_page(tmp_path: Path, content: bytes) -> None:
    path = bomb(tmp_path / "bomb.pdf", content=content)
    assert path.stat().st_size < 12_000_000

    assert sound_pages(path) == 1
    (outcome,) = read_before_a_sound_one(path)

    assert fault_of(outcome)[0] in {FaultKind.DIED, FaultKind.MEMORY}


def test_a_bomb_that_goes_off_when_the_document_is_opened_costs_its_own_file(tmp_path: Path) -> None:
    path = bomb_of_objects(tmp_path / "objects.pdf")

    assert sound_pages(path) is None


def test_a_page_tree_that_holds_itself_ends(tmp_path: Path) -> None:
    path = loop_of_pages(tmp_path / "loop.pdf")

    assert sound_pages(path) == 1
    (outcome,) = read_before_a_sound_one(path)

    assert fault_of(outcome) == (FaultKind.REFUSED, "page 1 of loop.pdf cannot be opened: damaged")


@pytest.mark.parametrize("make", [nested_arrays, deep_tree])
def test_what_is_nested_without_end_is_an_unread_page(tmp_path: Path, make: Callable[[Path], Path]) -> None:
    path = make(tmp_path / "nested.pdf")

    assert sound_pages(path) == 1
    (outcome,) = read_before_a_sound_one(path)

    assert fault_of(outcome) == (FaultKind.REFUSED, "page 1 of nested.pdf cannot be opened: damaged")


def test_a_page_that_carries_a_hundred_thousand_arrays_beside_its_text_is_read(tmp_path: Path) -> None:
    path = nested_beside(tmp_path / "beside.pdf")

    assert sound_pages(path) == 1
    (outcome,) = read_before_a_sound_one(path)

    assert value_of(outcome).text == SENTENCE


@pytest.mark.long
def test_an_object_that_is_a_reference_to_itself_ends(tmp_path: Path) -> None:
    path = self_reference(tmp_path / "circle.pdf")

    assert sound_pages(path) == 1
    (outcome,) = read_before_a_sound_one(path)

    assert "page 1 of circle.pdf comes out blank, and its content is damaged" in fault_of(outcome)[1]


def sheet(path: Path, box: bytes, more: bytes = b"") -> Path:
    """Write a page with this MediaBox, a line from corner to corner and nothing to read on it."""
    content = stream(b"0 0 m 14400 14400 l S")
    return write_pdf(path, CATALOG, ONE_PAGE, page(b"/MediaBox" + box + more + b"/Contents 4 0 R"), content)


@pytest.mark.parametrize(
    ("box", "more"),
    [(b"[0 0 14400 14400]", b""), (b"[0 0 1440 1440]", b"/UserUnit 10"), (b"[0 0 144 144]", b"/UserUnit 100")],
)
def test_a_sheet_of_two_hundred_inches_is_drawn_within_the_limits_however_it_states_its_size(
    tmp_path: Path, box: bytes, more: bytes
) -> None:
    path = sheet(tmp_path / "sheet.pdf", box, more)

    assert sound_pages(path) == 1
    (outcome,) = read_before_a_sound_one(path)

    # 36 million pixels are 6,000 by 6,000: 30 to each of 200 inches
    assert value_of(outcome).note == "a very large page, drawn at 30 dpi"


@pytest.mark.parametrize(
    "box", [b"[0 0 0 0]", b"[100 100 100 300]", b"[0 0 1e9 1e9]", b"[0 0 99999999999 9]", b"[(a)]"]
)
def test_a_page_without_a_size_is_read_as_the_engine_draws_it(tmp_path: Path, box: bytes) -> None:
    path = write_pdf(tmp_path / "odd.pdf", *drawn(box=b"/MediaBox" + box))

    assert sound_pages(path) == 1
    (outcome,) = read_before_a_sound_one(path)

    assert "headstock" in value_of(outcome).text


def test_a_page_whose_corners_are_named_the_other_way_round_is_read(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "turned.pdf", *drawn(box=b"/MediaBox[400 200 0 0]"))

    assert sound_pages(path) == 1
    (outcome,) = read_before_a_sound_one(path)

    assert value_of(outcome).text == SENTENCE


def test_a_document_whose_table_is_lost_is_mended_and_read(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "mended.pdf", *drawn(), has_table=False)

    assert sound_pages(path) == 1
    (outcome,) = read_before_a_sound_one(path)

    assert value_of(outcome).text == SENTENCE


def test_a_document_whose_table_points_nowhere_is_mended_and_read(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "mended.pdf", *drawn())
    whole = path.read_bytes()
    path.write_bytes(whole.replace(b" 00000 n", b"0 00000 n").replace(b"%PDF-1.7\n", b"%PDF-1.7\n%moved along\n"))

    assert sound_pages(path) == 1
    (outcome,) = read_before_a_sound_one(path)

    assert value_of(outcome).text == SENTENCE


def test_a_locked_document_costs_its_own_file(tmp_path: Path) -> None:
    write_pdf(tmp_path / "plain.pdf", *drawn())
    with pikepdf.open(tmp_path / "plain.pdf") as opened:
        opened.save(tmp_path / "locked.pdf", encryption=pikepdf.Encryption(owner="owner", user="open sesame"))

    assert sound_pages(tmp_path / "locked.pdf") is None


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.7, 0.9, 0.999])
def test_a_document_that_is_cut_short_is_read_or_refused(tmp_path: Path, share: float) -> None:
    path = pages_of_text(tmp_path / "cut.pdf", 3)
    path.write_bytes(path.read_bytes()[: int(path.stat().st_size * share)])

    pages = sound_pages(path)
    outcomes = read_before_a_sound_one(path, pages or 1)

    assert all(outcome.value is None or outcome.value.text == SENTENCE for outcome in outcomes)


def test_pages_that_one_reader_alone_finds_are_read_by_their_text(tmp_path: Path) -> None:
    path = pages_of_text(tmp_path / "fewer.pdf", 3, count=1)

    assert sound_pages(path) == 3
    first, second, third = (value_of(outcome) for outcome in read_before_a_sound_one(path, 3))

    assert first.origin is Origin.RECOGNISED
    assert "1 pages for one engine and 3 for another" in first.note
    assert (second.text, third.text) == (SENTENCE, SENTENCE)
    assert "it cannot be drawn, and was read by its text layer alone" in second.note


def test_pages_that_are_stated_and_not_there_are_unread_one_by_one(tmp_path: Path) -> None:
    path = pages_of_text(tmp_path / "more.pdf", 1, count=3)

    assert sound_pages(path) == 3
    first, second, third = read_before_a_sound_one(path, 3)

    assert value_of(first).origin is Origin.RECOGNISED
    assert fault_of(second)[1] == "page 2 of more.pdf cannot be opened: damaged"
    assert fault_of(third)[1] == "page 3 of more.pdf cannot be opened: damaged"


def test_a_page_that_no_reader_can_draw_and_that_has_no_text_is_unread(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "orphan.pdf", CATALOG, b"<</Type/Pages/Kids[]/Count 0>>", page())

    assert sound_pages(path) == 1
    (outcome,) = read_before_a_sound_one(path)

    assert fault_of(outcome)[0] is FaultKind.REFUSED


def test_a_page_outside_an_empty_tree_is_read_by_its_text(tmp_path: Path) -> None:
    lost = page(SQUARE + FONT + b"/Contents 4 0 R")
    path = write_pdf(tmp_path / "orphan.pdf", CATALOG, b"<</Type/Pages/Kids[]/Count 0>>", lost, drawn()[3])

    assert sound_pages(path) == 1
    (outcome,) = read_before_a_sound_one(path)

    assert value_of(outcome).text == SENTENCE


def test_a_page_whose_content_is_lost_is_never_taken_for_a_blank_one(tmp_path: Path) -> None:
    content = stream(b"\0\1 rot has been at this", b"/Filter/FlateDecode")
    path = write_pdf(tmp_path / "lost.pdf", CATALOG, ONE_PAGE, page(SQUARE + b"/Contents 4 0 R"), content)

    (outcome,) = read_before_a_sound_one(path)

    assert "page 1 of lost.pdf comes out blank, and its content is damaged" in fault_of(outcome)[1]


def test_what_a_document_would_start_when_it_is_opened_never_runs(tmp_path: Path) -> None:
    program = tmp_path / "program.sh"
    program.write_text(f"#!/bin/sh\ntouch '{tmp_path / 'ran'}'\n", encoding="utf-8")
    program.chmod(0o755)
    path = with_actions(tmp_path / "active.pdf", program)
    code = (
        "import sys; from pathlib import Path\n"
        "from provenance.pages.identifying import identify\n"
        "from provenance.reading.page_reading import PageJob, read_page\n"
        "path = Path(sys.argv[1]); facts = identify(path)\n"
        "print(read_page(PageJob(path=path, media_type=facts.media_type, page=1)).text)\n"
    )

    done = trace(code, path, calls="execve,connect,sendto", log=tmp_path / "log")

    assert done.stdout.strip() == SENTENCE, done.stderr
    assert named_calls(tmp_path / "log") == ["execve"]  # of Python itself
    assert not (tmp_path / "ran").exists()


@pytest.mark.long
def test_a_picture_that_unfolds_to_gigabytes_costs_its_own_page(tmp_path: Path) -> None:
    side = b"/Width 50000/Height 50000/BitsPerComponent 8/ColorSpace/DeviceRGB/Filter/FlateDecode"
    image = stream(unfolding(7_500_000_000, b"\0"), b"/Type/XObject/Subtype/Image" + side)
    shown = page(SQUARE + b"/Resources<</XObject<</I 5 0 R>>>>/Contents 4 0 R")
    path = write_pdf(tmp_path / "image.pdf", CATALOG, ONE_PAGE, shown, stream(b"400 0 0 200 0 0 cm /I Do"), image)

    assert sound_pages(path) == 1
    (outcome,) = read_before_a_sound_one(path)

    assert fault_of(outcome)[0] in {FaultKind.DIED, FaultKind.MEMORY, FaultKind.REFUSED}
