from pathlib import Path

import pytest
from tasks.team import TODAY, a_team_archive, a_text

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.records.decisions import Query
from provenance.tasks.deciding import Choice, decide
from provenance.tasks.opening import open_folder
from provenance.tasks.querying import answer_query, raise_query

KIND = "headlamp/kind"
PANEL = "title: The lamps\nby: mh\ndate: 2026-01-10\n"


def query(folder: Path, query_id: str) -> Query:
    return open_folder(folder).archive.queries[query_id]


def test_a_feature_a_decision_and_a_panel_can_be_doubted(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    a_text(folder / "panels" / "lamps.yaml", PANEL)
    decide(folder, KIND, Choice(build="acetylene", why="so it is"), by="mh", today=TODAY)

    ids = [
        raise_query(folder, about, "An old driver says oil.", by="mh", today=TODAY).record
        for about in (KIND, "headlamp-kind-acetylene", "lamps", KIND)
    ]

    assert ids == ["headlamp-kind-query", "headlamp-kind-acetylene-query", "lamps-query", "headlamp-kind-query-2"]
    assert [query(folder, each).about for each in ids[:3]] == [KIND, "headlamp-kind-acetylene", "lamps"]
    assert all(query(folder, each).open for each in ids)


def test_who_raised_it_and_what_would_settle_it_are_kept(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder

    done = raise_query(
        folder,
        KIND,
        "He drove it.",
        by="mh",
        today=TODAY,
        raised_by="J. Marl",
        would_settle="a picture of the lamp open",
        query_id="marl-1",
    )

    kept = query(folder, "marl-1")
    assert done.written == ("queries/marl-1.yaml",)
    assert (kept.grounds, kept.raised_by, kept.would_settle) == (
        "He drove it.",
        "J. Marl",
        "a picture of the lamp open",
    )


@pytest.mark.parametrize("state", ["", "state: open\n"])
def test_an_answer_is_added_and_the_comments_stay(tmp_path: Path, state: str) -> None:
    folder = a_team_archive(tmp_path).folder
    path = folder / "queries" / "doubt.yaml"
    a_text(path, f"# from the open day\nabout: {KIND}\ngrounds: oil?\n{state}by: mh\ndate: 2026-01-10\n")

    done = answer_query(folder, "doubt", "The burner was found: gas.", answered_by="T. Wenlark", today=TODAY)

    answered = query(folder, "doubt")
    assert (answered.open, answered.answer, answered.answered_by) == (False, "The burner was found: gas.", "T. Wenlark")
    assert str(answered.answered_date) == TODAY
    assert path.read_text(encoding="utf-8").startswith("# from the open day\n")
    assert done.record == "doubt"


def test_a_query_is_answered_once(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    raise_query(folder, KIND, "oil?", by="mh", today=TODAY, query_id="doubt")
    answer_query(folder, "doubt", "gas", answered_by="mh", today=TODAY)

    with pytest.raises(UsageRefusedError, match="was answered on 2026-02-01: gas"):
        answer_query(folder, "doubt", "oil", answered_by="mh", today=TODAY)


def test_what_is_not_there_is_neither_doubted_nor_answered(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    raise_query(folder, KIND, "oil?", by="mh", today=TODAY, query_id="doubt")
    cases = {"headlamp/knid": "headlamp/kind", "headlamp": "headlamp/kind, headlamp/hood", "zzz": "name a feature"}

    for about, mend in cases.items():
        with pytest.raises(UnknownRecordError) as unknown:
            raise_query(folder, about, "oil?", by="mh", today=TODAY)
        assert mend in unknown.value.mend
    with pytest.raises(UsageRefusedError, match="is a query itself"):
        raise_query(folder, "doubt", "oil?", by="mh", today=TODAY)
    with pytest.raises(UnknownRecordError, match="there is no query `dubt`"):
        answer_query(folder, "dubt", "gas", answered_by="mh", today=TODAY)


def test_a_doubt_without_grounds_is_refused(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder

    with pytest.raises(UsageRefusedError, match="grounds"):
        raise_query(folder, KIND, "", by="mh", today=TODAY)
