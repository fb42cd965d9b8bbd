"""Which photographs are to be looked at, and what each could answer: in a folder on disk."""

import json
from pathlib import Path

import pytest
from builders import TODAY
from tasks.photographs import LOT, a_photograph, photographs
from tasks.team import a_text

from provenance.errors import UnknownRecordError
from provenance.reports.looking_sheet import LookingQueue, Which, choices_of
from provenance.reports.source_facts import shown_words
from provenance.rules.judging import judge_all
from provenance.tasks.looking_sheets import MOST_ROWS, LookingSheets
from provenance.tasks.opening import open_folder
from provenance.tasks.page_readings import Readings
from provenance.tasks.writing_sheets import SheetAnswers, write_sheet

ALL = Which()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return photographs(tmp_path)


def sheets(folder: Path) -> LookingSheets:
    opened = open_folder(folder)
    return LookingSheets(opened, Readings(folder, opened.archive), judge_all(opened.archive))


def names(queue: LookingQueue) -> list[str]:
    return [picture.source for picture in queue.pictures]


def look(folder: Path, source: str, **answers: str) -> None:
    told = SheetAnswers(
        source=source,
        page=1,
        kind="photograph",
        machine="example=9,known_by=caption",
        answers={f"headlamp/{point.replace('_', ':')}": answer for point, answer in answers.items()},
    )
    write_sheet(folder, told, by="mh", today=str(TODAY))


def test_all_pictures_are_to_be_looked_at_but_those_that_cannot_be_shown(folder: Path) -> None:
    queue = sheets(folder).queue(ALL)

    assert names(queue) == ["find-1", "find-2", "find-3", "number-nine"]
    assert queue.unseen == 1  # the photograph of the sound archive has no file
    assert queue.done == 0
    assert queue.called == "all pictures"


def test_a_lot_comes_in_its_own_order_and_what_was_looked_at_is_done(folder: Path) -> None:
    look(folder, "find-2", hood="out-of-view")

    queue = sheets(folder).queue(Which(lot=LOT))

    assert [(picture.source, picture.is_done) for picture in queue.pictures] == [
        ("find-1", False),
        ("find-2", True),
        ("find-3", False),
    ]
    assert queue.done == 1
    assert queue.called == f"the lot “{LOT}”"
    assert sheets(folder).lots == {LOT: {"find-1": 1, "find-2": 2, "find-3": 3}}


def test_from_one_picture_it_goes_on_to_the_next_that_nobody_looked_at_and_back_to_the_one_before(
    folder: Path,
) -> None:
    look(folder, "find-2", hood="out-of-view")
    queue = sheets(folder).queue(Which(lot=LOT))
    first, after, before = queue.first, queue.after("find-1"), queue.before("find-3")

    assert first is not None
    assert after is not None
    assert before is not None
    assert (first.source, after.source, before.source) == ("find-1", "find-3", "find-2")
    assert queue.after("find-3") is None
    assert queue.before("find-1") is None
    assert queue.before("number-nine") is None
    assert queue.place_of("find-3") == 3


def test_for_a_part_come_the_pictures_that_may_show_it(folder: Path) -> None:
    a_photograph(folder, "named", kind=None, state="untagged", title="The headlamp, close")

    component = sheets(folder).queue(Which(component="headlamp"))
    feature = sheets(folder).queue(Which(component="headlamp", feature="headlamp/kind"))

    assert names(component) == names(feature) == ["number-nine", "named"]
    assert component.called == "Headlamp"
    assert feature.called == "Headlamp: Kind of lamp"


def test_a_part_is_done_in_a_picture_once_a_sign_of_it_was_looked_for(folder: Path) -> None:
    look(folder, "number-nine", sign_conduit="seen")

    told = {
        feature: [
            each.is_done
            for each in sheets(folder).queue(Which(component="headlamp", feature=feature)).pictures
            if each.source == "number-nine"
        ]
        for feature in ("headlamp/kind", "headlamp/hood")
    }

    assert told == {"headlamp/kind": [True], "headlamp/hood": [False]}


@pytest.mark.parametrize(
    "which", [Which(lot="none"), Which(component="none"), Which(component="headlamp", feature="headlamp/none")]
)
def test_what_is_not_there_is_said(folder: Path, which: Which) -> None:
    with pytest.raises(UnknownRecordError):
        sheets(folder).queue(which)


def test_a_part_without_features_is_looked_for_in_all_pictures(folder: Path) -> None:
    a_text(folder / "components" / "body.yaml", "name: Body\nby: mh\ndate: 2026-01-10\n")

    assert len(sheets(folder).queue(Which(component="body")).pictures) == 4


def test_a_sheet_has_the_open_rows_of_what_the_picture_is_tagged_for(folder: Path) -> None:
    sheet = sheets(folder).sheet("number-nine", ALL)

    assert [row.key for row in sheet.seen_at_a_glance] == ["headlamp/sign:conduit", "headlamp/kind", "headlamp/hood"]
    assert [row.key for row in sheet.rows_of("headlamp", measured=True)] == ["headlamp/height"]
    assert [choices_of(row) for row in sheet.rows_of("headlamp", measured=False)] == [
        (("seen", "seen"), ("not-seen", "not seen"), ("out-of-view", "out of view")),
        (("acetylene", "acetylene lamp"), ("electric", "electric lamp"), ("out-of-view", "out of view")),
        (("present", "present"), ("absent", "absent"), ("out-of-view", "out of view")),
    ]
    assert choices_of(sheet.rows_of("headlamp", measured=True)[0]) == ()
    assert sheet.names_machine
    assert sheet.shows == ("No. 9, June 1934, known by its number",)
    assert sheet.page == 1
    assert sheet.pages == (1,)
    assert sheet.no_picture == ""
    assert sheet.examples[-2:] == ("11", "Velling trailer")


