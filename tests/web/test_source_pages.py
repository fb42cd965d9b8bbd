"""Sources in a browser: the list, each with what is on record of it, its pages with their words, its recordings."""

import io
import json
import wave
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest
from PIL import Image
from reports.hostile import HEBREW, HOSTILE
from tasks.team import a_text
from web.small_archives import WORDS, a_client, a_drawing, a_small_archive, a_tape, asked, seen

from provenance.records.readings import Word
from provenance.reports.descended import descended_json
from provenance.reports.used import used_json
from provenance.tasks.descending import descent_of
from provenance.tasks.opening import open_folder
from provenance.tasks.using import used


def with_a_family(folder: Path) -> Path:
    """The drawing with a tracing of it, another that looks like it, and a claim on it alone."""
    a_drawing(
        folder, "tracing", title="A tracing", derives_from=[{"source": "drawing", "how": "redrawn", "note": "in ink"}]
    )
    a_drawing(folder, "twin", title="A twin", hazards=["asbestos"])
    pair = {"between": ["drawing", "twin"], "why": "same dent", "by": "mh", "date": "2026-01-10"}
    a_text(folder / "copies" / "drawing--twin.yaml", json.dumps(pair))
    item = {"source": "drawing", "at": {"page": 1}, "stance": "supports", "how": "shows"}
    claim = {
        "about": "headlamp/hood",
        "value": "present",
        "applies_to": {"examples": "all"},
        "evidence": [item],
        "by": "mh",
        "date": "2026-01-10",
    }
    a_text(folder / "claims" / "hood.yaml", json.dumps(claim))
    return folder


def test_the_list_names_every_source_with_a_small_picture_and_counts_what_it_can_be_narrowed_to(
    tmp_path: Path,
) -> None:
    client = a_client(a_small_archive(tmp_path))

    page = seen(client, "/sources")

    assert "4 sources, in order of title" in page.text
    assert page.links("/sources/") == [f"/sources/{name}" for name in ("drawing", "tape", "photograph", "handbook")]
    (small,) = page.all("img")
    picture = Image.open(io.BytesIO(asked(client, small["src"]).data))
    assert picture.size == (240, 120)
    for told in ("drawings 1", "Headlamp 2", "Orrin Museum 1", "looked at 4", "no file of it here 1"):
        assert f" {told} " in page.text


