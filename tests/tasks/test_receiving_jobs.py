"""Files taken in while the pages go on: one work at a time, told as it goes, ended when asked, nothing left over."""

import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any, cast

import pytest
from tasks.team import TODAY, a_scan, a_team_archive, a_text
from web.writing_client import state_of_records

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.reports.receipts import Fate, Receipt, ReceiptState
from provenance.tasks import receiving_jobs
from provenance.tasks.arriving import Tray
from provenance.tasks.batches import Batch
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.receiving_jobs import Order, ReceivingJobs

SURELY_DONE = 120.0


@pytest.fixture
def opened(tmp_path: Path) -> Opened:
    return a_team_archive(tmp_path)


@pytest.fixture
def jobs(opened: Opened) -> Iterator[ReceivingJobs]:
    made = ReceivingJobs(opened.folder)
    yield made
    made.end(patience=SURELY_DONE)


def a_tray(opened: Opened, files: dict[str, bytes]) -> Tray:
    tray = Tray(opened.folder)
    for name, data in files.items():
        file = tray.begin(name)
        file.write(data)
        tray.keep(file)
    return tray


def order_of(tray: Tray, batch: Batch | None = None) -> Order:
    names = {each.path: each.name for each in tray.files}
    said = replace(batch or Batch(), names=names)
    return Order(paths=tuple(names), batch=said, by="mh", today=TODAY, arrived=tray.files)


def wait_for(jobs: ReceivingJobs, receipt: str, is_so: Callable[[Receipt], bool]) -> Receipt:
    """Look until something is so: how long that takes is not told beforehand."""
    ends = time.monotonic() + SURELY_DONE
    while time.monotonic() < ends:
        found = jobs.receipt(receipt)
        assert found is not None
        if is_so(found):
            return found
        time.sleep(0.01)
    raise AssertionError(found)


def done(jobs: ReceivingJobs, receipt: str) -> Receipt:
    return wait_for(jobs, receipt, lambda each: each.has_ended)


def fates(receipt: Receipt) -> list[tuple[str, Fate]]:
    return [(line.name, line.fate) for line in receipt.lines]


def test_the_records_are_those_of_the_same_files_taken_in_from_a_folder(
    opened: Opened, jobs: ReceivingJobs, tmp_path: Path
) -> None:
    twin = a_team_archive(tmp_path / "twin")
    files = {"scan10.txt": b"page ten\n", "scan2.txt": b"page two\n", "Brief \xfc.txt": b"a letter\n"}
    files |= {"notes.md": b"# Notes\n\nof steel\n", "plan.pdf": b"not found\n", "odd": b"no ending\n"}
    for name, data in files.items():
        a_text(tmp_path / "in" / name, data.decode())
    tin = Batch(lot="tin", giver="R. Starrick", rights="InC", access="closed")
    tray = a_tray(opened, files)

    receipt = done(jobs, jobs.begin(opened, order_of(tray, tin), tray).receipt)

    ingest(twin, [tmp_path / "in"], by="mh", today=TODAY, batch=tin)
    assert state_of_records(opened.folder) == state_of_records(twin.folder)
    assert receipt.state is ReceiptState.DONE
    told = {line.name: (line.fate, line.why) for line in receipt.lines}
    assert told["notes.md"] == (Fate.NEW, "")
    assert told["plan.pdf"][0] is Fate.UNREAD
    assert told["plan.pdf"][1].startswith("plan.pdf is named like application/pdf and holds text")
    assert receipt.pages_read == 5
    assert not tray.path.exists()


def test_two_sides_that_lay_in_one_folder_are_one_source_named_after_it(opened: Opened, jobs: ReceivingJobs) -> None:
    tray = a_tray(opened, {"Postcard 7/back.txt": b"greetings\n", "Postcard 7/front.txt": b"the car\n"})
    names = {each.path: each.name for each in tray.files}
    order = Order(paths=tuple(names), batch=Batch(names=names, together=True), by="mh", today=TODAY, arrived=tray.files)

    receipt = done(jobs, jobs.begin(opened, order, tray).receipt)

    (source,) = {line.source for line in receipt.lines}
    record = open_folder(opened.folder).archive.sources[source or ""]
    assert record.title == "Postcard 7"
    assert [Path(file.path).name for file in record.files] == ["front.txt", "back.txt"]


