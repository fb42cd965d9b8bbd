"""Whether originals are still what was received: FIPS 180-4 vectors, pointers, flipped bits, and what is remembered."""

import hashlib
import os
import random
import time
from dataclasses import replace
from pathlib import Path

import pytest
from tracing import trace

from provenance.records.dates import parse_edtf
from provenance.records.sources import OriginalFile, Source
from provenance.store.fixity import FixityState, SeenFiles, check_fixity, open_regular, pointed_digest, sha256_of

SCAN = b"the bytes of a scan " * 200
# Git LFS Specification, docs/spec.md of git-lfs, "The Pointer": three lines, each ended by a line feed.
POINTER = "version https://git-lfs.github.com/spec/v1\noid sha256:{}\nsize {}\n"


def digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def an_original(path: str = "originals/scan-1/scan.jpg", data: bytes = SCAN) -> OriginalFile:
    return OriginalFile(path=path, sha256=digest(data), size=len(data), media_type="image/jpeg")


def a_source(*files: OriginalFile, identity: str = "scan-1") -> Source:
    return Source(id=identity, title="A scan", by="mh", date=parse_edtf("2024-05-01"), files=files or (an_original(),))


def lay(folder: Path, data: bytes, path: str = "originals/scan-1/scan.jpg") -> Path:
    place = folder / path
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_bytes(data)
    return place


def state_of(folder: Path, *, read: bool = True) -> FixityState:
    (finding,) = check_fixity(folder, [a_source()], read=read)
    return finding.state


@pytest.mark.parametrize(
    ("message", "expected"),
    [
        # FIPS 180-4; the worked examples for SHA-256 are in NIST's "SHA256.pdf" of the Cryptographic Standards and
        # Guidelines examples: "abc" (one block) and the 448-bit message (two blocks).
        (b"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
        (
            b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
        ),
        # A million times "a": RFC 6234, 8.5 (test 3 of SHA-256).
        (b"a" * 1_000_000, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"),
    ],
)
def test_digests_are_those_of_the_published_standard(tmp_path: Path, message: bytes, expected: str) -> None:
    path = lay(tmp_path, message)

    assert sha256_of(path) == expected


def test_an_original_as_received_is_present(tmp_path: Path) -> None:
    lay(tmp_path, SCAN)

    assert state_of(tmp_path) is FixityState.PRESENT


def test_every_one_of_five_hundred_flipped_bits_is_found(tmp_path: Path) -> None:
    place = lay(tmp_path, SCAN)
    flips = random.Random(1934)
    found = []

    for _ in range(500):
        damaged = bytearray(SCAN)
        damaged[flips.randrange(len(damaged))] ^= 1 << flips.randrange(8)
        place.write_bytes(damaged)
        found.append(state_of(tmp_path))

    assert found == [FixityState.CHANGED] * 500


def test_an_original_cut_short_has_the_wrong_size(tmp_path: Path) -> None:
    lay(tmp_path, SCAN[:1000])

    (finding,) = check_fixity(tmp_path, [a_source()])

    assert (finding.state, finding.is_broken) == (FixityState.WRONG_SIZE, True)
    assert finding.why == "it has 1,000 bytes; 4,000 were received"


def test_an_original_that_was_not_fetched_is_not_here_and_not_broken(tmp_path: Path) -> None:
    (finding,) = check_fixity(tmp_path, [a_source()])

    assert (finding.state, finding.is_broken) == (FixityState.NOT_HERE, False)


@pytest.mark.parametrize("read", [True, False])
def test_a_large_file_pointer_stands_for_an_original_that_is_not_here(tmp_path: Path, *, read: bool) -> None:
    lay(tmp_path, POINTER.format(digest(SCAN), len(SCAN)).encode())

    (finding,) = check_fixity(tmp_path, [a_source()], read=read)

    assert finding.state is FixityState.NOT_HERE
    assert "only the large-file pointer is here" in finding.why


def test_a_large_file_pointer_to_other_bytes_is_a_changed_original(tmp_path: Path) -> None:
    lay(tmp_path, POINTER.format(digest(b"another scan"), 12).encode())

    assert state_of(tmp_path, read=False) is FixityState.CHANGED


def test_an_original_that_is_itself_a_pointer_text_is_no_pointer(tmp_path: Path) -> None:
    # A page about large-file pointers, received as a source: its bytes are what the record says.
    text = POINTER.format(digest(SCAN), len(SCAN)).encode()
    lay(tmp_path, text)

    (finding,) = check_fixity(tmp_path, [a_source(an_original(data=text))])

    assert finding.state is FixityState.PRESENT


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (POINTER.format("a" * 64, 5), "a" * 64),
        (POINTER.format("a" * 64, 5).replace("\n", "\r\n"), "a" * 64),
        (POINTER.format("a" * 63, 5), None),
        ("see " + POINTER.format("a" * 64, 5), None),
        (POINTER.format("a" * 64, 5) + "x" * 1024, None),
        ("", None),
    ],
)
def test_a_pointer_is_known_by_its_content(text: str, expected: str | None) -> None:
    assert pointed_digest(text.encode()) == expected


def test_without_reading_only_presence_is_looked_at(tmp_path: Path) -> None:
    place = lay(tmp_path, SCAN.replace(b"scan", b"pram"))

    changed = state_of(tmp_path, read=False)
    place.unlink()
    gone = state_of(tmp_path, read=False)

    assert (changed, gone) == (FixityState.PRESENT, FixityState.NOT_HERE)


