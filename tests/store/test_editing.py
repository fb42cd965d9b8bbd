"""Changing people's files: the change is made, and everything else stays byte for byte."""

import hashlib
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from provenance.errors import WriteRefusedError
from provenance.store.document import Document
from provenance.store.editing import AddKey, Append, Change, SetScalar, edit, edit_file
from provenance.store.yaml_text import read_yaml
from provenance.store.yaml_writing import as_read

FILE = "sources/letter.yaml"
LETTER = """\
# The tin that came in May.
title: Letter of 1931   # from the works
kind: letter

files:
  # as scanned at the record office
  - path: originals/letter/letter.pdf
    bytes: 1234   # checked by hand
  - {path: originals/letter/back.pdf, bytes: 99}
topics: [headlamp, bracket]  # more to come
note: |
  He writes that the bracket
  was moved.

# who and when
by: mh
date: 2024-05-01
# the end
"""


def content(text: str) -> Any:
    """What an ordinary YAML reader makes of a text when it is told to leave every scalar as text."""
    return yaml.load(text, Loader=yaml.BaseLoader)


def inserted(old: str, new: str) -> str:
    """The one piece that was put in; fails when anything else changed."""
    start = next((i for i, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), min(len(old), len(new)))
    length = len(new) - len(old)
    starts = [at for at in range(max(0, start - length), start + 1) if new[:at] + new[at + length :] == old]
    assert starts, f"more than an insertion:\n{new}"
    return new[starts[-1] : starts[-1] + length]


def test_a_scalar_is_replaced_and_its_comment_stays() -> None:
    after = edit(LETTER, FILE, SetScalar(("title",), "Letter of 1932"))

    assert after == LETTER.replace("Letter of 1931", "Letter of 1932")


@pytest.mark.parametrize(
    ("path", "value", "old", "new"),
    [
        (("files", 0, "bytes"), 5, "bytes: 1234 ", "bytes: 5 "),
        (("files", 1, "bytes"), 5, "bytes: 99}", "bytes: 5}"),
        (("files", 1, "path"), "a, b", "originals/letter/back.pdf", '"a, b"'),
        (("topics", 1), "1931", "bracket]", '"1931"]'),
        (("date",), "1934", "2024-05-01", "1934"),
        (("kind",), "two\nlines", "kind: letter", "kind: |-\n  two\n  lines"),
        (("title",), "two\nlines", "Letter of 1931", '"two\\nlines"'),
        (("note",), "It was moved.", "|\n  He writes that the bracket\n  was moved.", "It was moved."),
        (
            ("note",),
            "Moved,\nhe writes.",
            "|\n  He writes that the bracket\n  was moved.",
            "|-\n  Moved,\n  he writes.",
        ),
    ],
)
def test_scalars_are_replaced_wherever_they_stand(
    path: tuple[str | int, ...], value: object, old: str, new: str
) -> None:
    assert edit(LETTER, FILE, SetScalar(path, value)) == LETTER.replace(old, new)


def test_a_key_is_added_after_the_last_one_and_before_the_closing_comment() -> None:
    after = edit(LETTER, FILE, AddKey((), "acquired", [{"from": "A. Lind", "date": "1934"}]))

    assert after == LETTER.replace(
        "date: 2024-05-01\n", "date: 2024-05-01\nacquired:\n  - date: 1934\n    from: A. Lind\n"
    )


@pytest.mark.parametrize(
    ("path", "old", "new"),
    [
        (("files", 0), "1234   # checked by hand\n", "1234   # checked by hand\n    media_type: text/plain\n"),
        (("files", 1), "bytes: 99}", "bytes: 99, media_type: text/plain}"),
    ],
)
def test_a_key_is_added_in_the_style_of_its_neighbours(path: tuple[str | int, ...], old: str, new: str) -> None:
    assert edit(LETTER, FILE, AddKey(path, "media_type", "text/plain")) == LETTER.replace(old, new)


def test_a_key_for_the_first_line_comes_before_all_comments() -> None:
    added = AddKey((), "format", 1, first=True)

    assert edit(LETTER, FILE, added) == "format: 1\n" + LETTER
    assert edit("\ufeff# ours\ntitle: x\n", FILE, added) == "\ufeffformat: 1\n# ours\ntitle: x\n"
    assert (
        edit("# ours\n---  # begins\n  title: x\n", FILE, added) == "# ours\n---  # begins\n  format: 1\n  title: x\n"
    )
    assert edit("{title: x}\n", FILE, added) == "{title: x, format: 1}\n"


def test_an_item_is_appended_to_a_list_in_block_style() -> None:
    after = edit(LETTER, FILE, Append(("files",), {"path": "originals/letter/cover.pdf", "bytes": 7}))

    assert inserted(LETTER, after) == "  - path: originals/letter/cover.pdf\n    bytes: 7\n"


