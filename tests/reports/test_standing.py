from answers import ANSWERS
from reports.pages import NOT_WHOLE, STANDING, WIDTH, obeyed, overlong

from provenance.reports.standing import LeftOut, Standing


def test_where_every_record_could_be_used_nothing_is_said() -> None:
    assert STANDING.as_lines(WIDTH) == []


def test_what_is_left_out_is_named_with_the_reason_before_an_empty_line() -> None:
    standing = Standing(archive="Railcar No. 9", left_out=NOT_WHOLE.left_out[:1])

    assert standing.as_lines(WIDTH) == [
        "Not the whole archive: one record takes no part in this answer (`provenance check` names the mends).",
        "  claims/one.yaml: line 5: there is no `handbok` among the sources",
        "",
    ]


def test_several_records_are_counted() -> None:
    first = NOT_WHOLE.as_lines(WIDTH)[0]

    assert first.startswith("Not the whole archive: 2 records take no part")


def test_reasons_keep_to_the_width_and_are_plain() -> None:
    page = "\n".join(NOT_WHOLE.as_lines(60))

    assert obeyed(page) == []
    assert overlong(page, 60) == []


def test_every_json_answer_begins_the_same() -> None:
    standing = Standing(archive="Railcar No. 9", left_out=(LeftOut(file="claims/one.yaml", why="it is empty"),))

    for name in ANSWERS:
        assert standing.as_json(name) == {
            "answer": name,
            "archive": "Railcar No. 9",
            "left_out": [{"file": "claims/one.yaml", "why": "it is empty"}],
        }
