"""A search that stays open answers as the command does, and counts what the hits can be narrowed to."""

import gc
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from web.small_archives import WORDS, a_drawing, a_small_archive

from provenance.errors import UsageRefusedError
from provenance.records.readings import Word
from provenance.reports.found import found_json
from provenance.reports.narrowed import ChoiceGroup
from provenance.tasks.kept_search import KeptSearch, with_strips
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.page_readings import Readings
from provenance.tasks.searching import Narrowing, search

QUERY = "bracket lamp bell pulls orrin"


def a_varied_archive(tmp_path: Path) -> Opened:
    folder = a_small_archive(tmp_path)
    a_drawing(folder, "second", holder="Orrin Museum Annex", created="1928/1931", state="untagged")
    a_drawing(folder, "third", holder="Museum at Orrin", created="1931/..", kind="letter", topics=["headlamp"])
    a_drawing(folder, "fourth", holder="Rail-car Orrin Museum", created="../1941")
    a_drawing(folder, "fifth", created="1887")
    return open_folder(folder)


@pytest.fixture(scope="module")
def varied(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Opened, KeptSearch]]:
    opened = a_varied_archive(tmp_path_factory.mktemp("varied"))
    yield opened, kept(opened)
    gc.collect()


def kept(opened: Opened) -> KeptSearch:
    return KeptSearch(opened, Readings(opened.folder, opened.archive))


def narrowed_to(group: str, value: str, now: Narrowing) -> Narrowing:
    ways: dict[str, dict[str, Any]] = {
        "kind": {"kind": value},
        "component": {"components": (value,)},
        "holder": {"holder": value},
        "decade": {"since": value, "until": value},
        "state": {"state": value},
    }
    return replace(now, **ways[group])


@pytest.mark.parametrize("query", [QUERY, "H-204", "nothing of the kind", "-lamp", "brack* rail"])
def test_the_hits_are_those_of_the_command(query: str, varied: tuple[Opened, KeptSearch]) -> None:
    opened, asked = varied

    found = asked.find(query, Narrowing(), limit=20)

    assert found_json(found) == found_json(search(opened, query))


@pytest.mark.parametrize(
    "now",
    [
        Narrowing(),
        Narrowing(kind="drawing"),
        Narrowing(holder="Orrin Museum"),
        Narrowing(since="193X", until="193X", state="tagged"),
        Narrowing(components=("headlamp",), since="1930"),
    ],
)
def test_each_choice_has_as_many_hits_as_the_command_finds_with_it(
    now: Narrowing, varied: tuple[Opened, KeptSearch]
) -> None:
    opened, asked = varied

    groups = asked.choices(QUERY, now)

    assert [group.name for group in groups] == ["kind", "component", "holder", "decade", "state"]
    for group in groups:
        assert group.choices, group.name
        for choice in group.choices:
            assert choice.hits == search(opened, QUERY, narrowed_to(group.name, choice.value, now)).total, choice


def test_choices_are_told_as_people_say_them_the_most_hits_first_and_decades_in_order(
    varied: tuple[Opened, KeptSearch],
) -> None:
    _, asked = varied

    groups = {group.name: group for group in asked.choices(QUERY, Narrowing(kind="drawing"))}

    assert {choice.value for choice in groups["kind"].choices} == {
        "drawing",
        "letter",
        "oral-history",
        "manual",
        "photograph",
    }
    assert (groups["kind"].choices[0].name, groups["kind"].choices[0].is_chosen) == ("drawings", True)
    assert [choice.hits for choice in groups["holder"].choices] == sorted(_hits(groups["holder"]), reverse=True)
    decades = [choice.name for choice in groups["decade"].choices]
    assert decades == ["1880s", "1890s", "1900s", "1910s", "1920s", "1930s", "1940s"]  # one is open to the past
    assert ("headlamp", "Headlamp") in [(choice.value, choice.name) for choice in groups["component"].choices]


def _hits(group: ChoiceGroup) -> list[int]:
    return [choice.hits for choice in group.choices]


def test_what_was_chosen_stands_among_the_choices_though_nothing_is_left(varied: tuple[Opened, KeptSearch]) -> None:
    groups = varied[1].choices("bell", Narrowing(kind="website"))

    assert [(each.name, each.hits) for each in groups[0].choices if each.is_chosen] == [("websites", 0)]


def test_a_narrowing_that_cannot_be_is_refused(varied: tuple[Opened, KeptSearch]) -> None:
    _, asked = varied

    with pytest.raises(UsageRefusedError, match="no kind of source"):
        asked.find("lamp", Narrowing(kind="drawnig"))
    with pytest.raises(UsageRefusedError, match="no component"):
        asked.choices("lamp", Narrowing(components=("lmap",)))


def test_an_index_lets_go_of_its_files_when_nobody_searches_any_more(tmp_path: Path) -> None:
    asked = kept(a_varied_archive(tmp_path))
    assert asked.find("bell", Narrowing()).total

    del asked
    gc.collect()  # a file left open would be told as a warning, which fails the test


def test_the_words_that_were_found_are_marked_in_the_snippet_and_on_the_strip(
    varied: tuple[Opened, KeptSearch],
) -> None:
    opened, asked = varied
    readings = Readings(opened.folder, opened.archive)
    shown = with_strips(readings, asked.find('"above rail"', Narrowing(kind="letter")))

    (hit,) = shown
    assert hit.pieces == (("Bracket H-204 ", False), ("above", True), (" ", False), ("rail", True))
    assert hit.strip is not None
    assert len(hit.strip.marks) == 1  # neighbours on a line are one place
    assert hit.digest == opened.archive.sources["third"].files[0].sha256


def test_a_hit_whose_original_is_not_here_says_why_it_has_no_strip(tmp_path: Path) -> None:
    opened = a_varied_archive(tmp_path)
    (opened.folder / "originals" / "third" / "page.png").unlink()

    (hit,) = with_strips(
        Readings(opened.folder, opened.archive), kept(opened).find("bracket", Narrowing(kind="letter"))
    )

    assert hit.strip is None
    assert "originals/third/page.png cannot be shown" in hit.no_strip


def test_a_page_whose_words_have_no_places_has_neither_strip_nor_excuse(tmp_path: Path) -> None:
    folder = a_small_archive(tmp_path)
    a_drawing(folder, "plain", (Word(text="whistle", line=1), *WORDS[2:]))
    opened = open_folder(folder)

    (hit,) = with_strips(Readings(folder, opened.archive), kept(opened).find("whistle", Narrowing()))

    assert (hit.strip, hit.no_strip) == (None, "")
