from pathlib import Path

import pytest
from tasks.team import TODAY, a_team_archive

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.tasks.deciding import Choice, decide
from provenance.tasks.opening import open_folder
from provenance.tasks.using import used

CLAIM = "headlamp-kind-acetylene"


def test_what_rests_on_a_source_is_followed_to_the_decision(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    decide(
        folder,
        "headlamp/kind",
        Choice(build="acetylene", basis=(CLAIM,), why="so it is", id="lamp"),
        by="mh",
        today=TODAY,
    )

    answer = used(open_folder(folder), "handbook")

    assert answer.of == "sources/handbook.yaml"
    assert [each.record for each in answer.rests] == [f"claims/{CLAIM}.yaml", "decisions/lamp.yaml"]


def test_a_feature_is_named_as_it_is_asked_for(tmp_path: Path) -> None:
    answer = used(a_team_archive(tmp_path), "headlamp/kind")

    assert answer.of == "headlamp/kind"
    assert [each.record for each in answer.rests] == [f"claims/{CLAIM}.yaml"]


def test_an_id_of_two_kinds_is_asked_back(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    decide(folder, "headlamp/kind", Choice(build="acetylene", basis=(CLAIM,), why="so it is"), by="mh", today=TODAY)

    with pytest.raises(UsageRefusedError) as refused:
        used(open_folder(folder), CLAIM)

    assert refused.value.mend == f"say which: `claims/{CLAIM}` or `decisions/{CLAIM}`"
    assert used(open_folder(folder), f"claims/{CLAIM}").rests[0].record == f"decisions/{CLAIM}.yaml"


def test_what_nothing_is_named_is_told_with_the_nearest(tmp_path: Path) -> None:
    with pytest.raises(UnknownRecordError) as unknown:
        used(a_team_archive(tmp_path), "handbok")

    assert "`handbook`" in unknown.value.mend
