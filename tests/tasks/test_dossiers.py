"""Dossiers of archives on disk, printed whole and taken apart again."""

import hashlib
from pathlib import Path

import pytest
from PIL import Image, ImageDraw
from public_folders import TODAY, a_folder_that_holds_back, canaries_in, let_names_tell
from unpacked import pictures_in, words_in

from provenance.tasks.dossiers import print_dossier
from provenance.tasks.evidence import evidence_for
from provenance.tasks.opening import open_folder
from provenance.tasks.public_evidence import public_answer

FORMATS = ("html", "pdf", "docx")
OPEN, TEAM, CLOSED, ALBUM = (250, 120, 0), (255, 0, 255), (0, 200, 60), (0, 220, 255)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One that holds back, in which nothing is changed: what was cut out once is kept."""
    return a_folder_of_pictures(tmp_path_factory.mktemp("pictures"))


def a_folder_of_pictures(scratch: Path) -> Path:
    """Every source has a picture in its own colour, and an open leaf lies in a closed album."""
    made = a_folder_that_holds_back(scratch)
    a_picture(made, "photograph", OPEN)
    a_picture(made, "album", ALBUM, leaf=(300, 200, 500, 400))
    for kind, colour in (("team", TEAM), ("closed", CLOSED)):
        text = (made / f"sources/canary{kind}id.yaml").read_text(encoding="utf-8")
        (made / f"sources/canary{kind}id.yaml").write_text(text.replace("within: {source: album}\n", ""), "utf-8")
        a_picture(made, f"canary{kind}id", colour)
    (made / "sources/leaf.yaml").write_text(
        "title: A leaf\nkind: photograph\naccess: open\nrights: {statement: CNE, publish: allowed}\n"
        'within: {source: album, pages: 1..1, region: "pixel:300,200,200,200"}\n'
        'shows: [{example: "9", when: 1934-05, known_by: number}]\nby: mh\ndate: 2026-01-10\n',
        encoding="utf-8",
    )
    claim = made / "claims/headlamp-kind-acetylene.yaml"
    items = (
        "  - {source: photograph, at: {page: 1}, stance: supports, how: shows}\n"
        '  - {source: leaf, at: {page: 1, region: "pixel:310,210,180,180"}, stance: supports, how: shows}\n'
        "  - {source: leaf, at: {page: 1}, stance: supports, how: shows}\n"
    )
    claim.write_text(claim.read_text(encoding="utf-8").replace("by: mh", f"{items}by: mh"), encoding="utf-8")
    return made


@pytest.fixture(scope="module")
def telling(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same with names of donors and of withheld sources in all that the team wrote."""
    made = a_folder_of_pictures(tmp_path_factory.mktemp("telling"))
    let_names_tell(made)
    return made


def a_picture(folder: Path, source: str, colour: tuple[int, int, int], leaf: tuple[int, ...] = ()) -> None:
    """A picture of one colour, registered as the file of a source; a leaf on it is of the colour of open pictures."""
    path = folder / f"originals/{source}/{source}.png"
    path.parent.mkdir(parents=True, exist_ok=True)
    picture = Image.new("RGB", (800, 600), colour)
    if leaf:
        ImageDraw.Draw(picture).rectangle((leaf[0], leaf[1], leaf[2] - 1, leaf[3] - 1), fill=OPEN)
    picture.save(path)
    data = path.read_bytes()
    record = folder / f"sources/{source}.yaml"
    entry = (
        f"files:\n  - path: originals/{source}/{source}.png\n    sha256: {hashlib.sha256(data).hexdigest()}\n"
        f"    bytes: {len(data)}\n    media_type: image/png\n    pages: 1\n"
    )
    record.write_text(record.read_text(encoding="utf-8").replace("by: mh\n", f"{entry}by: mh\n"), encoding="utf-8")


def for_the_team(folder: Path, wanted: str) -> bytes:
    opened = open_folder(folder)
    return print_dossier(opened, evidence_for(opened, "headlamp"), wanted).data


def for_the_public(folder: Path, wanted: str, audience: str = "contractor") -> bytes:
    opened = open_folder(folder)
    view, answer = public_answer(opened, "headlamp", audience=audience, day=TODAY)
    return print_dossier(opened, answer, wanted, view=view).data


def colours_in(data: bytes) -> set[tuple[int, int, int]]:
    """Of the colours that the pictures of the archive have, those that stand in a file."""
    found = set()
    for picture in pictures_in(data):
        for _, seen in picture.getcolors(picture.width * picture.height) or ():
            found |= {each for each in (OPEN, TEAM, CLOSED, ALBUM) if near(each, seen)}
    return found


def near(one: tuple[int, ...], other: object) -> bool:
    assert isinstance(other, tuple)
    return all(abs(a - b) < 40 for a, b in zip(one, other, strict=True))


@pytest.mark.parametrize("wanted", FORMATS)
def test_the_team_sees_every_picture(folder: Path, wanted: str) -> None:
    data = for_the_team(folder, wanted)

    assert {OPEN, TEAM, CLOSED} <= colours_in(data)
    assert canaries_in(words_in(data).encode())


@pytest.mark.parametrize("audience", ["contractor", "public"])
@pytest.mark.parametrize("wanted", FORMATS)
def test_no_word_and_no_pixel_of_what_is_withheld_leaves_the_team(folder: Path, wanted: str, audience: str) -> None:
    data = for_the_public(folder, wanted, audience)

    assert colours_in(data) == {OPEN}
    assert canaries_in(words_in(data).encode()) == []
    assert "odern re-creation" in words_in(data)


@pytest.mark.parametrize("wanted", FORMATS)
def test_names_that_tell_are_struck_out_of_a_brief(telling: Path, wanted: str) -> None:
    assert canaries_in(words_in(for_the_public(telling, wanted)).encode()) == []


@pytest.mark.parametrize("wanted", FORMATS)
def test_a_dossier_that_is_printed_again_is_the_same_byte_for_byte(folder: Path, wanted: str) -> None:
    first = for_the_team(folder, wanted)

    assert for_the_team(folder, wanted) == first


def test_where_no_picture_can_be_shown_the_team_is_told_why_and_others_are_told_no_names(tmp_path: Path) -> None:
    folder = a_folder_of_pictures(tmp_path)
    (folder / "originals/album/album.png").unlink()

    team, others = (words_in(each(folder, "html")) for each in (for_the_team, for_the_public))

    assert "originals/album/album.png cannot be shown" in team
    assert "album" not in others
    assert "No picture: it cannot be shown here." in others