def test_the_list_is_narrowed_by_what_is_chosen_and_the_counts_with_it(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    a_drawing(folder, "second", holder="Orrin Museum", kind="photograph")
    a_drawing(folder, "find", title="A find", state="untagged")

    page = seen(a_client(folder), "/sources?holder=Orrin+Museum&kind=photograph")

    assert "1 source, narrowed as below" in page.text
    assert page.links("/sources/") == ["/sources/second"]
    assert " drawings 1 photographs 1 " in page.text  # within the holder, whatever the kind
    assert "/sources?kind=photograph" in page.links("/sources?")
    finds = seen(a_client(folder), "/sources?state=untagged")
    assert finds.links("/sources/") == ["/sources/find"]
    assert "Nobody has looked at it yet." in finds.text


def test_long_lists_stand_on_several_pages(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    for number in range(40):
        a_text(folder / "sources" / f"s-{number}.yaml", json.dumps(_plain(f"S {number:02}")))
    client = a_client(folder)

    first, second = (seen(client, f"/sources?page={page}") for page in (1, 2))

    links = first.links("/sources/") + second.links("/sources/")
    assert len(links) == len(set(links)) == 44
    assert "Sources 31 to 44" in second.text
    assert "There are no more." in seen(client, "/sources?page=9").text


def _plain(title: str) -> dict[str, str]:
    return {"title": title, "kind": "book", "by": "mh", "date": "2026-01-10"}


def test_what_rests_on_a_source_is_what_the_command_says(tmp_path: Path) -> None:
    folder = with_a_family(a_small_archive(tmp_path))

    page = seen(a_client(folder), "/sources/drawing")

    told: dict[str, Any] = used_json(used(open_folder(folder), "drawing"))
    in_words = {
        "sources/tracing.yaml": "A tracing: derives from drawing (redrawn)",
        "claims/hood.yaml": "Headlamp: Hood over the lamp: claims “present”, and drawing, page 1 supports it",
        "copies/drawing--twin.yaml": "A pair of sources: drawing may be a copy of twin, or the other way round",
    }
    assert [each["record"] for each in told["rests"]] == list(in_words)
    assert [each["data-record"] for each in page.all("li") if "data-record" in each] == list(in_words)
    assert " ".join(in_words.values()) in page.text
    assert "/fittings/headlamp/hood" in page.links("/fittings/")


def test_the_descent_of_a_source_is_what_the_command_says(tmp_path: Path) -> None:
    folder = with_a_family(a_small_archive(tmp_path))
    client = a_client(folder)

    page = seen(client, "/sources/drawing")

    told: dict[str, Any] = descended_json(descent_of(open_folder(folder), "drawing"))
    assert {node["source"] for node in told["nodes"]} == {"drawing", "tracing", "twin"}
    for node in told["nodes"]:
        assert f"“{node['title']}” ({node['source']}" in page.text
    assert [edge["note"] for edge in told["edges"]] == ["in ink"]
    assert "in ink" in page.text
    (feature,) = told["features"]
    assert feature["feature"] == "headlamp/hood"
    assert f"Headlamp: {feature['name']}: {feature['value']}" in page.text
    (drawn,) = [each["src"] for each in page.all("img") if each["src"].startswith("/figures/")]
    drawing = asked(client, drawn)
    assert drawing.content_type.startswith("image/svg+xml")
    assert all(node["source"] in drawing.text for node in told["nodes"])


def test_cautions_stand_before_everything_else(tmp_path: Path) -> None:
    folder = with_a_family(a_small_archive(tmp_path))
    client = a_client(folder)

    page, leaf = seen(client, "/sources/twin"), seen(client, "/sources/twin/pages/1")

    for each in (page, leaf):
        assert "Caution, asbestos." in each.text
        assert [tag for tag, told in each.tags if tag == "h1" or "boxed" in told.get("class", "")][:2] == ["div", "h1"]


def test_what_looks_like_a_copy_is_named_with_its_ruling(tmp_path: Path) -> None:
    page = seen(a_client(with_a_family(a_small_archive(tmp_path))), "/sources/twin")

    assert "A drawing: open: nobody has ruled on it. same dent Side by side" in page.text
    assert set(page.links("/copies/")) == {"/copies/drawing--twin"}


def test_an_original_that_is_not_here_is_said_at_the_head(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    (folder / "originals" / "drawing" / "page.png").unlink()
    client = a_client(folder)

    page, leaf = seen(client, "/sources/drawing"), seen(client, "/sources/drawing/pages/1")

    assert "Not here. originals/drawing/page.png" in page.text
    assert "There is no picture: originals/drawing/page.png cannot be shown" in leaf.text
    assert "Bracket" in leaf.text


def test_a_page_shows_its_picture_and_its_words_over_and_beside_it_with_doubtful_ones_marked(tmp_path: Path) -> None:
    client = a_client(a_small_archive(tmp_path))

    page = seen(client, "/sources/drawing/pages/1")

    assert "Bracket H-204 above rail" in page.text.replace("  ", " ")
    assert "1 word is doubtful" in page.text
    assert len([told for told in page.all("span") if told.get("class") == "doubt"]) == 2  # it, and what explains it
    (line,) = page.all("line")
    assert (line["x1"], line["x2"], line["y1"]) == ("320.00", "440.00", "150.00")  # tenths of a per cent of the page
    assert [told["x"] for told in page.all("text")] == ["100.00", "320.00", "100.00", "270.00"]
    (shown,) = (told["src"] for told in page.all("img"))
    assert Image.open(io.BytesIO(asked(client, shown).data)).size == (400, 200)
    (figure,) = page.all("figure")
    assert figure["data-info"] == "/iiif/drawing/p1/info.json"


def test_a_person_s_reading_stands_before_the_machine_s_and_is_told_as_theirs(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    a_text(folder / "transcripts" / "drawing" / "p0001.txt", "by: mh\ndate: 2026-01-11\n\nBracket H-205\n")

    page = seen(a_client(folder), "/sources/drawing/pages/1")

    assert "Written down by M. Hollin, 2026-01-11." in page.text
    assert "Bracket H-205" in page.text
    assert "doubtful" not in page.text
    assert len(page.all("text")) == len(WORDS)  # the machine's words still lie over the picture


def test_what_was_looked_for_and_the_part_that_was_asked_for_are_marked_on_the_page(tmp_path: Path) -> None:
    client = a_client(a_small_archive(tmp_path))

    found = seen(client, "/sources/drawing/pages/1?q=bracket")
    asked_for = seen(client, f"/sources/drawing/pages/1?{urlencode({'region': 'percent:10,20,30,40'})}")

    (mark,) = found.all("rect")
    assert (mark["class"], mark["x"], mark["width"]) == ("found-here", "100.00", "200.00")
    assert len(found.all("mark")) == 1
    (region,) = asked_for.all("rect")
    assert [told["data-at"] for told in asked_for.all("figure")] == ["percent:10,20,30,40"]
    assert (region["class"], region["x"], region["height"]) == ("asked", "100.00", "400.00")


def a_claim(folder: Path, name: str, source: str, value: str = "present", **item: Any) -> None:
    """Somebody claims something of the hood of the headlamp from a source."""
    claim = {
        "about": "headlamp/hood",
        "value": value,
        "applies_to": {"examples": "all"},
        "evidence": [{"source": source, "stance": "supports", "how": "shows", **item}],
        "by": "mh",
        "date": "2026-01-10",
    }
    a_text(folder / "claims" / f"{name}.yaml", json.dumps(claim))


def test_what_claims_cite_on_a_page_is_outlined_there_and_leads_to_the_fitting_and_to_its_place(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    a_claim(folder, "hood", "drawing", at={"page": 1, "region": "percent:60,20,25,30"})
    a_claim(folder, "no-hood", "drawing", "absent", stance="contradicts")  # names no page: the source has one
    a_claim(folder, "elsewhere", "photograph", at={"page": 1, "region": "percent:1,1,2,2"})
    client = a_client(folder)

    page = seen(client, "/sources/drawing/pages/1")

    (outline,) = page.all("rect")
    assert (outline["class"], outline["x"], outline["y"]) == ("cited", "600.00", "200.00")
    assert (outline["width"], outline["height"]) == ("250.00", "300.00")
    assert page.links("/fittings/") == ["/fittings/headlamp/hood"] * 2
    assert page.text.count("(this page speaks against it)") == 1
    (place,) = page.links("/sources/drawing/pages/1?region=")
    there = seen(client, place)
    assert [told["data-at"] for told in there.all("figure")] == ["percent:60,20,25,30"]
    assert [told["class"] for told in there.all("rect")] == ["cited", "asked"]


def test_on_a_source_that_is_part_of_a_page_the_words_lie_where_they_stand_on_that_part(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    within = {"source": "drawing", "pages": "1", "region": "percent:0,30,100,30"}
    a_text(folder / "sources" / "note.yaml", json.dumps({**_plain("A note"), "within": within}))
    client = a_client(folder)

    page = seen(client, "/sources/note/pages/1?q=rail")

    (over,) = [told["viewbox"] for told in page.all("svg")]
    assert [float(side) for side in over.split()] == [0, 300, 1000, 300]
    (mark,) = page.all("rect")
    assert (mark["x"], mark["y"]) == ("270.00", "400.00")
    assert Image.open(io.BytesIO(asked(client, page.all("img")[0]["src"]).data)).size == (400, 60)
    assert [told["data-within"] for told in page.all("figure")] == ["percent:0,30,100,30"]
    assert "A note" in seen(client, "/sources/drawing").text


@pytest.mark.parametrize(
    "address", ["/sources/nothing", "/sources/drawing/pages/2", "/sources/drawing/pages/0", "/sources/nothing/pages/1"]
)
def test_a_source_or_page_that_is_not_there_is_said_to_be_missing(address: str, tmp_path: Path) -> None:
    page = seen(a_client(a_small_archive(tmp_path)), address, 404)

    assert "What to do:" in page.text


def test_a_recording_is_played_beside_what_is_said_with_a_link_to_each_time(tmp_path: Path) -> None:
    client = a_client(a_small_archive(tmp_path))

    page = seen(client, "/sources/tape?time=00:00:01.000/00:00:02.000")

    (player,) = page.all("audio")
    assert player["src"] == "/originals/tape/1"
    assert page.links("/originals/tape/1#t=") == ["/originals/tape/1#t=0.000", "/originals/tape/1#t=1.000"]
    assert "Guard: I gave it two pulls." in page.text
    assert len(page.all("mark")) == 1
    sound = asked(client, player["src"])
    assert sound.content_type == "audio/wav"
    with wave.open(io.BytesIO(sound.data)) as tape:
        assert tape.getnframes() == 16000


def test_a_player_may_ask_for_a_stretch_of_a_recording(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    whole = (folder / "originals" / "tape" / "tape.wav").read_bytes()
    client = a_client(folder)

    part = asked(client, "/originals/tape/1", Range="bytes=100-199")
    beyond = asked(client, "/originals/tape/1", Range="bytes=99999999-")

    # RFC 9110, 14.4 and 15.3.7: 206 with the stretch and how long the whole is; 15.5.17: 416 where there is none
    assert (part.status_code, part.data) == (206, whole[100:200])
    assert part.headers["Content-Range"] == f"bytes 100-199/{len(whole)}"
    assert beyond.status_code == 416


def test_only_registered_recordings_inside_the_archive_are_given(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    outside = a_text(tmp_path / "outside.wav", "kept to myself")
    a_tape(folder, "linked")
    (folder / "originals" / "linked" / "tape.wav").unlink()
    (folder / "originals" / "linked" / "tape.wav").symlink_to(outside)
    a_tape(folder, "moved")
    (folder / "originals" / "moved").rename(tmp_path / "moved")
    (folder / "originals" / "moved").symlink_to(tmp_path / "moved")
    a_text(folder / "originals" / "tape" / "other.wav", "not registered")
    client = a_client(folder)

    for address in (
        "/originals/linked/1",
        "/originals/moved/1",
        "/originals/tape/2",
        "/originals/tape/0",
        "/originals/tape/other.wav",
        "/originals/tape/tape.wav",
        "/originals/drawing/1",
        "/originals/handbook/1",
        "/originals/../archive.yaml",
        "/originals/tape/..%2f..%2f..%2farchive.yaml",
        "/originals/nothing/1",
    ):
        answer = asked(client, address)
        assert answer.status_code == 404, address
        assert b"kept to myself" not in answer.data


def test_what_is_said_on_a_film_is_given_to_its_player_as_captions(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    client = a_client(folder)

    told = asked(client, "/sources/tape/heard/t01.vtt")

    assert told.content_type.startswith("text/vtt")
    assert "00:00:01.000 --> 00:00:02.000\nGuard: I gave it two pulls.\n" in told.text
    assert asked(client, "/sources/tape/heard/t02.vtt").status_code == 404


def test_texts_of_others_are_shown_and_never_obeyed(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    for number, text in enumerate(HOSTILE.values()):
        short = text[:200].strip() or "x"
        words = tuple(Word(text=each, line=1, box=WORDS[0].box, confidence=5) for each in text.split()[:300])
        fields: dict[str, Any] = dict.fromkeys(
            ("title", "creator", "holder", "reference", "note", "occasion", "place"), short
        )
        fields["rights"] = {"holder": short, "credit": short}
        fields["acquired"] = [{"from": short, "note": short}]
        a_drawing(folder, f"hostile-{number}", words, **fields)
        said = f"WEBVTT\n\n00:01.000 --> 00:02.000\n{short}\n".encode(errors="replace").decode()
        a_text(folder / "transcripts" / f"hostile-{number}" / "t01.vtt", said)
    client = a_client(folder)

    kept = [link for page in (1, 2) for link in seen(client, f"/sources?page={page}").links("/sources/hostile-")]

    assert len(kept) > 30
    for link in kept:
        seen(client, link)
        seen(client, f"{link}/pages/1?q=whistle")
    assert "<script>alert(1)</script>" in seen(client, "/sources/hostile-0").text
    for text in HOSTILE.values():
        given = urlencode({"q": text, "region": text, "time": text, "kind": text, "page": text}, errors="replace")
        for address in ("/sources", "/sources/drawing", "/sources/drawing/pages/1"):
            seen(client, f"{address}?{given}")


def test_words_from_right_to_left_keep_their_order_on_the_line(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    a_drawing(folder, "hebrew", (Word(text=HEBREW, line=1), Word(text="1934", line=1)))

    page = seen(a_client(folder), "/sources/hebrew/pages/1")

    assert f"{HEBREW} 1934" in page.text
    assert {"dir": "auto"} in page.all("p")