def test_bytes_that_are_held_are_told_at_once_with_their_source(opened: Opened, jobs: ReceivingJobs) -> None:
    first = a_tray(opened, {"letter.txt": b"the bracket\n"})
    source = done(jobs, jobs.begin(opened, order_of(first), first).receipt).sources[0]
    again = a_tray(opened, {"copy of letter.txt": b"the bracket\n", "new.txt": b"another\n"})

    begun = jobs.begin(open_folder(opened.folder), order_of(again), again).receipt
    at_once = jobs.receipt(begun)

    assert at_once is not None
    assert at_once.lines[0].source == source
    ended = done(jobs, begun)
    assert fates(ended) == [("copy of letter.txt", Fate.KNOWN), ("new.txt", Fate.NEW)]
    assert "the new name is noted in its record" in ended.lines[0].why


def test_a_file_that_cannot_be_read_is_kept_and_told_and_stops_no_other(opened: Opened, jobs: ReceivingJobs) -> None:
    tray = a_tray(opened, {"torn.png": b"\x89PNG\r\n\x1a\n and no more", "letter.txt": b"sound\n"})

    receipt = done(jobs, jobs.begin(opened, order_of(tray), tray).receipt)

    assert fates(receipt) == [("torn.png", Fate.UNREAD), ("letter.txt", Fate.NEW)]
    assert receipt.lines[0].why
    assert receipt.lines[0].source in open_folder(opened.folder).archive.sources


@pytest.mark.long
def test_one_is_taken_in_at_a_time_and_the_next_says_that_it_waits(opened: Opened, jobs: ReceivingJobs) -> None:
    trays = [a_tray(opened, {f"{n}.txt": f"letter {n}\n".encode() for n in range(k, k + 3)}) for k in (0, 3, 6)]

    begun = [jobs.begin(opened, order_of(tray), tray).receipt for tray in trays]
    last = jobs.receipt(begun[2])

    assert last is not None
    assert (last.state, last.ahead) == (ReceiptState.WAITING, 2)
    assert [done(jobs, each).state for each in begun] == [ReceiptState.DONE] * 3
    assert [each.id for each in jobs.receipts()] == begun[::-1]


def test_one_that_waits_is_taken_back_and_nothing_of_it_is_written(opened: Opened, jobs: ReceivingJobs) -> None:
    first, second = (a_tray(opened, {name: name.encode()}) for name in ("one.txt", "two.txt"))
    jobs.begin(opened, order_of(first), first)
    begun = jobs.begin(opened, order_of(second), second).receipt

    jobs.stop(begun)

    receipt = done(jobs, begun)
    assert receipt.state is ReceiptState.STOPPED
    assert fates(receipt) == [("two.txt", Fate.LEFT)]
    assert not second.path.exists()


@pytest.mark.long
def test_one_at_work_ends_when_asked_and_goes_on_with_the_rest_later(
    opened: Opened, jobs: ReceivingJobs, tmp_path: Path
) -> None:
    scans = {f"scan{n}.png": a_scan(tmp_path / f"{n}.png", (f"PAGE {n}", "of the book")).read_bytes() for n in range(4)}
    tray = a_tray(opened, scans)
    begun = jobs.begin(opened, order_of(tray), tray).receipt
    wait_for(jobs, begun, lambda each: each.step == "reading")

    jobs.stop(begun)
    stopped = done(jobs, begun)

    assert stopped.state is ReceiptState.STOPPED
    assert {line.fate for line in stopped.lines} == {Fate.NEW}
    assert not tray.path.exists()
    read_before = len(list((opened.folder / ".derived" / "readings").rglob("p*.json")))
    assert read_before < 4
    before = state_of_records(opened.folder)
    further = done(jobs, jobs.go_on(open_folder(opened.folder), begun, by="mh", today=TODAY).receipt)
    assert further.state is ReceiptState.DONE
    assert further.pages_read == 4 - read_before
    assert {name: digest for name, digest in state_of_records(opened.folder).items() if name in before} == before


def test_a_stopped_server_ends_what_is_under_way_and_takes_nothing_more(opened: Opened, jobs: ReceivingJobs) -> None:
    trays = [a_tray(opened, {f"{name}.txt": name.encode()}) for name in ("one", "two", "three")]
    begun = [jobs.begin(opened, order_of(tray), tray).receipt for tray in trays[:2]]

    jobs.end(patience=SURELY_DONE)

    assert all(receipt.has_ended for receipt in jobs.receipts())
    assert done(jobs, begun[1]).state is ReceiptState.STOPPED
    assert not any(tray.path.exists() for tray in trays[:2])
    with pytest.raises(UsageRefusedError, match="being stopped"):
        jobs.begin(opened, order_of(trays[2]), trays[2])
    trays[2].close()


