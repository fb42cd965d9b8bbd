"""Search in a browser: hits as the terminal gives them, strips of their pages, and what they can be narrowed to."""

import io
import json
import shutil
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest
from PIL import Image
from reports.hostile import HOSTILE
from tasks.team import a_text
from web.small_archives import WORDS, a_client, a_drawing, a_small_archive, asked, seen

from provenance.records.readings import Word
from provenance.reports.found import found_json
from provenance.tasks.opening import open_folder
from provenance.tasks.searching import Narrowing, search


def address(**given: object) -> str:
    return f"/search?{urlencode(given, doseq=True, errors='replace')}"


def test_the_hits_and_their_number_are_those_of_the_command(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)

    page = seen(a_client(folder), address(q="bracket bell lamp"))

    told: dict[str, Any] = found_json(search(open_folder(folder), "bracket bell lamp"))
    assert "3 hits for “bracket bell lamp”" in page.text
    assert told["total"] == len(told["hits"]) == 3
    said = [f"{hit['title']} {hit['snippet']}" for hit in told["hits"]]
    hits = page.text[page.text.index("Hits 1 to 3") :]
    titles = {"headlamp/kind: acetylene": "Headlamp: Kind of lamp: “acetylene”"}
    named = [titles.get(hit["title"], hit["title"]) for hit in told["hits"]]
    assert set(named) & set(titles.values())
    places = [(hits.index(title), hits.index(hit["snippet"])) for title, hit in zip(named, told["hits"], strict=True)]
    assert places == sorted(places), said


def test_a_hit_shows_the_strip_around_its_words_marked_and_leads_to_the_place(tmp_path: Path) -> None:
    page = seen(a_client(a_small_archive(tmp_path)), address(q="bracket"))

    (strip,) = [told for told in page.all("img") if told["src"].startswith("/cut-outs/strip")]
    assert strip["alt"] == "The place on page 1 of A drawing"
    assert len(page.all("rect")) == 1
    assert "/sources/drawing/pages/1?q=bracket" in page.links("/sources/drawing/pages/1")
    assert page.all("mark")


