"""Names that are safe everywhere, and ids that are the same for the same file anywhere."""

import os
import random
import re
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.store.naming import natural_key, received_name, slug, source_id, stored_name
from provenance.store.record_kinds import is_record_id

# As Microsoft lists them in "Naming Files, Paths, and Namespaces" (Win32 documentation), "Naming conventions".
DEVICES = ["CON", "PRN", "AUX", "NUL"] + [f"{port}{n}" for port in ("COM", "LPT") for n in "123456789¹²³"]
RESERVED = '<>:"/\\|?*'
ANY_NAME = st.text(st.characters(exclude_characters="/\x00", codec=None), min_size=1, max_size=300)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Scan 0001", "scan-0001"),
        ("Höhe über Schienenoberkante", "hohe-uber-schienenoberkante"),
        ("Søren Ægir, Łódź", "soren-aegir-lodz"),
        ("straße", "strasse"),
        ("DRG. No. H-204 (issue C)", "drg-no-h-204-issue-c"),
        ("½ inch", "1-2-inch"),
        ("写真", "file"),
        ("...", "file"),
        ("", "file"),
        ("NUL", "file-nul"),
        ("a" * 50, "a" * 40),
        ("a" * 39 + " bracket", "a" * 39),
    ],
)
def test_a_slug_keeps_what_can_be_read_aloud(text: str, expected: str) -> None:
    assert slug(text) == expected


@given(st.text(max_size=120), st.integers(min_value=1, max_value=64))
def test_every_slug_is_a_sound_id_and_its_own_slug(text: str, longest: int) -> None:
    made = slug(text, longest=longest)

    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", made)
    assert len(made) <= max(longest, len("file-com1"))
    assert slug(made, longest=64) == made


@given(ANY_NAME)
def test_every_source_id_is_a_sound_id(name: str) -> None:
    assert is_record_id(source_id(name, "0123456789abcdef" * 4))


def test_two_scans_of_one_name_get_two_ids_and_the_same_scan_the_same() -> None:
    mine = source_id("scan0001.jpg", "ab12cd34" + "0" * 56)
    theirs = source_id("scan0001.jpg", "99ff00aa" + "0" * 56)

    assert (mine, theirs) == ("scan0001-ab12cd34", "scan0001-99ff00aa")
    assert source_id("scan0001.jpg", "ab12cd34" + "0" * 56) == mine


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Handbook 1931.pdf", "Handbook 1931.pdf"),
        ('a<b>c:d"e|f?g*h\\i.jpg', "a_b_c_d_e_f_g_h_i.jpg"),
        ("tab\tand\nbreak.txt", "tab_and_break.txt"),
        ("turned\u202egpj.exe", "turned_gpj.exe"),
        ("ends with dots...", "ends with dots___"),
        ("ends with space .pdf ", "ends with space .pdf_"),
        (".hidden.jpg", "_hidden.jpg"),
        ("..", "__"),
        ("u\u0308ber.jpg", "\u00fcber.jpg"),
        (os.fsdecode(b"caf\xe9.jpg"), "caf_.jpg"),
        ("nul", "_nul"),
        ("Con.tar.gz", "_Con.tar.gz"),
        ("console.log", "console.log"),
        ("aux .txt", "_aux .txt"),
    ],
)
def test_a_stored_name_is_safe_and_as_near_as_can_be(name: str, expected: str) -> None:
    assert stored_name(name) == expected


@pytest.mark.parametrize("device", DEVICES)
def test_no_original_is_stored_under_the_name_of_a_device(device: str) -> None:
    for name in (device, device.lower(), f"{device}.txt", f"{device}.tar.gz"):
        assert stored_name(name).split(".")[0].upper() not in DEVICES


@given(ANY_NAME)
def test_every_stored_name_is_safe_on_every_file_system(name: str) -> None:
    stored = stored_name(name)

    assert 0 < len(stored.encode("utf-8")) <= 255
    assert unicodedata.is_normalized("NFC", stored)
    assert not set(stored) & set(RESERVED)
    assert not any(unicodedata.category(letter) in {"Cc", "Cs"} for letter in stored)
    assert stored[-1] not in ". "
    assert stored[0] != "."
    assert stored_name(stored) == stored


@given(st.lists(ANY_NAME, min_size=2, max_size=6))
def test_names_stored_side_by_side_differ_by_more_than_case(names: list[str]) -> None:
    stored: list[str] = []

    for name in names:
        stored.append(stored_name(name, taken=stored))

    assert len({unicodedata.normalize("NFD", name).casefold() for name in stored}) == len(names)
    assert max(len(name.encode("utf-8")) for name in stored) <= 255


def test_names_that_differ_only_by_case_are_told_apart_by_a_number() -> None:
    first = stored_name("Scan.JPG")
    second = stored_name("scan.jpg", taken=[first])
    third = stored_name("SCAN.jpg", taken=[first, second])

    assert (first, second, third) == ("Scan.JPG", "scan-2.jpg", "SCAN-3.jpg")


def test_a_long_name_is_cut_before_its_ending_and_never_within_a_letter() -> None:
    stored = stored_name("ü" * 200 + ".jpg", taken=["ü" * 125 + ".jpg"])

    assert stored == "ü" * 124 + "-2.jpg"
    assert stored_name("a" * 254 + " b") == "a" * 254


def test_a_name_can_be_stored_as_it_is_told(tmp_path: Path) -> None:
    names = [os.fsdecode(bytes([byte])) + "x" for byte in range(1, 256) if byte != ord("/")]

    for name in names:
        (tmp_path / stored_name(name)).write_bytes(b"")

    assert all(entry.name.isprintable() for entry in tmp_path.iterdir())


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Höhe 3.jpg", "Höhe 3.jpg"),
        (os.fsdecode(b"caf\xe9.jpg"), r"caf\xe9.jpg"),
        ("turned\u202egpj.exe", r"turned\u202egpj.exe"),
        ("bell\x07.txt", r"bell\x07.txt"),
    ],
)
def test_a_name_is_kept_as_received_and_what_cannot_be_shown_is_spelt_out(name: str, expected: str) -> None:
    assert received_name(name) == expected


def test_scan_2_comes_before_scan_10() -> None:
    names = ["scan10.jpg", "Scan3.jpg", "scan2.jpg", "scan02.jpg", "cover.jpg", "scan10b.jpg", "scan²", "1.jpg", "scan"]

    assert sorted(names, key=natural_key) == [
        *("1.jpg", "cover.jpg", "scan", "scan02.jpg", "scan2.jpg", "Scan3.jpg", "scan10.jpg", "scan10b.jpg", "scan²"),
    ]


@given(st.lists(st.text(max_size=20), unique=True), st.randoms(use_true_random=False))
def test_natural_order_is_the_same_whatever_order_the_names_came_in(names: list[str], hand: random.Random) -> None:
    shuffled = hand.sample(names, len(names))

    assert sorted(shuffled, key=natural_key) == sorted(names, key=natural_key)
