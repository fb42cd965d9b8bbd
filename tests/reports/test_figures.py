"""The figures of a dossier as pictures: their size on paper, what they tell in words, and that they can be set."""

import re
from io import BytesIO
from xml.etree import ElementTree as ET

import pytest
import typst
from builders import FEATURE, a_claim, a_feature, a_source, an_archive, an_item, seen_on
from hypothesis import given, settings
from PIL import Image
from public_archives import DAY, TEAM, a_withheld_source, an_archive_that_holds_back, an_open_source, leaked
from reports.drawings import all_words
from reports.families import a_whole_family, answer
from reports.pages import HOSTILE, NOT_WHOLE, STANDING, any_text
from reports.sequences import a_figure
from reports.test_measure_svg import TITLES, TWO
from rules.sighting_groups import a_sighting, an_archive_of

from provenance.records.kinds import Access
from provenance.reports.descended_svg import descended_svg
from provenance.reports.descent_drawn import MOST_TOLD, descent_in_words
from provenance.reports.document import Picture
from provenance.reports.figures import descent_picture, measure_picture, sequence_picture, svg_picture
from provenance.reports.sequence import SequenceFigure, sequence_of
from provenance.rules.public_view import public_view
from provenance.tasks.descending import feature_descended

FOR_THE_TEAM = "For the team: it may name what is held in confidence."


def a_sequence() -> SequenceFigure:
    figure = a_figure(
        an_archive_of(
            a_feature(), a_sighting("oil", seen_on("8", "1931")), a_sighting("electric", seen_on("10", "1934-06"))
        )
    )
    assert figure is not None
    return figure


def all_three() -> list[Picture]:
    family = answer(a_whole_family(), "print")
    return [sequence_picture(a_sequence()), measure_picture(TWO, TITLES), descent_picture(family)]


@pytest.mark.parametrize(
    ("width", "height", "on_paper"),
    [
        (96.0, 48.0, (25.4, 12.7)),  # an inch is 25.4 mm and 96 pixels
        (1284.0, 96.0, (170.0, 12.7107)),  # 339.725 mm wide, made smaller to 170: 25.4 * 170 / 339.725
        (480.0, 1920.0, (60.0, 240.0)),  # 127 by 508 mm, made smaller to 240: 127 * 240 / 508
    ],
)
def test_a_drawing_is_as_large_as_drawn_and_no_larger_than_the_page(
    width: float, height: float, on_paper: tuple[float, float]
) -> None:
    picture = svg_picture(f'<svg viewBox="0 0 9 9" width="{width}" height="{height}"></svg>', "a square")

    assert (picture.width, picture.height) == pytest.approx(on_paper, abs=1e-3)
    assert (picture.media_type, picture.says) == ("image/svg+xml", "a square")


def test_a_drawing_that_does_not_say_how_large_it_is_is_refused() -> None:
    with pytest.raises(ValueError, match="does not say how large"):
        svg_picture('<svg viewBox="0 0 9 9"></svg>', "a square")


def test_every_figure_fits_the_page_and_keeps_its_proportions() -> None:
    for picture in all_three():
        top = ET.fromstring(picture.data)
        _, _, width, height = map(float, (top.get("viewBox") or "").split())
        assert picture.width <= 170.0
        assert picture.height <= 240.0
        assert picture.width / picture.height == pytest.approx(width / height, rel=1e-3)


def test_all_figures_can_stand_in_one_page() -> None:
    names = [{part.get("id") for part in ET.fromstring(each.data).iter() if part.get("id")} for each in all_three()]

    assert len(set.union(*names)) == sum(map(len, names))


def test_a_typesetter_draws_them() -> None:
    """typst reads SVG with a library of its own (resvg): a second reader beside the parser of XML."""
    for picture in all_three():
        source = f"#set page(width: 180mm, height: 250mm)\n#image(bytes(sys.inputs.svg), width: {picture.width}mm)"
        drawn = typst.compile(source.encode(), format="png", sys_inputs={"svg": picture.data.decode()}, ppi=40.0)
        assert isinstance(drawn, bytes)
        assert min(Image.open(BytesIO(drawn)).convert("L").resize((20, 20)).tobytes()) < 250  # there is ink on it