@pytest.mark.parametrize(
    ("changed", "what"),
    [
        ({"batch": Batch(access="secret")}, "access"),
        ({"by": "xx"}, "xx"),
        ({"today": "yesterday"}, "yesterday"),
        ({"paths": ()}, "no file was chosen"),
    ],
)
def test_what_cannot_be_said_is_refused_before_anything_is_begun(
    opened: Opened, jobs: ReceivingJobs, changed: dict[str, Any], what: str
) -> None:
    tray = a_tray(opened, {"a.txt": b"a"})

    with pytest.raises(UsageRefusedError, match=what):
        jobs.begin(opened, replace(order_of(tray), **changed), tray)

    assert jobs.receipts() == ()
    assert tray.path.exists()
    tray.close()


def test_a_work_that_cannot_be_done_says_why_and_the_next_is_done(
    opened: Opened, jobs: ReceivingJobs, tmp_path: Path
) -> None:
    gone = Order(paths=(tmp_path / "gone",), batch=Batch(), by="mh", today=TODAY, folder=str(tmp_path / "gone"))
    tray = a_tray(opened, {"one.txt": b"one"})

    failed = done(jobs, jobs.begin(opened, gone).receipt)
    sound = done(jobs, jobs.begin(opened, order_of(tray), tray).receipt)

    assert failed.state is ReceiptState.FAILED
    assert "is not there" in failed.what
    assert failed.mend
    assert sound.state is ReceiptState.DONE


def test_a_fault_of_the_program_ends_one_work_and_not_the_next(
    opened: Opened, jobs: ReceivingJobs, caplog: pytest.LogCaptureFixture
) -> None:
    odd, sound = (a_tray(opened, {name: name.encode()}) for name in ("odd.txt", "sound.txt"))

    failed = done(jobs, jobs.begin(opened, replace(order_of(odd), paths=cast("Any", ("no path",))), odd).receipt)

    assert failed.state is ReceiptState.FAILED
    assert "by a fault of this program" in failed.what
    assert fates(failed) == [("odd.txt", Fate.LEFT)]
    assert "Traceback" in caplog.text
    assert done(jobs, jobs.begin(opened, order_of(sound), sound).receipt).state is ReceiptState.DONE


def test_an_archive_that_cannot_be_read_any_more_is_said_of_the_work(opened: Opened, jobs: ReceivingJobs) -> None:
    tray = a_tray(opened, {"letter.txt": b"a letter"})
    (opened.folder / "archive.yaml").unlink()

    failed = done(jobs, jobs.begin(opened, order_of(tray), tray).receipt)

    assert failed.state is ReceiptState.FAILED
    assert "archive.yaml" in failed.what
    assert fates(failed) == [("letter.txt", Fate.LEFT)]


def test_of_many_works_the_oldest_that_ended_are_forgotten(
    opened: Opened, jobs: ReceivingJobs, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(receiving_jobs, "_MOST_KEPT", 2)
    gone = Order(paths=(tmp_path / "gone",), batch=Batch(), by="mh", today=TODAY)

    begun = []
    for _ in range(4):
        begun.append(jobs.begin(opened, gone).receipt)
        done(jobs, begun[-1])

    assert [each.id for each in jobs.receipts()] == begun[:1:-1]
    assert jobs.receipt(begun[0]) is None


def test_a_folder_of_the_machine_is_taken_in_and_stays(opened: Opened, jobs: ReceivingJobs, tmp_path: Path) -> None:
    letter = a_text(tmp_path / "in" / "letter.txt", "the bracket\n")
    order = Order(paths=(tmp_path / "in",), batch=Batch(), by="mh", today=TODAY, folder=str(tmp_path / "in"))

    receipt = done(jobs, jobs.begin(opened, order).receipt)

    assert fates(receipt) == [(str(letter), Fate.NEW)]
    assert letter.exists()


def test_nothing_is_gone_on_with_that_is_not_known(opened: Opened, jobs: ReceivingJobs, tmp_path: Path) -> None:
    with pytest.raises(UnknownRecordError):
        jobs.go_on(opened, "nosuch", by="mh", today=TODAY)
    gone = Order(paths=(tmp_path / "gone",), batch=Batch(), by="mh", today=TODAY)
    begun = jobs.begin(opened, gone).receipt
    done(jobs, begun)
    with pytest.raises(UsageRefusedError, match="nothing was taken in"):
        jobs.go_on(opened, begun, by="mh", today=TODAY)
    jobs.stop("nosuch")