def test_a_claim_shows_the_place_that_it_cites_and_leads_to_it_and_to_its_fitting(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    item = {
        "source": "drawing",
        "at": {"page": 1, "region": "percent:10,20,30,40"},
        "stance": "supports",
        "how": "shows",
    }
    claim = {"about": "headlamp/hood", "value": "present", "applies_to": {"examples": "all"}, "evidence": [item]}
    a_text(folder / "claims" / "hood.yaml", json.dumps({**claim, "by": "mh", "date": "2026-01-10"}))
    client = a_client(folder)

    page = seen(client, address(q="hood"))

    (cited,) = page.all("img")
    assert cited["alt"] == "The place that is cited, on page 1 of A drawing"
    assert asked(client, cited["src"]).content_type == "image/png"
    assert "/sources/drawing/pages/1?region=percent%3A10%2C20%2C30%2C40" in page.links("/sources/drawing/pages/")
    assert "/fittings/headlamp/hood" in page.links("/fittings/")


def test_a_strip_is_the_part_of_the_page_that_it_says_and_is_kept_by_the_browser(tmp_path: Path) -> None:
    client = a_client(a_small_archive(tmp_path))
    page = seen(client, address(q="bracket"))
    (source,) = [told["src"] for told in page.all("img")]

    answer = asked(client, source)

    # the word is 5 % high: 8 % are shown above and below, from 2 to 23 % of 200 pixels; all of the width of 400
    picture = Image.open(io.BytesIO(answer.data))
    assert picture.size == (400, 42)
    assert "immutable" in answer.headers["Cache-Control"]
    again = asked(client, source, **{"If-None-Match": answer.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")


@pytest.mark.parametrize(
    "wrong",
    [
        {"source": "nothing", "page": 1},
        {"source": "drawing", "page": 2},
        {"source": "drawing", "page": "1/../../archive.yaml"},
        {"source": "../originals/drawing", "page": 1},
        {"source": "drawing", "page": 1, "region": "percent:90,90,90,90"},
        {"source": "drawing", "page": 1, "region": "<svg onload=alert(1)>"},
        {"source": "handbook", "page": 1},
        {},
    ],
)
def test_a_strip_of_nothing_registered_is_refused_in_plain_text(wrong: dict[str, object], tmp_path: Path) -> None:
    answer = asked(a_client(a_small_archive(tmp_path)), f"/cut-outs/strip?{urlencode(wrong)}")

    assert answer.status_code == 404
    assert answer.content_type == "text/plain; charset=utf-8"
    assert answer.text.startswith("There is no picture: ")


def test_where_the_original_is_not_here_the_page_says_so_in_the_place_of_the_strip(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    (folder / "originals" / "drawing" / "page.png").unlink()

    page = seen(a_client(folder), address(q="bracket"))

    assert not page.all("img")
    assert "No picture: originals/drawing/page.png cannot be shown" in page.text


def test_what_the_hits_can_be_narrowed_to_is_said_with_the_hits_that_the_command_finds(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    a_drawing(folder, "second", holder="Orrin Museum Annex", created="1928/1931")
    query = "bracket lamp bell pulls"

    page = seen(a_client(folder), address(q=query))

    opened = open_folder(folder)
    for words, narrowing in [
        ("drawings", Narrowing(kind="drawing")),
        ("recollections", Narrowing(kind="oral-history")),
        ("Headlamp", Narrowing(components=("headlamp",))),
        ("Orrin Museum", Narrowing(holder="Orrin Museum")),
        ("Orrin Museum Annex", Narrowing(holder="Orrin Museum Annex")),
        ("1930s", Narrowing(since="193X", until="193X")),
        ("1920s", Narrowing(since="192X", until="192X")),
        ("looked at", Narrowing(state="tagged")),
    ]:
        total = search(opened, query, narrowing).total
        assert total, words
        assert f" {words} {total} " in page.text


def test_a_choice_narrows_the_hits_and_can_be_left_out_again(tmp_path: Path) -> None:
    client = a_client(a_small_archive(tmp_path))
    whole = seen(client, address(q="bracket lamp bell"))
    (choice,) = whole.links("/search?q=bracket+lamp+bell&decade=193X")

    narrowed = seen(client, choice)

    assert "narrowed as below" in narrowed.text
    assert "may be of the: 1930s" in narrowed.text
    assert "/search?q=bracket+lamp+bell" in narrowed.links("/search?")
    (current,) = [told for told in narrowed.all("a") if told.get("aria-current") == "true"]
    assert current["href"] == choice


def test_further_hits_stand_on_further_pages_each_once_and_in_order(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    for number in range(24):
        a_drawing(folder, f"sheet-{number:02}", title=f"Sheet {number:02}", words=(Word(text="whistle", line=1),))
    client = a_client(folder)

    first, second = (seen(client, address(q="whistle", page=page)) for page in (1, 2))

    told = search(open_folder(folder), "whistle", limit=100)
    assert told.total == 24
    shown = [link for page in (first, second) for link in page.links("/sources/sheet-")]
    assert [link.split("/")[2] for link in shown] == [hit.source for hit in told.hits]
    assert "Page 1 of 2" in first.text
    assert address(q="whistle", page=2) in first.links("/search?")
    assert "Hits 21 to 24" in second.text
    assert "There are no more hits" in seen(client, address(q="whistle", page=3)).text


def test_a_number_that_stands_there_misread_is_said_as_the_terminal_says_it(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    a_drawing(folder, "misread", title="Misread", words=(Word(text="H-2O4", line=1), *WORDS[2:]))
    a_drawing(folder, "near", title="Near", words=(Word(text="HK-20417", line=1), *WORDS[2:]))
    client = a_client(folder)

    page, near = seen(client, address(q="H-204")), seen(client, address(q="HK-20411"))

    assert "Read as H-2O4." in page.text
    assert "Read as HK-20417 (near, not the same: perhaps another number)." in near.text


def test_what_the_reader_should_know_of_the_search_is_said_first(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    shutil.rmtree(folder / ".derived" / "readings")

    page = seen(a_client(folder), address(q="lamp bell", decade="193X"))

    told = search(open_folder(folder), "lamp bell", Narrowing(since="193X", until="193X"))
    assert len(told.notes) >= 2
    assert all(f"Note: {note.replace('`', '`')}" in page.text for note in told.notes)


def test_a_hit_in_what_is_said_leads_to_its_time(tmp_path: Path) -> None:
    client = a_client(a_small_archive(tmp_path))

    page = seen(client, address(q="pulls"))

    (link,) = page.links("/sources/tape")
    assert link == "/sources/tape?time=00%3A00%3A01.000%2F00%3A00%3A02.000#said"
    assert [told for told in seen(client, link).all("li") if told.get("id") == "said"]


def test_a_search_for_nothing_explains_how_to_ask(tmp_path: Path) -> None:
    client = a_client(a_small_archive(tmp_path))

    page, blank = seen(client, "/search"), seen(client, address(q="   "))

    assert "the words side by side" in page.text
    assert "the words side by side" in blank.text


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"kind": "drawnig"}, "there is no kind of source `drawnig`"),
        ({"component": "nothing"}, "there is no component `nothing`"),
        ({"from": "sometime"}, "sometime"),
    ],
)
def test_a_narrowing_that_cannot_be_is_refused_with_its_mend(wrong: dict[str, str], says: str, tmp_path: Path) -> None:
    page = seen(a_client(a_small_archive(tmp_path)), address(q="lamp", **wrong), 400)

    assert says in page.text
    assert "What to do:" in page.text


def test_texts_of_others_are_shown_and_never_obeyed(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    for number, text in enumerate(HOSTILE.values()):
        words = tuple(Word(text=each, line=1) for each in (*text.split(), "whistle"))
        a_drawing(folder, f"hostile-{number}", words, title=text[:200] or "x", holder=text[:200], creator=text[:200])
    client = a_client(folder)

    page = seen(client, address(q="whistle"))

    assert "<script>alert(1)</script>" in page.text
    assert "{{ 7*7 }}" in page.text
    for text in HOSTILE.values():
        answered = asked(client, address(q=text, kind="", holder=text))
        assert answered.status_code == 200, text
        seen(client, address(q=text, holder=text))
        seen(client, address(q="whistle", component=text, state=text, page=text), 400)
