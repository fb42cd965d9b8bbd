from dataclasses import replace
from pathlib import Path

import pytest
from tasks.shown_originals import a_source_of, an_archive_of, an_original, keep_reading

from provenance.pages.cut_outs import Part
from provenance.records.claims import At
from provenance.records.readings import Box
from provenance.records.regions import PageRange, parse_region, parse_time_span
from provenance.records.sources import Source, Within
from provenance.tasks.page_readings import Readings
from provenance.tasks.places_to_show import NothingToShowError, PlacesToShow, ShownPlace

PDF = "application/pdf"
POINTER = "version https://git-lfs.github.com/spec/v1\noid sha256:{}\nsize 123456\n"


def find(folder: Path, *sources: Source, at: At, quote: str | None = None) -> ShownPlace:
    opened = an_archive_of(folder, *sources)
    return PlacesToShow(Readings(folder, opened.archive)).find(sources[0].id, at, quote)


def why_not(folder: Path, *sources: Source, at: At | None = None) -> str:
    with pytest.raises(NothingToShowError) as refused:
        find(folder, *sources, at=at or At(page=1))
    return str(refused.value)


def test_the_place_that_is_named_is_shown(tmp_path: Path) -> None:
    two = [an_original(tmp_path, f"{number}.pdf", b"%d" % number, PDF, 3) for number in (1, 2)]
    region = parse_region("percent:1,2,3,4")

    place = find(tmp_path, a_source_of("album", *two), at=At(page=5, region=region))

    # Pages run on over the files: the fifth is the second of the second file.
    assert (place.page.file, place.page.in_file, place.part.region) == (two[1], 2, region)
    assert not place.is_by_quotation


def test_the_only_page_need_not_be_named(tmp_path: Path) -> None:
    source = a_source_of("photo", an_original(tmp_path, "photo.png", b"photo"))

    assert find(tmp_path, source, at=At()).page.page == 1


def test_of_several_pages_one_has_to_be_named(tmp_path: Path) -> None:
    source = a_source_of("book", an_original(tmp_path, "book.pdf", b"book", PDF, 12))

    assert why_not(tmp_path, source, at=At()) == "no page is named, and the source has 12 pages"
    assert why_not(tmp_path, source, at=At(page=13)) == "the source has no page 13"


def test_a_file_that_is_named_may_be_its_only_page(tmp_path: Path) -> None:
    two = [an_original(tmp_path, f"{number}.png", b"%d" % number) for number in (1, 2)]

    assert find(tmp_path, a_source_of("prints", *two), at=At(file=2)).page.file == two[1]


def test_a_source_in_an_album_is_shown_on_the_album_s_page(tmp_path: Path) -> None:
    album = a_source_of("album", an_original(tmp_path, "album.pdf", b"album", PDF, 8))
    on_page = parse_region("percent:10,10,30,30")
    photo = a_source_of("photo", within=Within(source="album", pages=PageRange(4, 4), region=on_page))
    closer = parse_region("percent:15,15,5,5")

    whole, part = find(tmp_path, photo, album, at=At()), find(tmp_path, photo, album, at=At(page=4, region=closer))

    assert (whole.page.page, whole.part) == (4, Part(within=on_page))
    assert (part.page.page, part.part) == (4, Part(region=closer, within=on_page))
    assert why_not(tmp_path, photo, album, at=At(page=5)) == "the source has no page 5"


def test_a_source_in_an_album_of_which_the_record_is_broken_is_not_shown(tmp_path: Path) -> None:
    photo = a_source_of("photo", within=Within(source="album"))

    assert why_not(tmp_path, photo) == "album, in which it is kept, cannot be read"


def test_a_source_that_is_lost_or_was_not_seen_yet_has_no_picture(tmp_path: Path) -> None:
    assert why_not(tmp_path, a_source_of("ledger")).startswith("no file of the source is held")


def test_a_source_that_cannot_be_read_has_no_picture(tmp_path: Path) -> None:
    opened = an_archive_of(tmp_path)

    with pytest.raises(NothingToShowError, match="record of the source cannot be read"):
        PlacesToShow(Readings(tmp_path, opened.archive)).find("gone", At(), None)


def test_a_page_that_is_a_withheld_source_is_not_shown_as_its_album_s(tmp_path: Path) -> None:
    album = a_source_of("album", an_original(tmp_path, "album.pdf", b"album", PDF, 8))
    photo = a_source_of("photo", within=Within(source="album", pages=PageRange(4, 4)))
    places = PlacesToShow(Readings(tmp_path, an_archive_of(tmp_path, album, photo).archive), ["photo", "gone"])

    assert places.find("album", At(page=5), None).part == Part()
    assert places.find("photo", At(page=4), None).part == Part()
    with pytest.raises(NothingToShowError, match="the page is not to be shown"):
        places.find("album", At(page=4), None)