def test_only_what_stays_with_the_team_says_that_it_is_for_the_team() -> None:
    family = answer(a_whole_family(), "turn", NOT_WHOLE.left_out)
    team, public = descent_picture(family), descent_picture(family, is_public=True)

    for told in (FOR_THE_TEAM, "no file of it here", "provenance check"):
        assert told in team.data.decode()
        assert told in team.says
        assert told not in public.data.decode()
        assert told not in public.says
    for told in ("Not the whole archive", "in a circle, which cannot be"):
        assert told in all_words(public.data.decode())
        assert told in public.says


def test_nothing_that_is_withheld_stands_in_a_figure_made_from_the_public_view() -> None:
    negative = a_withheld_source(TEAM, Access.TEAM)
    prints = [an_open_source(each, of=[f"print:{negative.id}"]) for each in ("print", "second")]
    shown = [an_item(each.id, "shows", seen=seen_on("9")) for each in prints]
    held_back = an_archive_that_holds_back()
    for archive in (held_back, an_archive(negative, *prints, a_claim("electric", *shown))):
        view = public_view(archive, DAY)
        for verdict in view.verdicts.values():
            descended = feature_descended(view.archive, STANDING, verdict)
            pictures = [descent_picture(descended, is_public=True)]
            sequence = sequence_of(view.archive, verdict)
            pictures += [sequence_picture(sequence)] if sequence else []
            for picture in pictures:
                assert leaked({picture.data.decode(), picture.says}) == set()
    assert "“a source held privately” (withheld-0001); photograph. “Print”" in pictures[0].says
    names = [part.get("id") or "" for part in ET.fromstring(pictures[0].data).iter() if part.get("id")]
    assert all(re.fullmatch("[A-Za-z][A-Za-z0-9_-]*", each) for each in names)


def test_the_words_beside_a_descent_tell_every_source_and_what_was_made_from_what() -> None:
    archive = an_archive(
        a_source("negative", created="1934"),
        a_source("print", of=["print:negative"], created="1950~"),
        a_claim("acetylene", "print"),
    )

    assert descent_in_words(answer(archive, FEATURE), is_public=True) == (
        "Descent of “Headlamp type” (headlamp/type). 2 sources are drawn, the oldest at the top; an arrow leads from "
        "each to what was made from it. Everything hangs on “Print” (print): nothing else speaks for this value. "
        "Behind that stands “Negative” (negative); that too carries all of it. “Negative” (negative); photograph, "
        "1934. “Print” (print); photograph, about 1950; cited here: states. From “Negative” (negative) to “Print” "
        "(print): print. From “Print” (print) to the value (Headlamp type (headlamp/type): Acetylene; "
        "uncorroborated): speaks for the value."
    )


def test_pairs_and_people_behind_several_are_told_too() -> None:
    told = descent_in_words(answer(a_whole_family(), "print"))

    assert "“as it was” (card)" in told
    assert "likely a copy (?), nobody has ruled." in told
    assert "ruled a copy, it is not said which of which." in told
    assert "From what is known from as it was" in told
    assert "goes back to it." in told
    assert "Mary Holt" not in told  # no more than is drawn


def test_of_a_large_family_the_oldest_are_told_and_the_rest_is_counted() -> None:
    many = an_archive(a_source("s0", created="1930"), *(a_source(f"s{n}", of=["s0"]) for n in range(1, 60)))

    told = descent_in_words(answer(many, "s0"))

    assert f"And {60 - MOST_TOLD} more sources, not told here." in told
    assert told.count("photograph, ") == MOST_TOLD
    assert "And 19 more ways in which they hang together, not told here." in told


@settings(max_examples=20)
@given(any_text)
def test_whatever_people_write_the_words_beside_a_descent_are_harmless(words: str) -> None:
    archive = a_whole_family(words)

    for about in ("print", "turn", FEATURE):
        assert HOSTILE not in descent_in_words(answer(archive, about))
        ET.fromstring(descended_svg(answer(archive, about), is_public=True))