def test_a_picture_that_speaks_of_nothing_yet_is_asked_for_everything(folder: Path) -> None:
    sheet = sheets(folder).sheet("find-1", ALL)

    assert [component.id for component in sheet.components] == ["headlamp", "wheel"]
    assert sheet.left_out == 0
    assert not sheet.names_machine
    assert sheet.lots == (LOT,)


def test_of_very_many_rows_the_parts_that_are_needed_first_make_the_sheet(folder: Path) -> None:
    hoods = "".join(
        f"  - {{id: hood-{number}, name: Hood {number}, aspect: presence, kind: presence}}\n" for number in range(30)
    )
    for name in ("a", "b"):
        text = f"name: Part {name}\nby: mh\ndate: 2026-01-10\nfeatures:\n{hoods}"
        a_text(folder / "components" / f"{name}.yaml", text)

    sheet = sheets(folder).sheet("find-1", ALL)

    assert [component.id for component in sheet.components] == ["headlamp", "a"]
    assert len(sheet.rows) == 34 <= MOST_ROWS
    assert sheet.left_out == 32


def test_what_a_text_names_is_looked_for_with_the_reason(folder: Path) -> None:
    a_photograph(folder, "named", kind=None, state="untagged", title="A wheel in the yard")

    sheet = sheets(folder).sheet("named", ALL)

    assert [component.id for component in sheet.components] == ["wheel"]
    assert sheet.why["wheel"].why == "“wheel” in the title"


def test_more_parts_can_be_asked_for_and_what_nobody_knows_is_passed_over(folder: Path) -> None:
    sheet = sheets(folder).sheet("number-nine", ALL, more=["wheel", "none"])

    assert [component.id for component in sheet.components] == ["wheel", "headlamp"]


def test_what_was_looked_for_in_the_picture_stands_apart(folder: Path) -> None:
    look(folder, "number-nine", hood="present")

    sheet = sheets(folder).sheet("number-nine", ALL)

    assert [(row.key, row.claims) for row in sheet.looked_for] == [("headlamp/hood", ("headlamp-hood-present",))]
    assert "headlamp/hood" not in [row.key for row in sheet.rows]


def test_the_machine_of_the_picture_before_is_carried_over_within_a_lot(folder: Path) -> None:
    look(folder, "find-1", hood="out-of-view")
    own = sheets(folder)

    carried = own.sheet("find-2", ALL, before="find-1")

    assert carried.carried == "example=9,known_by=caption"
    assert carried.carried_words == "No. 9, known by a caption"
    assert own.sheet("find-1", ALL, before="find-1").carried == ""
    assert own.sheet("find-2", ALL, before="find-3").carried == ""
    assert own.sheet("number-nine", ALL, before="find-1").carried == ""


def test_a_page_that_is_not_there_is_said(folder: Path) -> None:
    with pytest.raises(UnknownRecordError, match="no page 2"):
        sheets(folder).sheet("number-nine", ALL, page=2)
    with pytest.raises(UnknownRecordError):
        sheets(folder).sheet("nothing", ALL)


def test_why_there_is_no_picture_is_said(folder: Path) -> None:
    (folder / "originals" / "number-nine" / "view.png").unlink()

    assert "view.png" in sheets(folder).sheet("number-nine", ALL).no_picture
    assert sheets(folder).sheet("photograph", ALL).no_picture == "no page of it can be shown"


@pytest.mark.parametrize(
    ("region", "is_placed"), [("percent:50,0,50,100", True), ("pixel:10,10,50,50", False), (None, True)]
)
def test_a_picture_that_is_kept_in_an_album_is_placed_on_its_page_where_that_can_be_told(
    folder: Path, region: str | None, *, is_placed: bool
) -> None:
    within = {"source": "number-nine", "pages": "1", **({"region": region} if region else {})}
    record = {"title": "Part", "kind": "photograph", "within": within, "by": "mh", "date": "2026-01-10"}
    a_text(folder / "sources" / "part.yaml", json.dumps(record))

    sheet = sheets(folder).sheet("part", ALL)

    assert sheet.is_placed is is_placed
    assert str(sheet.within or "") == (region if region and is_placed else "")


def test_that_somebody_looked_is_no_machine_that_the_picture_shows(folder: Path) -> None:
    before = sheets(folder).sheet("number-nine", ALL)
    look(folder, "number-nine", hood="out-of-view")

    sheet = sheets(folder).sheet("number-nine", ALL)

    assert sheet.shows[0] == before.shows[0]
    assert not any("looked for" in said for said in sheet.shows)
    archive = open_folder(folder).archive
    assert shown_words(archive, archive.sources["number-nine"])[-1] == "Headlamp, looked for: hood out of view"
