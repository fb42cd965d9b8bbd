from dataclasses import replace

from answers import faults_of
from hypothesis import given
from reports.pages import NOT_WHOLE, STANDING, WIDTH, any_text, obeyed, overlong, widths

from provenance.reports.kept import (
    Begun,
    Rebuilt,
    Upgraded,
    begun_json,
    begun_text,
    rebuilt_json,
    rebuilt_text,
    upgraded_json,
    upgraded_text,
)
from provenance.reports.standing import Standing
from provenance.rules.findings import UnreadPage

BEGUN = Begun(standing=STANDING, folder="our-railcar", written=(".gitattributes", "archive.yaml"))
REBUILT = Rebuilt(standing=STANDING, pages_read=0, fingerprinted=0, indexed=4, pruned=None, unread=())
UPGRADED = Upgraded(standing=STANDING, before=0, after=1, written=("archive.yaml",))


def test_a_new_archive_says_what_was_written_and_what_comes_next() -> None:
    assert begun_text(BEGUN, WIDTH).split("\n") == [
        "A new archive, “Railcar No. 9”, in our-railcar:",
        "  .gitattributes",
        "  archive.yaml",
        "Next: fill in archive.yaml (`provenance check` names its gaps), then `provenance ingest` your scans.",
    ]


def test_rebuilding_says_what_was_read_and_what_the_index_holds() -> None:
    assert rebuilt_text(REBUILT, WIDTH) == "No pages read now; the new index holds 4 entries."


def test_rebuilding_names_what_was_removed_and_every_page_that_could_not_be_read() -> None:
    unread = (UnreadPage(source="handbook", page=3, why="it is cut short"),)

    page = rebuilt_text(replace(REBUILT, pages_read=1, pruned=0, indexed=1, unread=unread), WIDTH)

    assert page.split("\n") == [
        "handbook, page 3: not read: it is cut short",
        "One page read now, no old readings or fingerprints removed; the new index holds one entry.",
    ]


def test_rebuilding_says_on_how_many_pages_the_pictures_were_looked_at_anew() -> None:
    assert rebuilt_text(replace(REBUILT, fingerprinted=3), WIDTH) == (
        "No pages read now; the pictures on 3 pages looked at anew; the new index holds 4 entries."
    )


def test_an_upgrade_says_from_what_to_what() -> None:
    assert upgraded_text(UPGRADED, WIDTH).split("\n") == ["Upgraded from format 0 to 1:", "  archive.yaml"]


def test_an_archive_of_todays_format_is_said_to_be_left_alone() -> None:
    page = upgraded_text(replace(UPGRADED, before=1, written=()), WIDTH)

    assert page == "The archive has format 1, which is today's; nothing was changed."


def test_what_is_not_the_whole_archive_is_said_first() -> None:
    assert rebuilt_text(replace(REBUILT, standing=NOT_WHOLE), WIDTH).startswith("Not the whole archive")


@given(any_text, widths)
def test_texts_of_others_stay_texts_and_lines_keep_to_the_width(text: str, width: int) -> None:
    standing = Standing(archive=text)
    unread = (UnreadPage(source=text, page=1, why=text),)
    pages = [
        begun_text(Begun(standing=standing, folder=text, written=(text,)), width),
        rebuilt_text(replace(REBUILT, unread=unread), width),
        upgraded_text(replace(UPGRADED, written=(text,)), width),
    ]

    for page in pages:
        assert obeyed(page) == []
        assert overlong(page, width) == []


def test_the_answers_keep_to_their_schemas_with_and_without_content() -> None:
    unread = (UnreadPage(source="handbook", page=3, why="it is cut short"),)
    answers = [
        begun_json(BEGUN),
        begun_json(replace(BEGUN, written=())),
        rebuilt_json(REBUILT),
        rebuilt_json(replace(REBUILT, standing=NOT_WHOLE, pages_read=3, pruned=2, unread=unread)),
        upgraded_json(UPGRADED),
        upgraded_json(replace(UPGRADED, standing=NOT_WHOLE, before=1, written=())),
    ]

    assert [faults_of(answer) for answer in answers] == [[]] * len(answers)


def test_a_program_is_told_what_people_are() -> None:
    unread = (UnreadPage(source="handbook", page=3, why="it is cut short"),)

    rebuilt = rebuilt_json(replace(REBUILT, pages_read=1, fingerprinted=5, pruned=2, unread=unread))

    assert (rebuilt["pages_read"], rebuilt["indexed"], rebuilt["pruned"]) == (1, 4, 2)
    assert rebuilt["fingerprinted"] == 5
    assert rebuilt["unread"] == [{"source": "handbook", "page": 3, "why": "it is cut short"}]
    assert begun_json(BEGUN)["folder"] == "our-railcar"
    assert begun_json(BEGUN)["written"] == [".gitattributes", "archive.yaml"]
    assert upgraded_json(UPGRADED) == STANDING.as_json("upgrade") | {
        "before": 0,
        "after": 1,
        "written": ["archive.yaml"],
    }
