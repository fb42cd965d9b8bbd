from answers import faults_of
from hypothesis import given
from reports.pages import NOT_WHOLE, WIDTH, any_text, obeyed, overlong, widths

from provenance.reports.standing import Standing
from provenance.reports.used import Used, used_json, used_text
from provenance.rules.resting import Resting

STANDING = Standing(archive="Railcar No. 9", left_out=())
RESTS = (
    Resting(record="claims/a.yaml", how="claims “gas” for headlamp/kind, and handbook, page 3 supports it"),
    Resting(record="claims/a.yaml", how="claims “gas” for headlamp/kind, and handbook, page 9 supports it"),
    Resting(record="panels/b.yaml", how="was printed on 2026-06-01 (abcdef012345)"),
)


def test_records_are_counted_once_and_told_for_each_way() -> None:
    page = used_text(Used(standing=STANDING, of="sources/handbook.yaml", rests=RESTS), WIDTH)

    assert page.startswith("2 records rest on sources/handbook.yaml:\n  claims/a.yaml claims “gas”")
    assert page.endswith("  panels/b.yaml was printed on 2026-06-01 (abcdef012345)")
    assert overlong(page, WIDTH) == []


def test_that_nothing_rests_on_it_is_said() -> None:
    assert used_text(Used(standing=STANDING, of="headlamp/kind", rests=()), WIDTH) == "Nothing rests on headlamp/kind."


def test_programs_are_given_the_same() -> None:
    answer = used_json(Used(standing=STANDING, of="sources/handbook.yaml", rests=RESTS))

    assert faults_of(answer) == []
    assert answer["rests"] == [{"record": each.record, "how": each.how} for each in RESTS]


@given(any_text, any_text, widths)
def test_no_text_of_people_runs_the_terminal_or_over_the_edge(record: str, how: str, width: int) -> None:
    page = used_text(Used(standing=NOT_WHOLE, of=record, rests=(Resting(record=record, how=how),)), width)

    assert obeyed(page) == []
    assert overlong(page, width) == []


def test_what_is_not_the_whole_archive_is_said_first() -> None:
    page = used_text(Used(standing=NOT_WHOLE, of="headlamp/kind", rests=()), WIDTH)

    assert page.startswith("Not the whole archive")
