"""The drawing of a descent, read again as XML."""

import os
import re
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from builders import FEATURE, a_claim, a_component, a_feature, a_pair, a_source, an_archive
from hypothesis import given, settings
from reports.families import a_whole_family, answer, ruled
from reports.pages import HOSTILE, NOT_WHOLE, any_text

from provenance.records.archive import Archive
from provenance.records.kinds import SourceKind
from provenance.reports.descended_svg import descended_svg
from provenance.reports.svg_lettering import width_of

SVG = "{http://www.w3.org/2000/svg}"
MARKUP = "</text><script>alert(1)</script> & “x” \"y\" 'z'"


def drawn(archive: Archive, about: str) -> ET.Element:
    return ET.fromstring(descended_svg(answer(archive, about)))


def words(part: ET.Element) -> str:
    return " ".join(text.text or "" for text in part.iter(f"{SVG}text"))


def own_id(drawing: ET.Element, group: ET.Element) -> str:
    """The id of a part, without what stands before it so that several drawings can stand in one page."""
    prefix = (drawing[0].get("id") or "").removesuffix("title")
    assert (group.get("id") or prefix).startswith(prefix)
    return (group.get("id") or "").removeprefix(prefix)


def box(drawing: ET.Element, name: str) -> ET.Element:
    (found,) = (group for group in drawing.iter(f"{SVG}g") if own_id(drawing, group) == name)
    return found


def top_of(group: ET.Element) -> float:
    return float(group.findall(f"{SVG}rect")[0].get("y") or 0)


def lines(drawing: ET.Element) -> list[ET.Element]:
    return [group for group in drawing.iter(f"{SVG}g") if own_id(drawing, group).startswith("line-")]


def a_print(**fields: str) -> Archive:
    return an_archive(a_source("negative", created="1934"), a_source("print", of=["print:negative"], **fields))


def test_a_drawing_says_what_it_is_to_those_who_cannot_see_it() -> None:
    drawing = drawn(a_print(), "print")
    title, desc = drawing[0], drawing[1]

    assert drawing.get("role") == "img"
    assert drawing.get("aria-labelledby") == f"{title.get('id')} {desc.get('id')}"
    assert (title.tag, title.text) == (f"{SVG}title", "Descent of “Print” (print)")
    assert desc.tag == f"{SVG}desc"
    assert desc.text == (
        "For the team: it may name what is held in confidence. 2 sources are drawn, the oldest at the top; an arrow "
        "leads from each to what was made from it."
    )


def test_a_box_says_title_kind_date_and_id_and_the_one_that_was_asked_about_says_so() -> None:
    drawing = drawn(a_print(created="1950~", title="Second print"), "print")

    assert words(box(drawing, "source-print")) == (
        "Second print photograph, about 1950 print no file of it here this was asked about"
    )
    assert words(box(drawing, "source-negative")) == "Negative photograph, 1934 negative no file of it here"
    (told,) = box(drawing, "source-print").findall(f"{SVG}title")
    assert told.text == "“Second print” (print); photograph, about 1950; no file of it here"


def test_the_older_stands_above_and_an_arrow_leads_down_to_the_copy() -> None:
    drawing = drawn(a_print(), "print")
    older, younger = (top_of(box(drawing, name)) for name in ("source-negative", "source-print"))

    assert older < younger
    (line,) = lines(drawing)
    stroke, arrow = line.findall(f"{SVG}path")
    assert stroke.get("stroke-dasharray") is None
    tip = float((arrow.get("d") or "").split()[1])
    assert tip == younger
    assert "print" in [text.text for text in drawing.iter(f"{SVG}text")]


def test_an_open_pair_is_dashed_with_a_question_mark_and_a_ruled_one_is_solid() -> None:
    open_pair = drawn(an_archive(a_source("a"), a_source("b"), a_pair("a", "b")), "a")
    ruled_pair = drawn(an_archive(a_source("a"), a_source("b"), ruled("a", "b")), "a")

    (dashed,), (solid,) = lines(open_pair), lines(ruled_pair)
    assert dashed[0].get("stroke-dasharray")
    assert solid[0].get("stroke-dasharray") is None
    assert (len(dashed), len(solid)) == (1, 1)  # no arrow: it is not said which of them is the copy
    assert "? a copy" in words(open_pair)
    assert "ruled a copy" in words(ruled_pair)


