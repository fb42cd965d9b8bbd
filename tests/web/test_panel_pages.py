"""The pages of panels, and what is handed out there, which the public may read."""

import re
from collections.abc import Mapping
from pathlib import Path

import pytest
from public_folders import TODAY, a_folder_that_holds_back, canaries_in, let_names_tell
from reports.hostile import HOSTILE
from unpacked import words_in
from web.asked_pages import NOT_IN_RECORDS, Outline, asked, client_of, escaped, text_of

from provenance.tasks.panel_pages import FORMATS, REGISTER_FORMATS, STYLES, WHICH
from provenance.tasks.printing import print_appendix
from provenance.tasks.printing_registers import print_register
from provenance.web.app import create_app
from provenance.web.asking import LIVING


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Two sources are open and cleared, one is the team's, one closed, and their album is closed."""
    return a_folder_that_holds_back(tmp_path)


def change(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def handed_out(folder: Path, address: str) -> bytes:
    answer = client_of(folder).get(address, base_url="http://localhost")
    assert answer.status_code == 200, answer.data
    assert answer.headers["Content-Disposition"].startswith("attachment;")
    return bytes(answer.data)


def seen_in(data: bytes) -> list[str]:
    """The lines in which a canary can be seen, also across lines, tags and breaks of words."""
    words = words_in(data)
    run_together = re.sub(r"<[^>]*>|[\s\u200b\u00ad]+", "", words)
    return canaries_in(words.encode()) + canaries_in(run_together.encode())


def records(folder: Path) -> Mapping[str, bytes]:
    return {str(path): path.read_bytes() for path in folder.rglob("*.yaml")}


def preview_in(page: str) -> str:
    return page[page.index('<article class="preview">') : page.index("</article>")]


@pytest.mark.parametrize(
    ("wanted", "asking"), [*((each, "") for each in FORMATS), ("md", "?draft=0"), ("md", f"?style={STYLES[0]}")]
)
def test_what_is_handed_out_of_a_panel_is_a_draft_without_a_word_of_what_is_withheld(
    folder: Path, wanted: str, asking: str
) -> None:
    let_names_tell(folder)
    before = records(folder)

    data = handed_out(folder, f"/panels/lamp/appendix.{wanted}{asking}")

    assert "DRAFT" in words_in(data)
    assert words_in(data).count("withheld") >= 4
    assert seen_in(data) == []
    assert records(folder) == before


@pytest.mark.parametrize("wanted", REGISTER_FORMATS)
@pytest.mark.parametrize("which", WHICH)
def test_the_registers_are_handed_out_without_a_word_of_what_is_withheld(folder: Path, which: str, wanted: str) -> None:
    let_names_tell(folder)
    before = records(folder)

    final, draft = (handed_out(folder, f"/registers/{which}.{wanted}{asked}") for asked in ("", "?draft=1"))

    assert ["DRAFT" in words_in(data) for data in (final, draft)] == [False, True]
    assert seen_in(final) == seen_in(draft) == []
    assert records(folder) == before


def test_a_canary_would_be_found_in_every_file(folder: Path) -> None:
    """Here what is the team's was opened."""
    change(folder / "sources/canaryteamid.yaml", "access: team", "access: open")

    for address in (
        *(f"/panels/lamp/appendix.{each}" for each in FORMATS),
        *(f"/registers/sources.{each}" for each in REGISTER_FORMATS),
    ):
        assert seen_in(handed_out(folder, address)), address


def test_what_is_handed_out_is_what_the_commands_write(folder: Path, tmp_path: Path) -> None:
    today = create_app(folder).extensions[LIVING].now().today.isoformat()
    outputs = {name: tmp_path / name for name in ("lamp.docx", "sources.xlsx")}
    from_pages = handed_out(folder, "/panels/lamp/appendix.docx"), handed_out(folder, "/registers/sources.xlsx")

    print_appendix(folder, "lamp", outputs["lamp.docx"], day=today, draft=True)
    print_register(folder, "sources", outputs["sources.xlsx"], day=today, draft=False)

    assert from_pages == tuple(each.read_bytes() for each in outputs.values())


def test_the_page_shows_what_is_printed_and_nothing_that_is_withheld_stands_in_it(folder: Path) -> None:
    let_names_tell(folder)

    preview = preview_in(asked(client_of(folder), "/panels/lamp")[1])
    printed = handed_out(folder, "/panels/lamp/appendix.html").decode()

    assert seen_in(preview.encode()) == []
    assert text_of(preview) == text_of(printed[printed.index("<body") :])
    assert "style=" not in preview
    assert re.findall(r"<h(\d)", preview) == [str(int(each) + 2) for each in re.findall(r"<h(\d)", printed)]


def test_what_stops_a_panel_is_told_with_whom_to_ask(folder: Path) -> None:
    change(folder / "sources/handbook.yaml", "publish: allowed", "holder: heirs of M. Oskell, publish: ask")
    change(folder / "panels/lamp.yaml", "Its hood is not known.", "See Canaryteamcreator.")
    change(folder / "panels/lamp.yaml", ", features: [headlamp/kind]", "")
    (folder / "sources" / "broken.yaml").write_text("title: [\n", encoding="utf-8")

    page = text_of(asked(client_of(folder), "/panels/lamp")[1])

    assert "One record takes no part: mend what `provenance check` names." in page
    assert "Statement 2 of the panel names what is withheld from the public: it would read" in page
    assert "Statement 1 names no feature, so no evidence is cited for it." in page
    assert "It was not printed yet." in page


def test_who_has_to_be_asked_is_told(folder: Path) -> None:
    change(folder / "sources/handbook.yaml", "publish: allowed", "holder: heirs of M. Oskell, publish: ask")

    page = text_of(asked(client_of(folder), "/panels/lamp")[1])

    assert "ask heirs of M. Oskell about “Working instructions” (handbook)." in page
    assert "Nothing: its appendix can be printed." not in page


def test_a_panel_is_told_to_be_overtaken_on_both_pages(folder: Path, tmp_path: Path) -> None:
    print_appendix(folder, "lamp", tmp_path / "lamp.html", day=TODAY, draft=False)
    sound = [text_of(asked(client_of(folder), address)[1]) for address in ("/panels", "/panels/lamp")]

    change(folder / "sources/handbook.yaml", "access: open", "access: team")
    overtaken = [text_of(asked(client_of(folder), address)[1]) for address in ("/panels", "/panels/lamp")]

    assert ["Overtaken" in page for page in (*sound, *overtaken)] == [False, False, True, True]
    assert "last printed on 1 February 2026" in sound[0]
    assert "Nothing: its appendix can be printed." in sound[1]
    assert "Since it was printed on 1 February 2026, a statement" in overtaken[1]


def test_an_archive_of_which_records_cannot_be_used_gives_drafts_of_registers_alone(folder: Path) -> None:
    (folder / "sources" / "broken.yaml").write_text("title: [\n", encoding="utf-8")
    client = client_of(folder)

    status, refused = asked(client, "/registers/sources.csv")

    assert status == 409
    assert "not the whole archive can be used, so nothing is printed of it: sources/broken.yaml" in text_of(refused)
    assert asked(client, "/registers/sources.csv?draft=1")[0] == 200
    assert asked(client, "/panels/lamp/appendix.md")[0] == 200
    assert "only drafts of them are made" in asked(client, "/panels")[1]


def test_an_archive_that_does_not_say_what_is_represented_has_no_appendix(folder: Path) -> None:
    archive = folder / "archive.yaml"
    lines = archive.read_text(encoding="utf-8").splitlines(keepends=True)
    archive.write_text("".join(line for line in lines if not line.startswith("target")), encoding="utf-8")
    client = client_of(folder)

    status, page = asked(client, "/panels/lamp")

    assert status == 200
    assert "does not say which example is represented" in page
    assert '<article class="preview">' not in page
    assert asked(client, "/panels/lamp/appendix.html")[0] == 409
    assert asked(client, "/registers/features.csv")[0] == 409
    assert asked(client, "/registers/sources.csv")[0] == 200


@pytest.mark.parametrize(
    ("address", "told"),
    [
        ("/panels/lmap", "`lamp`"),
        ("/panels/lmap/appendix.pdf", "`lamp`"),
        ("/panels/lamp/appendix.exe", "html or pdf or docx or md"),
        ("/panels/lamp?style=/etc/passwd.csl", STYLES[0]),
        ("/panels/lamp/appendix.md?style=../../x.csl", STYLES[0]),
        ("/registers/secrets.csv", "sources or features"),
        ("/registers/sources.exe", "html or pdf or csv or xlsx"),
    ],
)
def test_what_is_not_there_is_told_with_what_there_is(folder: Path, address: str, told: str) -> None:
    status, page = asked(client_of(folder), address)

    assert status == 404
    assert told in page


def test_an_archive_without_panels_says_how_one_is_made(folder: Path) -> None:
    (folder / "panels/lamp.yaml").unlink()

    assert "There is no panel yet: provenance new panel ." in text_of(asked(client_of(folder), "/panels")[1])


def a_panel(folder: Path, panel: str, text: str) -> None:
    """A panel with a text as its title, in a statement and as its note."""
    written = escaped(text)
    (folder / f"panels/{panel}.yaml").write_text(
        f'title: "{written}"\nstatements:\n  - {{text: "{written}", features: [headlamp/kind]}}\n'
        f'components: [headlamp]\nnote: "{written}"\nby: mh\ndate: 2026-01-20\n',
        encoding="utf-8",
    )


def elements_of(page: str) -> list[tuple[str, ...]]:
    """The elements of a page, but for the lines and paragraphs of a text."""
    return [element for element in Outline(page).elements if element[0] not in {"br", "p"}]


def test_whatever_people_write_is_shown_and_never_obeyed(folder: Path) -> None:
    hostile = [text for name, text in HOSTILE.items() if name not in NOT_IN_RECORDS]
    (folder / "panels/lamp.yaml").unlink()
    for number, text in enumerate(["plain", *hostile]):
        a_panel(folder, f"p{number}", text)
    client = client_of(folder)

    plain, *pages = (asked(client, f"/panels/p{number}")[1] for number in range(len(hostile) + 1))
    listed = Outline(asked(client, "/panels")[1]).elements

    for text, page in zip(hostile, pages, strict=True):
        assert elements_of(page) == elements_of(plain), text
    assert listed.count(("h2",)) == len(hostile) + 2  # every panel, and the registers
    assert [each for each in listed if each[0] in {"script", "img"}] == [("script", "src", "defer")]  # our own