def test_an_item_is_appended_to_a_list_in_flow_style() -> None:
    assert edit(LETTER, FILE, Append(("topics",), "lamp, rear")) == LETTER.replace("bracket]", 'bracket, "lamp, rear"]')


def test_an_item_for_a_list_that_is_not_there_begins_the_list() -> None:
    after = edit(LETTER, FILE, Append(("acquired",), {"received_as": "IMG_1.JPG", "date": "2024-05-02"}))

    assert content(after)["acquired"] == [{"date": "2024-05-02", "received_as": "IMG_1.JPG"}]
    assert inserted(LETTER, after) == "acquired:\n  - date: 2024-05-02\n    received_as: IMG_1.JPG\n"


@pytest.mark.parametrize(
    ("text", "change", "expected"),
    [
        ("a: [ ]\n", Append(("a",), "x"), "a: [x ]\n"),
        ("a: {}\n", AddKey(("a",), "b", "x"), "a: {b: x}\n"),
        ("a: [x,]\n", Append(("a",), "z"), "a: [x, z]\n"),
        ("a: [\n  x, # 1\n  y, # 2, last\n]\n", Append(("a",), "z"), "a: [\n  x, # 1\n  y, z # 2, last\n]\n"),
        ("a: [\n  x # one, two\n]\n", Append(("a",), "z"), "a: [\n  x, z # one, two\n]\n"),
        ("a:\n- x\n- y\nb: z\n", Append(("a",), "w"), "a:\n- x\n- y\n- w\nb: z\n"),
        ("a:\n- x\n- y", Append(("a",), "w"), "a:\n- x\n- y\n- w\n"),
        ("a: x", AddKey((), "b", "z"), "a: x\nb: z\n"),
        ("a:\r\n  - x\r\nb: y\r\n", Append(("a",), "p\nq"), "a:\r\n  - x\r\n  - |-\r\n    p\r\n    q\r\nb: y\r\n"),
        ("a: |+\n  x\n\n\nb: y\n", SetScalar(("a",), "z"), "a: z\nb: y\n"),
        ("b:\n  a: |+\n    x\n\n\n", AddKey(("b",), "c", "z"), "b:\n  a: |+\n    x\n\n\n  c: z\n"),
        ("a: |  # why\n  x\nb: y\n", SetScalar(("a",), "z"), "a: z  # why\nb: y\n"),
        ("a: >-  # why\n  x\nb: y\n", SetScalar(("a",), "p\nq"), "a: |-  # why\n  p\n  q\nb: y\n"),
        ("a:\n  - b: x\n    c: [y]\n", Append((("a"), 0, "c"), "z"), "a:\n  - b: x\n    c: [y, z]\n"),
        ("a:   # nothing yet\nb: y\n", SetScalar(("a",), "z"), "a: z   # nothing yet\nb: y\n"),
        ("a: 'x'\n", SetScalar(("a",), "it's"), "a: it's\n"),
        ("same:\n  - - x\n    - y\n", Append(("same", 0), "z"), "same:\n  - - x\n    - y\n    - z\n"),
        ("same:\n  - - x\n    - y\n", Append(("same",), ["p", "q"]), "same:\n  - - x\n    - y\n  - - p\n    - q\n"),
        ("a: x\n...\n", AddKey((), "b", "z"), "a: x\nb: z\n...\n"),
        # A comment that is set in would become part of a literal block before it.
        ("a: x\n    # why\n", AddKey((), "b", ["p\nq"]), 'a: x\nb: ["p\\nq"]\n    # why\n'),
        ("a:\n- x\n  # why\n", Append(("a",), "p\nq"), 'a:\n- x\n- "p\\nq"\n  # why\n'),
        ("a: x\n  # why\n", SetScalar(("a",), "p\nq"), 'a: "p\\nq"\n  # why\n'),
    ],
)  # fmt: skip
def test_odd_corners_of_yaml_are_edited_like_the_rest(text: str, change: Change, expected: str) -> None:
    assert edit(text, FILE, change) == expected


PIECES = {
    "title": [
        *(" Letter", " 'it''s'", ' "two\\nlines"', " on\n  two lines", " |\n  first\n\n  second"),
        *(" >-\n  folded\n  text", " |+\n  kept\n\n"),
    ],
    "acquired": [
        "\n  - date: 1934\n    from: mh\n  - {date: 1935}",
        "\n- date: 1934\n- date: 1935\n  from: x",
        "\n  - date: |\n      1934\n",
        " [\n  {date: 1934}, # first, of two\n  {date: 1935}, # last\n  ]",
        " [{date: 1934}]",
        " [ ]",
    ],
    "rights": [
        " {holder: x, credit: y}",
        "\n  holder: x\n  credit: y",
        "\n    holder: x\n    permission:\n      from: z",
        " { }",
    ],
}