def test_a_path_that_leads_out_of_the_archive_is_not_looked_at(tmp_path: Path) -> None:
    archive = tmp_path / "archive"
    archive.mkdir()
    lay(tmp_path, SCAN, "outside.jpg")
    outside = a_source(an_original("../outside.jpg"), an_original(str(tmp_path / "outside.jpg")))

    findings = check_fixity(archive, [outside])

    assert [finding.state for finding in findings] == [FixityState.NOT_HERE] * 2
    assert "leads out of the archive" in findings[0].why


def test_a_link_or_a_pipe_in_the_place_of_an_original_is_not_read(tmp_path: Path) -> None:
    lay(tmp_path, SCAN, "originals/scan-2/scan.jpg")
    (tmp_path / "originals/scan-1").mkdir()
    (tmp_path / "originals/scan-1/link.jpg").symlink_to("../scan-2/scan.jpg")
    os.mkfifo(tmp_path / "originals/scan-1/pipe.jpg")
    source = a_source(an_original("originals/scan-1/link.jpg"), an_original("originals/scan-1/pipe.jpg"))

    link, pipe = check_fixity(tmp_path, [source])

    assert (link.state, link.why) == (FixityState.UNREADABLE, "it cannot be opened: it is a link")
    assert (pipe.state, pipe.why) == (FixityState.UNREADABLE, "it cannot be opened: it is not a regular file")
    assert link.is_broken


def test_a_disk_fault_while_reading_is_an_unreadable_original(tmp_path: Path) -> None:
    lay(tmp_path, SCAN)
    # /proc/self/mem opens as a regular file and answers EIO at its start: a real read error without a broken disk.
    (tmp_path / "originals/scan-1/scan.jpg").unlink()
    folder = Path("/proc/self")
    file = replace(an_original("mem"), size=0)

    (finding,) = check_fixity(folder, [a_source(file)])

    assert finding.state is FixityState.UNREADABLE
    assert "it cannot be read: Input/output error" in finding.why


def test_findings_come_in_order_of_source_and_then_as_listed(tmp_path: Path) -> None:
    first = a_source(an_original("originals/a/2.jpg"), an_original("originals/a/1.jpg"), identity="a")
    second = a_source(an_original("originals/b/1.jpg"), identity="b")
    steps: list[tuple[int, int]] = []

    findings = check_fixity(tmp_path, [second, first], on_progress=lambda done, total: steps.append((done, total)))

    assert [(each.source, each.path[-5:]) for each in findings] == [("a", "2.jpg"), ("a", "1.jpg"), ("b", "1.jpg")]
    assert steps == [(1, 3), (2, 3), (3, 3)]


def aged(path: Path, seconds: int = 60) -> Path:
    before = time.time_ns() - seconds * 1_000_000_000
    os.utime(path, ns=(before, before))
    return path


def test_an_unchanged_file_is_not_digested_again(tmp_path: Path) -> None:
    code = """
import sys
from pathlib import Path
from provenance.store.fixity import SeenFiles
seen = SeenFiles(Path(sys.argv[1]))
print(seen.digest_of(Path(sys.argv[2])))
seen.save()
"""
    find = aged(lay(tmp_path, SCAN, "find.jpg"))

    runs = [trace(code, tmp_path, find, calls="openat", log=tmp_path / f"calls-{n}") for n in (1, 2)]

    assert [run.stdout.strip() for run in runs] == [digest(SCAN)] * 2
    assert "find.jpg" in (tmp_path / "calls-1").read_text()
    assert "find.jpg" not in (tmp_path / "calls-2").read_text()


@pytest.mark.parametrize("change", ["size", "time", "inode"])
def test_a_file_with_another_size_time_or_inode_is_digested_again(tmp_path: Path, change: str) -> None:
    find = aged(lay(tmp_path, SCAN, "find.jpg"))
    seen = SeenFiles(tmp_path)
    seen.digest_of(find)
    seen.save()
    other = SCAN.replace(b"scan", b"pram") + (b"!" if change == "size" else b"")
    times = find.stat()

    if change == "inode":
        find.unlink()
        lay(tmp_path, b"", "in-between")
    find.write_bytes(other)
    if change != "time":
        os.utime(find, ns=(times.st_atime_ns, times.st_mtime_ns))

    assert SeenFiles(tmp_path).digest_of(find) == digest(other)


def test_a_file_that_was_changed_just_now_is_not_remembered(tmp_path: Path) -> None:
    find = lay(tmp_path, SCAN, "find.jpg")
    seen = SeenFiles(tmp_path)

    seen.digest_of(find)
    seen.save()

    assert not (tmp_path / ".derived").exists()


@pytest.mark.parametrize("damage", [b"{", b"[1]", b'{"a": [1, 2]}', b'{"a": 5}', b"\xff"])
def test_a_damaged_memory_is_an_empty_one(tmp_path: Path, damage: bytes) -> None:
    lay(tmp_path, damage, ".derived/seen-files.json")

    assert SeenFiles(tmp_path).digest_of(lay(tmp_path, SCAN, "find.jpg")) == digest(SCAN)


def test_a_name_that_is_no_unicode_is_remembered_like_any_other(tmp_path: Path) -> None:
    find = tmp_path / os.fsdecode(b"caf\xe9.jpg")
    find.write_bytes(SCAN)
    seen = SeenFiles(tmp_path)

    seen.digest_of(aged(find))
    seen.save()

    assert SeenFiles(tmp_path).digest_of(find) == digest(SCAN)


def test_a_folder_is_no_original(tmp_path: Path) -> None:
    with pytest.raises(OSError, match="it is not a regular file"):
        open_regular(tmp_path)
