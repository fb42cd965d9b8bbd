import itertools
import shutil
from pathlib import Path
from typing import Any

import pytest
from tasks.team import TODAY, a_scan, a_team_archive, a_text

from provenance.errors import UnknownRecordError, UsageRefusedError, WriteRefusedError
from provenance.records.decisions import Made
from provenance.reports.written import Written
from provenance.rules.checks import check_records
from provenance.tasks.deciding import Choice, decide
from provenance.tasks.making import Piece, queried_by_a_misfit, try_made, write_made
from provenance.tasks.opening import open_folder

HEIGHT = "headlamp/height"
BRACKET = """name: Bracket
features:
  - {id: height, name: Height of the bracket, aspect: dimension, kind: quantity, unit: mm}
by: mh
date: 2026-01-10
"""
FEATURE = """  - id: height
    name: Height of the lamp
    aspect: dimension
    kind: quantity
    unit: mm
    mates: [{with: bracket/height, rule: equal}]
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """An archive where the height of the lamp is released for building, and the lamp has to fit a bracket."""
    made = a_team_archive(tmp_path).folder
    a_text(made / "components" / "bracket.yaml", BRACKET)
    lamp = made / "components" / "headlamp.yaml"
    a_text(lamp, lamp.read_text(encoding="utf-8") + FEATURE)
    choice = Choice(build="40 in", why="Conjecture.", is_released=True, id="height")
    decide(made, HEIGHT, choice, by="mh", today=TODAY)
    return made


def write(folder: Path, value: str = "40 in", feature: str = HEIGHT, **given: Any) -> Written:
    return write_made(folder, feature, Piece(value=value, **given), by="mh", today=TODAY)


def pieces(folder: Path) -> tuple[Made, ...]:
    return open_folder(folder).archive.decisions["height"].made


def test_a_piece_is_added_to_the_decision_in_force(folder: Path) -> None:
    done = write(folder, fits="well", inspected_by="T. Wenlark", note="first of two")
    write(folder, "40 1/16 in")

    first, second = pieces(folder)
    assert (done.record, done.written, done.answer) == ("height", ("decisions/height.yaml",), "made")
    assert (first.value, first.fits, first.inspected_by, first.note) == ("40 in", "well", "T. Wenlark", "first of two")
    assert (first.by, str(first.date)) == ("mh", TODAY)
    assert (second.value, second.fits) == ("40 1/16 in", None)
    assert open_folder(folder).archive.queries == {}


def test_what_was_made_otherwise_than_decided_is_told(folder: Path) -> None:
    assert "Decided was “40 in”, made was “41 in”." in write(folder, "41 in").said
    assert not any(sentence.startswith("Decided was") for sentence in write(folder, "40  IN").said)


def test_a_misfit_opens_a_query_on_both_mating_features(folder: Path) -> None:
    done = write(folder, "41 in", fits="badly", note="an inch proud")

    queries = open_folder(folder).archive.queries
    assert {query.about: query.grounds for query in queries.values()} == {
        "headlamp/height": "It was made to 41 in on 2026-02-01 (height) and does not fit bracket/height: an inch proud",
        "bracket/height": "headlamp/height was made to 41 in on 2026-02-01 (height) and does not fit it: an inch proud",
    }
    assert all(query.open for query in queries.values())
    assert "It does not fit, so headlamp/height and bracket/height are queried." in done.said
    assert done.written == (
        "queries/headlamp-height-misfit-2026-02-01.yaml",
        "queries/bracket-height-misfit-2026-02-01.yaml",
        "decisions/height.yaml",
    )


def test_a_second_misfit_of_one_day_has_queries_of_its_own(folder: Path) -> None:
    write(folder, "41 in", fits="badly")
    write(folder, "42 in", fits="badly")

    assert len(open_folder(folder).archive.queries) == 4


def test_the_misfit_is_queried_from_whichever_side_the_mate_is_written_down(folder: Path) -> None:
    decide(folder, "bracket/height", Choice(build="40 in", why="Conjecture.", is_released=True), by="mh", today=TODAY)

    write(folder, "39 in", feature="bracket/height", fits="badly")

    assert {query.about for query in open_folder(folder).archive.queries.values()} == {HEIGHT, "bracket/height"}


def test_a_misfit_without_a_mate_says_that_only_itself_is_queried(folder: Path) -> None:
    decide(folder, "headlamp/hood", Choice(build="present", why="Conjecture.", is_released=True), by="mh", today=TODAY)

    done = write(folder, "present", feature="headlamp/hood", fits="badly")

    assert any("only itself is queried" in sentence for sentence in done.said)
    assert [query.about for query in open_folder(folder).archive.queries.values()] == ["headlamp/hood"]


def test_every_beginning_of_what_a_misfit_writes_is_a_sound_archive(folder: Path, tmp_path: Path) -> None:
    """A killed writer leaves the first files and not the others; the same command does the rest."""
    before = Path(shutil.copytree(folder, tmp_path / "before"))
    done = write(folder, "41 in", fits="badly")

    for number in range(len(done.written) + 1):
        stopped = Path(shutil.copytree(before, tmp_path / f"stopped-{number}"))
        for file in itertools.islice(done.written, number):
            (stopped / file).parent.mkdir(exist_ok=True)
            shutil.copy(folder / file, stopped / file)
        assert check_records(open_folder(stopped).archive) == check_records(open_folder(before).archive)
        if number < len(done.written):
            write(stopped, "41 in", fits="badly")
        assert open_folder(stopped).archive == open_folder(folder).archive


def test_a_picture_is_taken_in_as_a_source(folder: Path, tmp_path: Path) -> None:
    picture = a_scan(tmp_path / "bench" / "lamp on the bench.png")

    done = write(folder, photo=str(picture))

    photo = pieces(folder)[0].photo
    assert photo is not None
    assert open_folder(folder).archive.sources[photo].title == "lamp on the bench"
    assert done.written == (f"sources/{photo}.yaml", "decisions/height.yaml")
    assert any(photo in sentence for sentence in done.said)


def test_a_picture_that_is_held_already_is_named_by_its_source(folder: Path, tmp_path: Path) -> None:
    picture = a_scan(tmp_path / "lamp.png")
    write(folder, photo=str(picture))

    again = write(folder, photo=str(picture))
    by_id = write(folder, photo="photograph")

    assert pieces(folder)[0].photo == pieces(folder)[1].photo
    assert pieces(folder)[2].photo == "photograph"
    assert again.written == by_id.written == ("decisions/height.yaml",)


def test_a_picture_that_is_not_there_is_refused_and_nothing_is_written(folder: Path, tmp_path: Path) -> None:
    with pytest.raises(UsageRefusedError, match="there is no picture"):
        write(folder, photo=str(tmp_path / "nothing.jpg"))

    assert pieces(folder) == ()


def test_a_refused_piece_leaves_no_picture_behind(folder: Path, tmp_path: Path) -> None:
    picture = a_scan(tmp_path / "lamp.png")
    before = set(open_folder(folder).archive.sources)

    with pytest.raises(UsageRefusedError):
        write(folder, photo=str(picture), fits="loosely")

    assert set(open_folder(folder).archive.sources) == before


def test_nothing_is_made_before_it_is_released(folder: Path) -> None:
    with pytest.raises(UsageRefusedError) as refused:
        write(folder, "present", feature="headlamp/hood")
    idea = decide(folder, "headlamp/hood", Choice(build="present", why="Conjecture."), by="mh", today=TODAY)
    with pytest.raises(UsageRefusedError) as proposed:
        write(folder, "present", feature="headlamp/hood")

    assert "provenance decide headlamp/hood --build" in refused.value.mend
    assert f"provenance decide {idea.record} --release" in proposed.value.mend


def test_an_unknown_feature_is_named_with_the_nearest(folder: Path) -> None:
    with pytest.raises(UnknownRecordError, match="headlamp/heigth"):
        write(folder, feature="headlamp/heigth")


@pytest.mark.parametrize(
    ("written", "choices"),
    [
        ("16 gauge", ("16 SWG", "16 BWG", "16 AWG")),
        ("3.4½", ("3 ft 4 1/2 in", "3.45 in")),
        ("40 in or so", ("40 in or so",)),
    ],
)
def test_a_doubtful_figure_is_not_written_down_as_made_and_the_choices_are_named(
    folder: Path, written: str, choices: tuple[str, ...]
) -> None:
    with pytest.raises(UsageRefusedError) as refused:
        write(folder, written)

    assert all(choice in f"{refused.value.what} {refused.value.mend}" for choice in choices)
    assert pieces(folder) == ()


def test_what_would_be_said_of_a_piece_is_told_before_and_nothing_is_written(folder: Path) -> None:
    piece = Piece(value="41 in", fits="badly", note="an inch proud")

    tried = try_made(open_folder(folder), HEIGHT, piece, by="mh", today=TODAY)

    assert (pieces(folder), open_folder(folder).archive.queries) == ((), {})
    done = write_made(folder, HEIGHT, piece, by="mh", today=TODAY)
    assert (tried.files, tried.said, tried.record) == (done.written, done.said, done.record)
    assert "It does not fit, so headlamp/height and bracket/height are queried." in tried.said


def test_which_features_a_misfit_puts_in_doubt_is_known_before(folder: Path) -> None:
    archive = open_folder(folder).archive

    assert queried_by_a_misfit(archive, HEIGHT) == ("headlamp/height", "bracket/height")
    assert queried_by_a_misfit(archive, "bracket/height") == ("bracket/height", "headlamp/height")
    assert queried_by_a_misfit(archive, "headlamp/kind") == ("headlamp/kind",)


def test_a_piece_is_not_written_to_another_decision_than_whoever_made_it_saw(folder: Path) -> None:
    decide(folder, HEIGHT, Choice(build="41 in", why="Conjecture.", is_released=True, id="later"), by="mh", today=TODAY)

    with pytest.raises(WriteRefusedError, match="later is in force by now"):
        write(folder, seen_in_force="height")

    assert pieces(folder) == ()
    assert write(folder, "41 in", seen_in_force="later").record == "later"