@st.composite
def files(draw: st.DrawFn) -> str:
    """Files as people leave them: keys in any order, comments and blank lines anywhere, either kind of line end."""
    parts = []
    for key in draw(st.permutations(list(PIECES))):
        parts.append(draw(st.sampled_from(["", "# a remark: with, signs\n", "\n", "\n    # set in\n\n"])))
        piece = draw(st.sampled_from(PIECES[key]))
        comment = "" if "\n" in piece else draw(st.sampled_from(["", "  # why", " #"]))
        parts.append(f"{key}:{piece}{comment}\n")
    parts.append(draw(st.sampled_from(["", "# the end\n", "\n\n", "x-last: y"])))
    text = draw(st.sampled_from(["", "---\n", "\ufeff", "# first\n"])) + "".join(parts)
    return text.replace("\n", "\r\n") if draw(st.booleans()) else text


TEXTS = st.sampled_from(
    ["plain", "1934", "a: b", "two\nlines", "  set in\n\nthen", "#", "[x]", "ends ", "it's", '"', "- x"]
)
ITEMS = st.fixed_dictionaries({"date": TEXTS}, optional={"from": TEXTS, "note": TEXTS})


@given(files(), TEXTS | ITEMS)
def test_appending_changes_nothing_else(text: str, item: object) -> None:
    before = content(text)

    after = edit(text, FILE, Append(("acquired",), item))

    inserted(text, after)
    before["acquired"].append(as_read(item))
    assert content(after) == before


@given(
    files(), TEXTS | ITEMS | st.lists(ITEMS, min_size=1, max_size=2), st.sampled_from([(), ("rights",)]), st.booleans()
)
def test_adding_a_key_changes_nothing_else(
    text: str, value: object, path: tuple[str, ...], first: bool  # noqa: FBT001 - hypothesis gives it by position
) -> None:  # fmt: skip
    before = content(text)

    after = edit(text, FILE, AddKey(path, "added", value, first=first and not path))

    inserted(text, after)
    (before["rights"] if path else before)["added"] = as_read(value)
    assert content(after) == before


@given(files(), TEXTS)
def test_replacing_a_scalar_changes_nothing_else(text: str, value: str) -> None:
    before = content(text)
    remarks = text.count("#") - before["title"].count("#")

    after = edit(text, FILE, SetScalar(("title",), value))

    before["title"] = value
    assert content(after) == before
    assert after.count("#") == remarks + value.count("#")
    start = text.index("title:")
    assert after[:start] == text[:start]
    assert after.endswith(text[start:].partition("acquired:")[2])


def test_what_is_written_is_read_by_this_tool_too() -> None:
    after = edit(LETTER, FILE, AddKey((), "acquired", [{"date": "1934", "note": "two\nlines"}]))

    document = read_yaml(after, FILE)

    assert isinstance(document, Document)
    assert document.content["acquired"] == [{"date": "1934", "note": "two\nlines"}]


@pytest.mark.parametrize(
    ("text", "change", "why"),
    [
        ("a: x\n", SetScalar(("b",), "y"), "there is no b there"),
        ("a: x\n", SetScalar(("a", "b"), "y"), "there is no b there"),
        ("a: [x]\n", SetScalar(("a", 1), "y"), "there is no 1 there"),
        ("a: [x]\n", SetScalar(("a",), "y"), "what stands there is not a single value"),
        ("a: x\n", SetScalar((), "y"), "what stands there is not a single value"),
        ("a: x\n", AddKey((), "a", "y"), "it is there already"),
        ("a: x\n", AddKey(("a",), "b", "y"), "that part has no keys"),
        ("a: x\n", AddKey(("b",), "c", "y"), "there is no b there"),
        ("a: x\n", Append(("a",), "y"), "what stands there is not a list"),
        ("a: x\n", Append((), "y"), "what stands there is not a list"),
        ("a: x\n", Append(("b", "c"), "y"), "there is no b there"),
        ("a: x\na: y\n", SetScalar(("a",), "z"), "the key a stands there twice"),
        ("? [a]\n: x\n", AddKey((), "b", "y"), "a key is not plain text"),
        ("a: &here [x]\nb: *here\n", Append(("b",), "y"), "the file has an alias"),
        ("a: [x\n", Append(("a",), "y"), "no sound YAML"),
        ("<<<<<<< ours\na: x\n=======\na: y\n>>>>>>> theirs\n", AddKey((), "b", "y"), "no sound YAML"),
        ("# nothing\n", AddKey((), "b", "y"), "the file is empty"),
        ("a: x\n  y\n--- \nb: z\n", AddKey((), "b", "y"), "no sound YAML"),
        ("- " * 3000, AddKey((), "b", "y"), "no sound YAML"),
    ],
)
def test_a_change_without_a_clear_place_is_refused(text: str, change: Change, why: str) -> None:
    with pytest.raises(WriteRefusedError, match=why):
        edit(text, FILE, change)


