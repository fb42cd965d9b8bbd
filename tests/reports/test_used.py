from answers import faults_of
from reports.pages import WIDTH, overlong

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