def test_a_text_and_a_recording_have_no_picture(tmp_path: Path) -> None:
    text = a_source_of("text", an_original(tmp_path, "a.txt", b"text", "text/plain"))
    tape = a_source_of("tape", an_original(tmp_path, "a.mp3", b"tape", "audio/mpeg", None))
    model = a_source_of("model", an_original(tmp_path, "a.stl", b"model", "model/stl", None))
    time = parse_time_span("00:12:31/00:12:44")

    assert why_not(tmp_path, text) == "it is a text, of which there is no picture"
    assert why_not(tmp_path, tape, at=At()) == "it is a recording, of which there is no picture"
    assert "00:12:31/00:12:44 of a recording" in why_not(tmp_path, tape, at=At(time=time))
    assert why_not(tmp_path, model, at=At()) == "its file is model/stl, a kind of which no pages can be shown"


def test_a_file_that_is_not_here_is_named(tmp_path: Path) -> None:
    gone, pointer, link = (an_original(tmp_path, name, b"picture" * 99) for name in ("g.png", "p.png", "l.png"))
    (tmp_path / gone.path).unlink()
    (tmp_path / pointer.path).write_text(POINTER.format(pointer.sha256), encoding="utf-8")
    (tmp_path / link.path).unlink()
    (tmp_path / link.path).symlink_to("/dev/zero")

    said = [why_not(tmp_path, a_source_of("photo", file)) for file in (gone, pointer, link)]

    assert said[0] == "originals/g.png cannot be shown: there is no file of that name here"
    assert "the file itself was not fetched" in said[1]
    assert said[2].startswith("originals/l.png cannot be shown")


def test_a_path_that_leads_out_of_the_archive_is_not_followed(tmp_path: Path) -> None:
    inside = tmp_path / "archive"
    outside = replace(an_original(tmp_path, "secret.png", b"secret"), path="../originals/secret.png")
    inside.mkdir()

    assert "leads out of the archive" in why_not(inside, a_source_of("photo", outside))


def test_a_file_of_another_length_is_not_shown_in_its_place(tmp_path: Path) -> None:
    file = an_original(tmp_path, "photo.png", b"photo")
    (tmp_path / file.path).write_bytes(b"another photo")

    assert why_not(tmp_path, a_source_of("photo", file)) == (
        "originals/photo.png is not as it was received: it has 13 bytes; 5 were received"
    )


def test_the_lines_that_are_quoted_are_found_by_their_words(tmp_path: Path) -> None:
    file = an_original(tmp_path, "letter.png", b"letter")
    words = [
        ("The", Box(10, 20, 5, 2)),
        ("lamp", Box(16, 20, 8, 2)),
        ("burns", Box(10, 24, 9, 2.5)),
        ("gas.", Box(60, 70, 9, 2)),
    ]
    keep_reading(tmp_path, file, words)

    place = find(tmp_path, a_source_of("letter", file), at=At(page=1), quote="the lamp burns")

    # From 10 to 24 across, from 20 to 26.5 down.
    assert place.is_by_quotation
    assert place.part.region is not None
    sides = [
        float(side) for side in (place.part.region.x, place.part.region.y, place.part.region.w, place.part.region.h)
    ]
    assert sides == pytest.approx([10, 20, 14, 6.5], abs=0.02)


def test_a_region_that_is_named_counts_more_than_the_quotation(tmp_path: Path) -> None:
    file = an_original(tmp_path, "letter.png", b"letter")
    keep_reading(tmp_path, file, [("lamp", Box(16, 20, 8, 2))])
    named = parse_region("percent:1,2,3,4")

    place = find(tmp_path, a_source_of("letter", file), at=At(page=1, region=named), quote="lamp")

    assert (place.part.region, place.is_by_quotation) == (named, False)


def test_where_a_quotation_was_not_read_the_whole_page_is_shown(tmp_path: Path) -> None:
    file = an_original(tmp_path, "letter.png", b"letter")
    keep_reading(tmp_path, file, [("lamp", Box(16, 20, 8, 2))])

    place = find(tmp_path, a_source_of("letter", file), at=At(page=1), quote="an axle of steel")

    assert (place.part.region, place.is_by_quotation) == (None, False)


def test_what_a_person_corrected_is_placed_by_the_machine_s_reading(tmp_path: Path) -> None:
    file = an_original(tmp_path, "letter.png", b"letter")
    keep_reading(tmp_path, file, [("lamp", Box(16, 20, 8, 2)), ("burms", Box(30, 20, 8, 2))])
    transcript = tmp_path / "transcripts" / "letter" / "p0001.txt"
    transcript.parent.mkdir(parents=True)
    transcript.write_text("by: mh\ndate: 2026-01-10\n\nlamp burns\n", encoding="utf-8")

    place = find(tmp_path, a_source_of("letter", file), at=At(page=1), quote="lamp burns")

    assert place.is_by_quotation
    assert place.part.region is not None
    assert float(place.part.region.x) == pytest.approx(16, abs=0.02)