def test_a_refused_change_comes_with_the_lines_to_paste() -> None:
    broken = "title: [x\n"

    with pytest.raises(WriteRefusedError) as appended:
        edit(broken, FILE, Append(("acquired",), {"from": "A. Lind", "date": "1934"}))
    with pytest.raises(WriteRefusedError) as added:
        edit(broken, FILE, AddKey(("files", 0), "pages", 3))
    with pytest.raises(WriteRefusedError) as replaced:
        edit(broken, FILE, SetScalar(("files", 0, "pages"), 3))

    assert appended.value.what == f"{FILE}: acquired cannot be written: the file as it stands is no sound YAML"
    assert appended.value.mend == (
        f"paste these lines into {FILE} yourself, under acquired:\n    - date: 1934\n      from: A. Lind"
    )
    assert added.value.mend == f"paste these lines into {FILE} yourself, under files[0]:\n    pages: 3"
    assert replaced.value.mend == "write it there yourself: 3"
    assert "files[0].pages cannot be written" in replaced.value.what


def test_a_change_that_would_touch_more_is_refused() -> None:
    # A single pair inside [...] is a mapping without braces: there is no place in it for a second key.
    text = "a: {b: x, c: [y, z: w]}\n"

    with pytest.raises(WriteRefusedError, match="more than that would change"):
        edit(text, FILE, AddKey(("a", "c", 1), "d", "v"))
    # Line ends of a kind that no editor writes any more: what is put in at the end of the file would be no YAML.
    with pytest.raises(WriteRefusedError, match="more than that would change"):
        edit("a:\r- x\rb: z\r", FILE, Append(("a",), "w"))


@pytest.mark.parametrize("change", [SetScalar(("kind",), ""), AddKey((), "holder", None), Append(("topics",), {})])
def test_nothing_is_never_written(change: Change) -> None:
    with pytest.raises(WriteRefusedError, match="there is no value for"):
        edit(LETTER, FILE, change)


def a_file(tmp_path: Path, data: bytes) -> tuple[Path, str]:
    path = tmp_path / FILE
    path.parent.mkdir(parents=True)
    path.write_bytes(data)
    return path, hashlib.sha256(data).hexdigest()


def test_all_changes_to_a_file_are_made_or_none(tmp_path: Path) -> None:
    path, was = a_file(tmp_path, LETTER.encode())
    both = (SetScalar(("kind",), "report"), Append(("topics",), "rail"))

    with pytest.raises(WriteRefusedError, match="there is no colour there"):
        edit_file(path, (*both, SetScalar(("colour",), "x")), expected_sha256=was, within=tmp_path)
    untouched = path.read_text()
    now = edit_file(path, both, expected_sha256=was, within=tmp_path)

    assert untouched == LETTER
    assert path.read_text() == LETTER.replace("kind: letter", "kind: report").replace("bracket]", "bracket, rail]")
    assert now == hashlib.sha256(path.read_bytes()).hexdigest()


def test_a_file_that_changed_since_it_was_read_is_left_alone(tmp_path: Path) -> None:
    path, _ = a_file(tmp_path, LETTER.encode())

    with pytest.raises(WriteRefusedError, match="has changed since it was read"):
        edit_file(path, [SetScalar(("kind",), "report")], expected_sha256="0" * 64, within=tmp_path)

    assert path.read_text() == LETTER


def test_a_change_that_changes_nothing_writes_nothing(tmp_path: Path) -> None:
    path, was = a_file(tmp_path, LETTER.encode())
    before = path.stat()

    now = edit_file(path, [SetScalar(("kind",), "letter")], expected_sha256=was, within=tmp_path)

    assert (now, path.stat().st_ino) == (was, before.st_ino)


def test_line_ends_and_a_byte_order_mark_of_a_file_stay(tmp_path: Path) -> None:
    path, was = a_file(tmp_path, b"\xef\xbb\xbfkind: letter\r\nby: mh\r\n")

    edit_file(path, [Append(("topics",), "rail")], expected_sha256=was, within=tmp_path)

    assert path.read_bytes() == b"\xef\xbb\xbfkind: letter\r\nby: mh\r\ntopics:\r\n  - rail\r\n"


def test_a_file_that_is_not_utf_8_or_not_there_is_refused(tmp_path: Path) -> None:
    path, was = a_file(tmp_path, b"title: H\xf6he\n")

    with pytest.raises(WriteRefusedError, match="is not UTF-8"):
        edit_file(path, [SetScalar(("title",), "x")], expected_sha256=was, within=tmp_path)
    with pytest.raises(WriteRefusedError, match="cannot be written: No such file"):
        edit_file(tmp_path / "gone.yaml", [SetScalar(("title",), "x")], expected_sha256=was, within=tmp_path)
