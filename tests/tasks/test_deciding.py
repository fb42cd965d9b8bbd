from pathlib import Path
from typing import Any

import pytest
from tasks.team import TODAY, a_team_archive, a_text

from provenance.errors import ArchiveError, UnknownRecordError, UsageRefusedError, WriteRefusedError
from provenance.records.dates import parse_edtf
from provenance.records.decisions import Decision, Release
from provenance.reports.written import Written
from provenance.rules.judging import judge_feature
from provenance.tasks.deciding import Choice, decide, release, try_decide, try_release, untaken_id
from provenance.tasks.opening import open_folder

KIND = "headlamp/kind"
CLAIM = "headlamp-kind-acetylene"


def decided(folder: Path, build: str = "acetylene", feature: str = KIND, **given: Any) -> Written:
    choice = Choice(**{"build": build, "why": "as the handbook says", "basis": (CLAIM,), **given})
    return decide(folder, feature, choice, by="mh", today=TODAY)


def decision(folder: Path, decision_id: str) -> Decision:
    return open_folder(folder).archive.decisions[decision_id]


def in_force(folder: Path) -> str:
    found = judge_feature(open_folder(folder).archive, KIND).decision
    assert found is not None
    return found.id


def test_a_decision_is_written_whole_with_the_grade_that_its_value_has_now(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder

    done = decided(
        folder,
        set_aside=(),
        drawings=("R9-104:B", "R9-105"),
        tolerance="1/32 in",
        stamp="R9 on the rim",
        is_released=True,
    )

    written = decision(folder, "headlamp-kind-acetylene")
    assert (done.record, done.written) == (written.id, ("decisions/headlamp-kind-acetylene.yaml",))
    assert (written.status, written.grade_then, written.basis) == ("released", "uncorroborated", (CLAIM,))
    assert [(drawing.number, drawing.issue) for drawing in written.drawings] == [("R9-104", "B"), ("R9-105", None)]
    assert (written.tolerance, written.stamp, written.why) == ("1/32 in", "R9 on the rim", "as the handbook says")
    assert (written.by, str(written.date)) == ("mh", TODAY)
    assert written.released == Release(by="mh", date=parse_edtf(TODAY))


def test_without_more_a_decision_is_a_proposal_and_is_told_what_it_would_be_flagged_for(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder

    done = decided(folder)

    assert (decision(folder, done.record).status, decision(folder, done.record).released) == ("proposed", None)
    assert any("released as it is, it would be built on thin evidence" in sentence for sentence in done.said)


def test_a_released_build_on_thin_evidence_is_told_by_its_flag(tmp_path: Path) -> None:
    done = decided(a_team_archive(tmp_path).folder, is_released=True)

    assert any("built-on-thin-evidence" in sentence for sentence in done.said)


def test_a_new_decision_is_not_called_overtaken_by_what_was_known_to_whoever_took_it(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    claim = (folder / "claims" / f"{CLAIM}.yaml").read_text(encoding="utf-8")
    later = claim.replace("value: acetylene", "value: electric").replace("examples: all", 'examples: "5"')
    a_text(folder / "claims" / "electric.yaml", later)

    done = decided(folder, "electric", basis=("electric",), why="the only lamp to be had", is_released=True)

    assert decision(folder, done.record).grade_then == "outweighed"
    assert not any("decision-overtaken" in sentence for sentence in done.said)


@pytest.mark.parametrize(
    ("why", "said"),
    [("It looks right.", "does not say that this is conjecture"), ("Conjecture.", "conjecture, and is declared so")],
)
def test_conjecture_is_told(tmp_path: Path, why: str, said: str) -> None:
    folder = a_team_archive(tmp_path).folder

    done = decided(folder, "present", "headlamp/hood", basis=(), why=why)

    assert decision(folder, done.record).grade_then == "unsupported"
    assert any(said in sentence for sentence in done.said)


def test_a_modern_change_keeps_its_reason_and_its_note_and_the_grade_of_what_it_departs_from(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder

    done = decided(folder, "diodes in the old case", modern_change="safety: no flame among visitors", is_released=True)
    bare = decided(folder, "candle", modern_change="cost", why=None, basis=())

    change = decision(folder, done.record).modern_change
    assert change is not None
    assert (change.reason, change.note) == ("safety", "no flame among visitors")
    assert decision(folder, done.record).grade_then == "uncorroborated"
    assert any("does not say how" in sentence for sentence in bare.said)
    assert "“candle” is none of the options (acetylene, electric)." in bare.said
    assert not any("thin" in sentence for sentence in done.said)


def test_a_released_decision_takes_the_place_of_the_one_in_force_and_says_so(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    first = decided(folder, is_released=True)

    second = decided(folder, is_released=True)

    assert second.record == f"{first.record}-2"
    assert second.said[0] == f"It replaces {first.record}, which was in force (build “acetylene”)."
    assert decision(folder, second.record).replaces == first.record
    assert in_force(folder) == second.record


def test_a_released_decision_cannot_stand_beside_the_one_in_force(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    first = decided(folder, is_released=True)
    idea = decided(folder)

    with pytest.raises(UsageRefusedError) as refused:
        decided(folder, is_released=True, replaces=idea.record)
    named = decided(folder, is_released=True, replaces=first.record)

    assert f"--replaces {first.record}" in refused.value.mend
    assert in_force(folder) == named.record
    assert "It replaces" not in " ".join(named.said)


def test_a_proposal_is_released_by_its_id_with_the_grade_of_the_day(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    first = decided(folder, is_released=True)
    idea = decided(folder)
    path = folder / "decisions" / f"{idea.record}.yaml"
    a_text(path, path.read_text(encoding="utf-8").replace("uncorroborated", "probable") + "# as agreed in May\n")

    done = release(folder, idea.record, by="mh", today="2026-05-04")

    now = decision(folder, idea.record)
    assert (now.status, now.grade_then, now.replaces) == ("released", "uncorroborated", first.record)
    assert (now.by, str(now.date)) == ("mh", TODAY)
    assert now.released == Release(by="mh", date=parse_edtf("2026-05-04"))
    assert in_force(folder) == idea.record == done.record
    assert "# as agreed in May\n" in path.read_text(encoding="utf-8")


def test_a_hand_written_proposal_is_released_and_gets_its_grade(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    a_text(
        folder / "decisions" / "idea.yaml",
        f"about: {KIND}\nstatus: proposed\nbuild: acetylene\nby: mh\ndate: 2026-01-10\n",
    )

    release(folder, "idea", by="mh", today=TODAY)

    assert decision(folder, "idea").grade_then == "uncorroborated"
    with pytest.raises(UsageRefusedError, match="released already"):
        release(folder, "idea", by="mh", today=TODAY)
    with pytest.raises(UnknownRecordError) as unknown:
        release(folder, "idae", by="mh", today=TODAY)
    assert "`idea`" in unknown.value.mend


def test_a_decision_that_was_put_back_to_a_proposal_by_hand_says_who_released_it_last(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    signed = "released: {by: old-hand, date: 2025-01-10} # the first time\n"
    a_text(
        folder / "archive.yaml",
        (folder / "archive.yaml")
        .read_text(encoding="utf-8")
        .replace("people:", "people:\n  - {id: old-hand, name: An Old Hand}"),
    )
    a_text(
        folder / "decisions" / "idea.yaml",
        f"about: {KIND}\nstatus: proposed\nbuild: acetylene\n{signed}by: mh\ndate: 2025-01-10\n",
    )

    release(folder, "idea", by="mh", today=TODAY)

    assert decision(folder, "idea").released == Release(by="mh", date=parse_edtf(TODAY))
    assert "# the first time" in (folder / "decisions" / "idea.yaml").read_text(encoding="utf-8")


def test_nobody_releases_who_is_not_among_the_people(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    idea = decided(folder)
    before = (folder / idea.written[0]).read_bytes()

    with pytest.raises(UsageRefusedError, match="people"):
        release(folder, idea.record, by="stranger", today=TODAY)

    assert (folder / idea.written[0]).read_bytes() == before


def test_claims_that_do_not_bear_on_the_build_are_told(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    claim = (folder / "claims" / f"{CLAIM}.yaml").read_text(encoding="utf-8")
    hood = claim.replace("headlamp/kind", "headlamp/hood").replace("acetylene", "present", 1)
    withdrawn = "withdrawn: {why: a mistake, by: mh, date: 2026-01-11}\n"
    a_text(folder / "claims" / "hood.yaml", hood + withdrawn)

    other = decided(folder, basis=("hood",))
    none = decided(folder, basis=())

    assert "hood is about headlamp/hood." in other.said
    assert "hood is withdrawn." in other.said
    assert any(sentence.startswith("None of the claims named says so") for sentence in other.said)
    assert any(sentence.startswith("It names no claim that it rests on") for sentence in none.said)


@pytest.mark.parametrize(
    ("given", "what"),
    [
        ({"basis": ("headlamp-kind-acetylen",)}, "there is no `headlamp-kind-acetylen`"),
        ({"set_aside": (CLAIM,)}, "does not say why"),
        ({"set_aside": ("nothing=of another car",)}, "there is no `nothing`"),
        ({"modern_change": "fashion: looks better"}, "modern_change.reason"),
        ({"build": ""}, "build"),
        ({"replaces": "nothing"}, "there is no `nothing`"),
    ],
)
def test_what_is_not_there_is_refused_and_nothing_is_written(tmp_path: Path, given: dict[str, Any], what: str) -> None:
    folder = a_team_archive(tmp_path).folder

    with pytest.raises(UsageRefusedError, match=what):
        decided(folder, **given)

    assert not (folder / "decisions").exists()


def test_claims_are_set_aside_each_with_its_why(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder

    done = decided(folder, "electric", basis=(), set_aside=(f"{CLAIM}=a = b, of another car",))

    (aside,) = decision(folder, done.record).set_aside
    assert (aside.claim, aside.why) == (CLAIM, "a = b, of another car")


@pytest.mark.parametrize(
    ("feature", "mend"), [("headlamp/knid", "headlamp/kind"), ("bell/x", "component/feature"), ("headlamp/qqq", "hood")]
)
def test_an_unknown_feature_is_named_with_the_nearest(tmp_path: Path, feature: str, mend: str) -> None:
    folder = a_team_archive(tmp_path).folder

    with pytest.raises(UnknownRecordError) as unknown:
        decided(folder, feature=feature)

    assert mend in unknown.value.mend


def test_nothing_is_decided_before_it_is_said_what_is_represented(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    text = (folder / "archive.yaml").read_text(encoding="utf-8")
    a_text(
        folder / "archive.yaml", "\n".join(line for line in text.splitlines() if not line.startswith("target")) + "\n"
    )

    with pytest.raises(ArchiveError):
        decided(folder)


def test_an_id_is_as_long_as_an_id_may_be_and_not_taken() -> None:
    long = "word " * 40

    first = untaken_id((), "headlamp/kind", long)
    second = untaken_id((first,), "headlamp/kind", long)

    assert first.startswith("headlamp-kind-word")
    assert (len(first) <= 64, len(second) <= 64, second.endswith("-2")) == (True, True, True)


HEIGHT = """  - id: height
    name: Height of the lamp
    aspect: dimension
    kind: quantity
    unit: mm
"""


def with_a_height(scratch: Path) -> Path:
    folder = a_team_archive(scratch).folder
    lamp = folder / "components" / "headlamp.yaml"
    a_text(lamp, lamp.read_text(encoding="utf-8") + HEIGHT)
    return folder


@pytest.mark.parametrize(
    ("written", "choices"),
    [
        ("16 gauge", ("16 SWG", "16 BWG", "16 AWG")),
        ("3.4½", ("3 ft 4 1/2 in", "3.45 in")),
        ("40 in or so", ("40 in or so",)),
    ],
)
@pytest.mark.parametrize("field", ["build", "tolerance"])
def test_a_doubtful_figure_is_not_decided_on_and_the_choices_are_named(
    tmp_path: Path, written: str, choices: tuple[str, ...], field: str
) -> None:
    folder = with_a_height(tmp_path)

    with pytest.raises(UsageRefusedError) as refused:
        decided(folder, feature="headlamp/height", basis=(), why="Conjecture.", **{"build": "40 in", field: written})

    assert all(choice in f"{refused.value.what} {refused.value.mend}" for choice in choices)
    assert open_folder(folder).archive.decisions == {}


def test_words_are_built_to_where_no_figure_is_meant(tmp_path: Path) -> None:
    done = decided(with_a_height(tmp_path), "as the casting comes", "headlamp/height", basis=(), why="Conjecture.")

    assert done.written == ("decisions/headlamp-height-as-the-casting-comes.yaml",)


def test_what_would_be_said_of_a_decision_is_told_before_and_nothing_is_written(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    choice = Choice(build="acetylene", why="as the handbook says", is_released=True)

    tried = try_decide(opened, KIND, choice, by="mh", today=TODAY)

    assert open_folder(opened.folder).archive.decisions == {}
    done = decide(opened.folder, KIND, choice, by="mh", today=TODAY)
    assert (tried.record, tried.files, tried.said, tried.changes) == (done.record, done.written, done.said, ())
    assert any("built-on-thin-evidence" in sentence for sentence in tried.said)


def test_what_would_be_said_of_a_release_is_told_before_and_nothing_is_written(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    first, proposal = decided(folder, is_released=True), decided(folder)

    tried = try_release(open_folder(folder), proposal.record, by="mh", today=TODAY)

    assert decision(folder, proposal.record).status == "proposed"
    done = release(folder, proposal.record, by="mh", today=TODAY)
    assert (tried.files, tried.said) == (done.written, done.said)
    assert tried.said[0] == f"It replaces {first.record}, which was in force (build “acetylene”)."


@pytest.mark.parametrize("seen", ["", "another"])
def test_a_decision_that_nobody_saw_in_force_is_not_replaced_unawares(tmp_path: Path, seen: str) -> None:
    folder = a_team_archive(tmp_path).folder
    first = decided(folder, is_released=True)

    with pytest.raises(WriteRefusedError, match=f"{first.record} is in force by now"):
        decided(folder, is_released=True, seen_in_force=seen)

    assert decided(folder, seen_in_force=seen).written
    assert (
        decided(folder, is_released=True, seen_in_force=first.record).said[0].startswith(f"It replaces {first.record}")
    )


def test_what_was_seen_in_force_and_is_not_any_more_is_told(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder

    with pytest.raises(WriteRefusedError, match="nothing is in force any more, it was lamp"):
        decided(folder, is_released=True, seen_in_force="lamp")