@pytest.mark.parametrize(
    ("ruling", "label"),
    [("open", "print, ? not ruled"), ("copy", "print, ruled a copy"), ("distinct", "print, yet ruled no copy")],
)
def test_a_ruling_on_a_link_stands_beside_it(ruling: str, label: str) -> None:
    archive = an_archive(
        a_source("negative"), a_source("print", of=["print:negative"]), ruled("negative", "print", ruling)
    )

    assert label in words(drawn(archive, "print"))


def test_a_circle_has_arrows_both_ways() -> None:
    drawing = drawn(an_archive(a_source("a", of=["print:b"]), a_source("b", of=["crop:a"])), "a")

    (line,) = lines(drawing)
    assert len(line.findall(f"{SVG}path")) == 3
    assert "circle: print and part" in words(drawing) or "part and circle: print" in words(drawing)
    assert "entered as made from one another in a circle" in words(drawing)


def test_what_is_entered_as_made_from_itself_has_no_line() -> None:
    assert lines(drawn(an_archive(a_source("a", of=["print:a"])), "a")) == []


def test_a_feature_ends_in_its_value_and_what_everything_hangs_on_says_so() -> None:
    archive = an_archive(
        a_source("ledger", "logbook", created="1930"),
        a_source("letter", "letter", of=["ledger"]),
        a_source("report", "report", of=["ledger"]),
        a_claim("acetylene", "letter", "report"),
    )

    drawing = drawn(archive, FEATURE)

    assert words(box(drawing, "value")) == "Headlamp type Acetylene uncorroborated"
    assert words(box(drawing, "source-ledger")).endswith("everything hangs on this")
    assert "cited here: states" in words(box(drawing, "source-letter"))
    assert "Everything hangs on “Ledger” (ledger)" in words(drawing)
    assert len(lines(drawing)) == 4


def test_a_person_behind_several_has_a_box_of_another_shape() -> None:
    archive = an_archive(
        a_source("a", "letter", creator="Tom"),
        a_source("b", "letter", creator="Tom"),
        a_source("c", "oral-history", creator="Tom"),
        a_claim("acetylene", "a", "b"),
    )

    of_source, of_feature = drawn(archive, "a"), drawn(archive, FEATURE)

    assert words(box(of_source, "origin-1")) == "what is known from Tom also behind 2 sources not drawn here"
    assert words(box(of_feature, "origin-1")) == "what is known from Tom everything hangs on this"
    assert box(of_source, "origin-1").findall(f"{SVG}rect")[0].get("stroke-dasharray")


def test_a_feature_without_a_value_is_a_title_and_a_sentence() -> None:
    drawing = drawn(an_archive(), FEATURE)

    assert words(drawing) == (
        "Descent of “Headlamp type” (headlamp/type) Nothing that we hold supports any value, so there is nothing to go "
        "back to."
    )


def test_a_source_whose_features_cannot_be_judged_says_so() -> None:
    assert "Which features rest on it alone could not be judged" in words(
        drawn(replace(a_print(), target=None), "print")
    )


def test_groups_of_kinds_differ_in_shape_and_words_and_not_in_shade_alone() -> None:
    """Of each two groups the outlines differ; the legend names those that are there."""
    kinds: list[str | None] = ["photograph", "drawing", "letter", "artefact", None]
    archive = an_archive(a_source("root", "photograph"), *(a_source(f"of-{kind}", kind, of=["root"]) for kind in kinds))

    drawing = drawn(archive, "root")

    shapes = set()
    for kind in kinds:
        outline = [part for part in box(drawing, f"source-of-{kind}") if part.tag in {f"{SVG}rect", f"{SVG}polygon"}]
        shapes.add((len(outline), outline[0].tag, outline[0].get("rx"), outline[0].get("stroke-dasharray")))
    assert len(shapes) == 5
    for named in ("picture:", "paper of the works", "account:", "thing:", "not tagged yet"):
        assert named in words(drawing)
    assert "no source: a person" not in words(drawing)


def test_every_kind_of_source_has_a_shape() -> None:
    archive = an_archive(*(a_source(f"s-{kind.value}", kind.value, origin_stated=True) for kind in SourceKind))

    for kind in SourceKind:
        assert box(drawn(archive, f"s-{kind.value}"), f"source-s-{kind.value}") is not None


