"""The pages of likely copies: real pictures and texts taken in, asked for by a client of the real pages."""

import re
import shutil
from collections.abc import Mapping
from io import BytesIO
from itertools import pairwise
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page, expect
from reports.hostile import HOSTILE
from tasks.likenesses import a_crop, a_photograph, a_rescan, laid_down
from tasks.team import TODAY, a_team_archive, a_text
from tasks.test_comparing import PARAGRAPH, ROUND
from web.asked_pages import NOT_IN_RECORDS, Outline, asked, client_of, escaped, text_of
from web.browsing import Seen, Served, looked_at

from provenance.reports.copied import copies_json
from provenance.reports.tried import change_sentences
from provenance.rules.judging import judge_all
from provenance.tasks import pair_pages
from provenance.tasks.ingest import ingest
from provenance.tasks.listing_copies import RULINGS, list_copies
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.pair_pages import ON_A_PAGE, SOON_TRIED, PairPages

SAMPLE_PAIR = "/copies/photo-no9-carrowsea-1934--postcard-carrowsea"


@pytest.fixture(scope="module")
def taken_in(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An archive with two prints of one photograph, a crop of another, and two texts that share a passage."""
    scratch = tmp_path_factory.mktemp("copies")
    opened, odd = a_team_archive(scratch), PARAGRAPH.replace("cantrail", "cantrael")
    files = (
        laid_down(scratch / "in" / "print.png", a_photograph()),
        laid_down(scratch / "in" / "rescan.jpg", a_rescan(a_photograph())),
        laid_down(scratch / "in" / "cup.png", a_photograph("coffee")),
        laid_down(scratch / "in" / "cup-crop.png", a_crop(a_photograph("coffee"))),
        a_text(scratch / "in" / "book.txt", odd),
        a_text(scratch / "in" / "round.txt", ROUND.format(odd.replace("wet", "rain"))),
        a_text(scratch / "in" / "rot.txt", "The cantrail of No. 4 was found rotten and was scarfed by the joiner."),
        a_text(scratch / "in" / "paint.txt", "Primer went on above the waist, then the cantrail and the gutter."),
    )
    ingest(opened, files, by="mh", today=TODAY, workers=2)
    return opened.folder


@pytest.fixture
def folder(taken_in: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(taken_in, tmp_path / "archive"))


def pair_with(opened: Opened, beginning: str) -> str:
    return next(pair for pair in opened.archive.copies if pair.startswith(beginning))


def records(folder: Path) -> Mapping[str, bytes]:
    return {str(path): path.read_bytes() for path in folder.rglob("*.yaml")}


def a_line_of_pairs(folder: Path, sources: int) -> None:
    """Photographs of the car, each of which looks like all others; the lamp is seen on three of them."""
    for number in range(sources):
        (folder / "sources" / f"snap-{number:02}.yaml").write_text(
            f"title: Snapshot {number}\nkind: photograph\ncreated: 1934\n"
            'shows:\n  - {example: "9", when: 1934, known_by: number}\nby: mh\ndate: 2026-01-10\n',
            encoding="utf-8",
        )
    (folder / "copies").mkdir(exist_ok=True)
    for one in range(sources):
        for other in range(one + 1, sources):
            ruling = "distinct\nwhy_ruled: another day\nruled_by: mh\nruled_date: 2026-01-12" if one == 0 else "open"
            (folder / "copies" / f"snap-{one:02}--snap-{other:02}.yaml").write_text(
                f"between: [snap-{one:02}, snap-{other:02}]\nruling: {ruling}\nby: mh\ndate: 2026-01-11\n",
                encoding="utf-8",
            )
    items = "".join(
        f"  - {{source: snap-{number:02}, stance: supports, how: shows}}\n" for number in range(0, sources, 5)
    )
    (folder / "claims" / "headlamp-seen.yaml").write_text(
        f'about: headlamp/kind\nvalue: acetylene\napplies_to: {{examples: "9"}}\nevidence:\n{items}'
        "by: mh\ndate: 2026-01-12\n",
        encoding="utf-8",
    )


@pytest.mark.parametrize("ruling", RULINGS)
def test_the_list_says_what_the_command_answers(taken_in: Path, ruling: str) -> None:
    opened = open_folder(taken_in)

    answer = copies_json(list_copies(opened, ruling=ruling))
    page = text_of(asked(client_of(taken_in), f"/copies?ruling={ruling}")[1])

    assert f"{answer['open']} waiting for a ruling, {answer['copy']} ruled copies" in page
    assert isinstance(answer["pairs"], list)
    assert len(answer["pairs"]) == (3 if ruling in {"open", "all"} else 0)
    at = [page.index(" and ".join(source["title"] for source in pair["sources"])) for pair in answer["pairs"]]
    assert at == sorted(at)
    assert ("There is no such pair." in page) is not bool(at)


def test_many_pairs_are_listed_by_leaves_and_each_says_what_the_command_says(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    a_line_of_pairs(folder, 12)
    opened = open_folder(folder)
    assert len(opened.archive.copies) == 66 > SOON_TRIED

    whole = {pair.pair.id: pair for pair in list_copies(opened, ruling="all").pairs}
    pairs = PairPages(opened, judge_all(opened.archive))
    pages = [pairs.listed(page=number) for number in (1, 2, 3, 4)]
    listed = [pair for page in pages for pair in page.copies.pairs]
    client = client_of(folder)
    *leaves, behind = (text_of(asked(client, f"/copies?page={number}")[1]) for number in (1, 2, 3, 4, 9))

    assert [(page.total, len(page.copies.pairs)) for page in pages] == [*[(66, ON_A_PAGE)] * 3, (66, 6)]
    ruled_last = sorted(opened.archive.copies, key=lambda pair: (pair.startswith("snap-00"), pair))
    assert [pair.pair.id for pair in listed] == ruled_last
    assert listed == [whole[each] for each in ruled_last]
    told = [
        (leaf, f"{sentence[:1].upper()}{sentence[1:]}")
        for leaf, page in zip(leaves, pages, strict=True)
        for pair in page.copies.pairs
        for tried in pair.tried or ()
        for change in tried.changes
        for sentence in change_sentences(change)
    ]
    assert len(told) >= 2
    assert all(sentence in leaf for leaf, sentence in told)
    assert "for those on this page alone" in leaves[0]
    assert "Pairs 1 to 20 of 66." in leaves[0]
    assert "Pairs 61 to 66 of 66." in behind
    assert "Those before" in behind
    assert "Those after" not in behind


def test_the_list_is_narrowed_to_a_source_and_to_a_part(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    a_line_of_pairs(folder, 5)
    client = client_of(folder)

    of_one = text_of(asked(client, "/copies?source=snap-03&ruling=open")[1])
    of_lamp = text_of(asked(client, "/copies?component=headlamp")[1])
    status, unknown = asked(client, "/copies?source=snap-3")

    assert "3 waiting for a ruling, 0 ruled copies, 1 ruled distinct." in of_one
    assert of_one.count(" and Snapshot") == 3
    assert of_lamp.count(" and Snapshot") == 4  # the lamp is seen on snap-00 alone
    assert status == 404
    assert "snap-03" in unknown
    assert asked(client, "/copies?ruling=perhaps")[0] == 400
    assert asked(client, "/copies?page=two")[0] == 200


def test_two_prints_stand_side_by_side_with_what_they_share_outlined(folder: Path) -> None:
    client, before = client_of(folder), records(folder)
    pair = pair_with(open_folder(folder), "print-")

    page = asked(client, f"/copies/{pair}")[1]
    answers = {
        view: client.get(f"/copies/{pair}/{view}.png", base_url="http://localhost")
        for view in ("first", "second", "under", "laid")
    }
    pictures = {view: Image.open(BytesIO(answer.data)) for view, answer in answers.items()}

    assert {answer.content_type for answer in answers.values()} == {"image/png"}
    assert pictures["under"].size == pictures["laid"].size == pictures["first"].size
    assert pictures["first"].tobytes() != pictures["under"].tobytes()
    shown = re.findall(r'<img src="([^"]*)"', page)
    assert shown[:2] == [f"/copies/{pair}/first.png", f"/copies/{pair}/second.png"]
    assert {asked(client, address)[0] for address in shown} == {200}
    assert f'data-src="/copies/{pair}/laid.png"' in page
    said = text_of(page)
    assert "By the picture the one looks like a copy of the other" in said
    assert "What a ruling would change If neither is a copy of the other: no verdict would change." in said
    assert f"provenance copies confirm {pair.replace('--', ' ')} --how print --original ID" in said
    assert asked(client, f"/copies/{pair}/third.png")[0] == 404
    assert records(folder) == before


def test_two_texts_lie_under_one_another_with_what_differs_marked(folder: Path) -> None:
    client = client_of(folder)
    pair = pair_with(open_folder(folder), "book-")

    page = asked(client, f"/copies/{pair}")[1]

    assert re.findall(r"<mark>(.*?)</mark>", page)[:2] == ["wet.", "rain."]
    assert "“cantrael” where “cantrail” is usual" in text_of(page)
    assert "No page of it is shown" in page
    assert "copies.js" not in page
    assert asked(client, f"/copies/{pair}/first.png")[0] == 404


def test_a_pair_that_is_not_there_is_told_with_the_nearest(taken_in: Path) -> None:
    pair = pair_with(open_folder(taken_in), "print-")
    client = client_of(taken_in)

    for address in (f"/copies/{pair}x", f"/copies/{pair}x/first.png"):
        status, page = asked(client, address)
        assert (status, pair in page) == (404, True)


def test_originals_that_are_not_here_are_told_of(folder: Path) -> None:
    opened = open_folder(folder)
    pair = pair_with(opened, "print-")
    one, other = opened.archive.copies[pair].between
    gone = opened.archive.sources[one].files[0].path
    (folder / gone).unlink()
    client = client_of(folder)

    status, page = asked(client, f"/copies/{pair}")

    assert status == 200
    assert f"No page of it is shown: {gone} is not here" in text_of(page)
    assert f"/copies/{pair}/first.png" not in page
    assert 'class="laid"' not in page
    assert asked(client, f"/copies/{pair}/first.png")[0] == 404
    assert asked(client, f"/copies/{pair}/second.png")[0] == 200
    assert other in page


def test_a_withdrawn_source_is_not_compared_and_still_seen(folder: Path) -> None:
    opened = open_folder(folder)
    pair = pair_with(opened, "print-")
    record = folder / "sources" / f"{opened.archive.copies[pair].between[0]}.yaml"
    withdrawn = "withdrawn: {why: a later hoax, by: mh, date: 2026-02-02}\n"
    record.write_text(record.read_text(encoding="utf-8") + withdrawn, encoding="utf-8")
    client = client_of(folder)

    page = asked(client, f"/copies/{pair}")[1]

    assert "The two are not compared." in page
    assert "is withdrawn: a later hoax." in text_of(page)
    assert 'class="laid"' not in page
    assert asked(client, f"/copies/{pair}/first.png")[0] == 200  # outlined as the record says
    assert asked(client, f"/copies/{pair}/laid.png")[0] == 404


def test_two_that_cannot_be_compared_are_shown_as_the_record_says(folder: Path) -> None:
    shutil.rmtree(folder / ".derived")
    (folder / ".derived").write_text("no folder", encoding="utf-8")
    pair = pair_with(open_folder(folder), "cup-")
    client = client_of(folder)

    status, page = asked(client, f"/copies/{pair}")

    assert status == 200
    assert "The two could not be compared:" in page
    assert "What to do:" in page
    assert "with what both have in common outlined" in page
    assert asked(client, f"/copies/{pair}/second.png")[0] == 200


def test_in_a_large_archive_two_are_compared_when_somebody_asks(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pair_pages, "SOON_COMPARED", 1)
    client = client_of(folder)
    pair = pair_with(open_folder(folder), "cup-")

    before, asked_for, after = (text_of(asked(client, f"/copies/{pair}{how}")[1]) for how in ("", "?compare=now", ""))

    assert "compare them now" in before
    assert "By the picture" not in before
    assert "By the picture the one" in asked_for
    assert after == asked_for


def a_pair(folder: Path, name: str, text: str) -> None:
    """Two photographs that look alike, with a text as the title of one and as what is said of both."""
    written = escaped(text)
    for source, title in ((f"{name}-a", written), (f"{name}-b", "the other")):
        (folder / "sources" / f"{source}.yaml").write_text(
            f'title: "{title}"\nkind: photograph\nby: mh\ndate: 2026-01-10\n', encoding="utf-8"
        )
    (folder / "copies").mkdir(exist_ok=True)
    (folder / "copies" / f"{name}-a--{name}-b.yaml").write_text(
        f'between: [{name}-a, {name}-b]\nwhy: "{written}"\nruling: distinct\nwhy_ruled: "{written}"\nruled_by: mh\n'
        f'ruled_date: 2026-01-12\nnote: "{written}"\nby: mh\ndate: 2026-01-11\n',
        encoding="utf-8",
    )


def test_whatever_people_write_is_shown_and_never_obeyed(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    hostile = [text for name, text in HOSTILE.items() if name not in NOT_IN_RECORDS]
    for number, text in enumerate(["plain", *hostile]):
        a_pair(folder, f"p{number:02}", text)
    client = client_of(folder)

    plain, *pages = (asked(client, f"/copies/p{number:02}-a--p{number:02}-b")[1] for number in range(len(hostile) + 1))
    listed = asked(client, "/copies")[1]

    for text, page in zip(hostile, pages, strict=True):
        assert Outline(page).elements == Outline(plain).elements, text
    elements = Outline(listed).elements
    assert elements.count(("section", "class", "aria-labelledby")) == ON_A_PAGE
    assert [each for each in elements if each[0] in {"script", "img"}] == [("script", "src", "defer")]  # our own


@pytest.mark.long
def test_the_second_is_laid_on_the_first_and_the_space_key_changes_them_no_faster_than_is_harmless(
    page: Page, seen: Seen
) -> None:
    page.goto(SAMPLE_PAIR)
    part = page.locator(".laid")
    expect(part).to_be_visible()
    over, how_much = part.locator(".over"), part.get_by_label("How much of B")

    part.locator(".stage").focus()
    page.keyboard.press(" ")
    expect(over).to_have_css("opacity", "0")
    expect(part.get_by_role("status")).to_have_text("A is seen.")
    how_much.fill("30")
    expect(over).to_have_css("opacity", "0.3")
    blink = part.get_by_role("button", name="Blink")
    blink.click()
    expect(blink).to_have_attribute("aria-pressed", "true")
    expect(over).to_have_css("opacity", "1")
    expect(over).to_have_css("opacity", "0")
    blink.click()
    expect(blink).to_have_attribute("aria-pressed", "false")

    assert not [each for each in seen.requests if not each.startswith("http://127.0.0.1")]


@pytest.mark.long
def test_nothing_flashes_more_than_three_times_a_second(page: Page) -> None:
    """A flash is a pair of opposing changes (WCAG 2.2, 2.3.1): two are at least a sixth of a second apart."""
    page.goto(SAMPLE_PAIR)
    expect(page.locator(".laid")).to_be_visible()

    changes = page.evaluate(
        """() => new Promise((told) => {
          const over = document.querySelector(".over"), stage = document.querySelector(".stage");
          const changes = [];
          const hear = () => { changes.push(performance.now()); if (changes.length > 5) told(changes); };
          new MutationObserver(hear).observe(over, { attributes: true });
          const press = () => stage.dispatchEvent(new KeyboardEvent("keydown", { key: " ", bubbles: true }));
          window.setInterval(press, 20);
          window.setInterval(() => document.querySelector(".blink").click(), 30);
        })"""
    )

    assert min(later - earlier for earlier, later in pairwise(changes)) > 1000 / 6


@pytest.mark.long
def test_who_wants_no_motion_is_not_offered_to_let_it_blink_and_without_a_script_two_stand_side_by_side(
    chromium: Browser, served: Served, seen: Seen
) -> None:
    with looked_at(chromium, served, seen, reduced_motion="reduce") as still:
        still.goto(SAMPLE_PAIR)
        expect(still.locator(".laid")).to_be_visible()
        expect(still.get_by_role("button", name="Blink")).to_be_hidden()
        expect(still.get_by_role("button", name="Show the other")).to_be_visible()
    with looked_at(chromium, served, seen, java_script_enabled=False) as plain:
        plain.goto(SAMPLE_PAIR)
        expect(plain.locator(".laid")).to_be_hidden()
        expect(plain.get_by_role("img", name="Page 1 of")).to_have_count(2)