def test_many_features_are_named_six_at_most_and_the_rest_counted() -> None:
    features = [a_feature(f"f{number}", "text", name=f"Feature {number}") for number in range(9)]
    archive = an_archive(
        a_component("headlamp", *features),
        *(a_claim("broad", "drawing", about=f"headlamp/f{number}") for number in range(9)),
    )

    said = words(drawn(archive, "drawing"))

    assert "“Feature 5” (headlamp/f5) has no other witness" in said
    assert "3 further features rest on it alone." in said
    assert "Feature 6" not in said


@pytest.mark.parametrize("about", ["print", "turn", FEATURE])
def test_every_id_is_there_once(about: str) -> None:
    ids = Counter(part.get("id") for part in drawn(a_whole_family(), about).iter() if part.get("id"))

    assert max(ids.values()) == 1


def test_a_title_in_markup_stays_a_title() -> None:
    drawing = drawn(a_whole_family(MARKUP), "print")

    assert {part.tag.removeprefix(SVG) for part in drawing.iter()} <= {
        "svg", "title", "desc", "g", "rect", "polygon", "path", "text",
    }  # fmt: skip
    assert "alert(1)" in words(drawing)


def test_lines_of_words_stay_within_their_boxes() -> None:
    """By the widths that are reckoned, which are held against real faces elsewhere."""
    long = "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft and all its branches " * 9
    drawing = drawn(a_whole_family(long), "print")

    for group in drawing.iter(f"{SVG}g"):
        if own_id(drawing, group).startswith("source-"):
            frame = group.findall(f"{SVG}rect") + group.findall(f"{SVG}polygon")
            if frame[0].tag == f"{SVG}polygon":
                continue
            top, height = (float(frame[0].get(side) or 0) for side in ("y", "height"))
            for text in group.findall(f"{SVG}text"):
                assert width_of(text.text or "", float(text.get("font-size") or 0)) <= 172
                assert top < float(text.get("y") or 0) < top + height


def test_words_that_are_read_from_the_right_keep_their_place() -> None:
    drawing = drawn(a_whole_family("תמונה של קרון מספר 9 (1934)"), "print")

    inside = [text for group in drawing.iter(f"{SVG}g") if group.get("id") for text in group.findall(f"{SVG}text")]
    assert inside
    assert {text.get("text-anchor") for text in inside} == {"middle"}


def test_a_drawing_fits_on_a4_as_long_as_its_words_can_be_read() -> None:
    small, large = (
        descended_svg(answer(a_whole_family(), "print")),
        an_archive(a_source("s0"), *(a_source(f"s{n}", of=[f"s{n - 1}"]) for n in range(1, 60))),
    )

    def size(svg: str) -> list[float]:
        found = re.search(r'width="([\d.]+)" height="([\d.]+)" viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)
        assert found
        return [float(figure) for figure in found.groups()]

    width, height, _, _ = size(small)
    assert width <= 703
    assert height <= 1032
    width, _, whole, _ = size(descended_svg(answer(large, "s0")))
    assert width == pytest.approx(0.6 * whole, abs=0.1)


_TWICE = """
import sys
sys.path.insert(0, {tests!r})
from reports.families import a_whole_family, answer
from provenance.reports.descended_svg import descended_svg
sys.stdout.buffer.write(descended_svg(answer(a_whole_family(), "print")).encode())
"""


def test_the_same_archive_gives_the_same_bytes_in_every_process() -> None:
    """Python mixes up its sets and dictionaries of words anew in each process."""
    asked = [sys.executable, "-c", _TWICE.format(tests=str(Path(__file__).parents[1]))]

    bytes_of = {
        subprocess.run(asked, env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=True).stdout
        for seed in ("1", "2")
    }

    assert bytes_of == {descended_svg(answer(a_whole_family(), "print")).encode()}


@settings(max_examples=40)
@given(any_text)
def test_whatever_people_write_the_drawing_is_sound_xml(words_of_people: str) -> None:
    archive = a_whole_family(words_of_people)

    for about in ("print", "turn", FEATURE):
        svg = descended_svg(answer(archive, about, NOT_WHOLE.left_out))
        ET.fromstring(svg)
        assert all(letter.isprintable() or letter in "\n\u00a0\u00ad" or not letter.isascii() for letter in svg)
        assert "Not the whole archive" in svg
    assert HOSTILE not in svg
