"""What was seen in one photograph is written down in one plan, as the commands would have written it."""

import shutil
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from threading import Barrier
from typing import Any

import pytest
from cli.command_line import ask
from tasks.photographs import a_photograph, photographs
from web.writing_client import state_of_records

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.reports.written import Written
from provenance.rules.looked_for import looked_for
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.plans import ChangedMeanwhileError
from provenance.tasks.shown_texts import ChangedUnderneathError, texts_now
from provenance.tasks.writing_sheets import SheetAnswers, plan_sheet, write_sheet

TODAY = "2026-02-01"
MACHINE = "example=10,when=about 1935,known_by=number"
WHERE = "percent:10,20,30,15"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return photographs(tmp_path)


@pytest.fixture
def twin(folder: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(folder, tmp_path / "twin"))


def write(folder: Path, source: str = "number-nine", **told: Any) -> Written:
    return write_sheet(folder, SheetAnswers(source=source, page=1, **told), by="mh", today=TODAY)


def by_command(folder: Path, *words: str) -> None:
    ask(folder, *words, *(("--by", "mh", "--date", TODAY) if words[0] == "claim" else ()))


def test_a_sheet_writes_what_tag_and_claim_write_one_after_another(folder: Path, twin: Path) -> None:
    answers = {
        "headlamp/kind": "electric",
        "headlamp/sign:conduit": "seen",
        "headlamp/sign:box": "seen",
        "headlamp/hood": "absent",
        "headlamp/height": "1029 mm",
        "wheel/spokes": "curved",
        "wheel/mark": "V.R.",
    }

    written = write(
        folder, "find-1", answers=answers, regions={"headlamp/hood": WHERE}, kind="photograph", machine=MACHINE
    )

    at = ("--source", "find-1", "--page", "1")
    by_command(
        twin, "tag", "find-1", "--kind", "photograph", "--shows", MACHINE,
        "--shows", "component=headlamp,note=looked for: sign box seen",
    )  # fmt: skip
    by_command(twin, "claim", "headlamp/kind", "electric", *at, "--sign", "conduit=seen")
    by_command(twin, "claim", "headlamp/hood", "absent", *at, "--region", WHERE)
    by_command(twin, "claim", "headlamp/height", "1029 mm", *at, "--how", "measured")
    by_command(twin, "claim", "wheel/spokes", "curved", *at)
    by_command(twin, "claim", "wheel/mark", "V.R.", *at)
    assert state_of_records(folder) == state_of_records(twin)
    assert written.written[0] == "sources/find-1.yaml"
    assert len(written.written) == 6
    assert ask(folder, "check")["problems"] == ask(twin, "check")["problems"]


@pytest.mark.parametrize(("seen", "option"), [("seen", "electric"), ("not-seen", "acetylene")])
def test_a_sign_alone_goes_to_the_option_that_it_speaks_for_as_implied(
    folder: Path, twin: Path, seen: str, option: str
) -> None:
    write(folder, answers={"headlamp/sign:conduit": seen}, regions={"headlamp/sign:conduit": WHERE})

    by_command(
        twin, "claim", "headlamp/kind", option, "--source", "number-nine", "--page", "1", "--region", WHERE,
        "--how", "implies", "--sign", f"conduit={seen}",
    )  # fmt: skip
    assert state_of_records(folder) == state_of_records(twin)


def test_what_is_out_of_view_makes_no_claim_but_it_is_kept_that_somebody_looked(folder: Path, twin: Path) -> None:
    hidden = dict.fromkeys(("headlamp/sign:conduit", "headlamp/kind", "wheel/spokes"), "out-of-view")

    written = write(folder, answers=hidden)

    by_command(
        twin, "tag", "number-nine",
        "--shows", "component=headlamp,note=looked for: kind out of view; sign conduit out of view",
        "--shows", "component=wheel,note=looked for: spokes out of view",
    )  # fmt: skip
    assert state_of_records(folder) == state_of_records(twin)
    assert written.written == ("sources/number-nine.yaml",)
    assert set(looked_for(open_folder(folder).archive.sources["number-nine"])) == set(hidden)


def test_a_sign_out_of_view_beside_one_that_is_seen_stays_with_it(folder: Path) -> None:
    lamp = folder / "components" / "headlamp.yaml"
    text = lamp.read_text(encoding="utf-8")
    more = "{sign: conduit, expect: always, source: handbook}\n          - {sign: box, expect: always}"
    lamp.write_text(text.replace("{sign: conduit, expect: always, source: handbook}", more), encoding="utf-8")

    write(folder, answers={"headlamp/sign:conduit": "seen", "headlamp/sign:box": "out-of-view"})

    (claim,) = [each for each in open_folder(folder).archive.claims.values() if each.value == "electric"]
    assert dict(claim.evidence[0].signs) == {"conduit": "seen", "box": "out-of-view"}
    assert looked_for(open_folder(folder).archive.sources["number-nine"]) == {}


def test_the_place_of_several_signs_is_the_smallest_that_holds_them_all(folder: Path) -> None:
    lamp = folder / "components" / "headlamp.yaml"
    text = lamp.read_text(encoding="utf-8")
    more = "{sign: conduit, expect: always, source: handbook}\n          - {sign: box, expect: always}"
    lamp.write_text(text.replace("{sign: conduit, expect: always, source: handbook}", more), encoding="utf-8")

    write(
        folder,
        answers={"headlamp/sign:conduit": "seen", "headlamp/sign:box": "seen"},
        regions={"headlamp/sign:conduit": "percent:10,20,30,5", "headlamp/sign:box": "percent:35,10,20.5,5"},
    )

    (claim,) = [each for each in open_folder(folder).archive.claims.values() if each.value == "electric"]
    assert str(claim.evidence[0].at.region) == "percent:10,10,45.5,15"


def test_what_is_not_answered_is_not_written(folder: Path) -> None:
    before = state_of_records(folder)

    written = write(folder, "find-1", kind="photograph")

    assert written.written == ()
    assert written.said
    assert state_of_records(folder) == before


def test_the_same_sheet_sent_twice_writes_once(folder: Path) -> None:
    told = {"answers": {"headlamp/kind": "electric", "wheel/spokes": "out-of-view"}, "machine": MACHINE}
    write(folder, "find-1", kind="photograph", **told)
    before = state_of_records(folder)

    again = write(folder, "find-1", kind="photograph", **told)

    assert again.written == ()
    assert state_of_records(folder) == before


def test_a_sheet_that_was_half_written_is_finished_when_it_is_sent_again(folder: Path) -> None:
    shown = opened_with_what_a_page_showed(folder, "find-1")
    write(folder, "find-1", kind="photograph", machine=MACHINE)
    told = SheetAnswers(
        source="find-1", page=1, kind="photograph", machine=MACHINE, answers={"headlamp/kind": "electric"}
    )

    written = write_sheet(shown, told, by="mh", today=TODAY)

    assert written.written == ("claims/headlamp-kind-electric.yaml",)


def opened_with_what_a_page_showed(folder: Path, source: str) -> Opened:
    file = f"sources/{source}.yaml"
    return replace(open_folder(folder), shown={file: texts_now(folder, [file])[file].sha256})


def test_a_source_that_somebody_else_tagged_meanwhile_is_not_written_over(folder: Path) -> None:
    shown = opened_with_what_a_page_showed(folder, "find-1")
    by_command(folder, "tag", "find-1", "--kind", "photograph", "--shows", "4")
    before = state_of_records(folder)
    told = SheetAnswers(source="find-1", page=1, machine=MACHINE, answers={"headlamp/kind": "electric"})

    with pytest.raises(ChangedUnderneathError):
        write_sheet(shown, told, by="mh", today=TODAY)

    assert state_of_records(folder) == before


def test_a_machine_that_the_record_names_already_is_not_named_twice(folder: Path) -> None:
    write(folder, answers={"headlamp/hood": "present"}, machine="example=9,when=June 1934")

    archive = open_folder(folder).archive
    assert len(archive.sources["number-nine"].shows) == 1
    assert str(archive.claims["headlamp-hood-present"].applies_to.examples) == "9"


def test_of_two_machines_in_one_photograph_the_one_that_was_looked_at_is_named(folder: Path) -> None:
    write(folder, answers={"headlamp/hood": "present"}, machine="example=10,known_by=caption")

    archive = open_folder(folder).archive
    (item,) = archive.claims["headlamp-hood-present"].evidence
    assert item.seen is not None
    assert item.seen.example == "10"
    assert [shown.example for shown in archive.sources["number-nine"].shows] == ["9", "10"]


def test_where_no_machine_is_known_it_has_to_be_said_what_the_answers_cover(folder: Path) -> None:
    a_photograph(folder, "somewhere")
    before = state_of_records(folder)

    with pytest.raises(UsageRefusedError, match="not said which machine"):
        write(folder, "somewhere", answers={"headlamp/hood": "present"})
    with pytest.raises(UsageRefusedError, match="not said which machine"):
        write(folder, "somewhere", answers={"headlamp/hood": "present"}, machine="when=1934")
    assert state_of_records(folder) == before

    write(folder, "somewhere", answers={"headlamp/hood": "present"}, applies_to="batch=third")
    assert open_folder(folder).archive.claims["headlamp-hood-present"].applies_to.batch == "third"


def test_what_is_absent_is_not_believed_without_the_place_where_it_would_be(folder: Path) -> None:
    before = state_of_records(folder)

    with pytest.raises(UsageRefusedError, match="absent"):
        write(folder, answers={"headlamp/hood": "absent", "wheel/spokes": "curved"})

    assert state_of_records(folder) == before


@pytest.mark.parametrize(
    ("key", "answer", "error"),
    [
        ("lamp/kind", "electric", UnknownRecordError),
        ("headlamp/kindd", "electric", UnknownRecordError),
        ("headlamp/sign:hood", "seen", UnknownRecordError),
        ("headlamp/sign:conduit", "perhaps", UsageRefusedError),
        ("headlamp/kind", "oil", UsageRefusedError),
        ("headlamp/height", "high", UsageRefusedError),
    ],
)
def test_an_answer_that_cannot_be_leaves_everything_as_it_was(
    folder: Path, key: str, answer: str, error: type[Exception]
) -> None:
    before = state_of_records(folder)

    with pytest.raises(error):
        write(folder, answers={"wheel/spokes": "curved", key: answer})

    assert state_of_records(folder) == before


@pytest.mark.parametrize("region", ["percent:1,2,3", "here"])
def test_a_region_that_is_none_is_refused(folder: Path, region: str) -> None:
    with pytest.raises(UsageRefusedError):
        write(folder, answers={"headlamp/hood": "absent"}, regions={"headlamp/hood": region})


def test_a_source_that_is_not_there_is_refused(folder: Path) -> None:
    with pytest.raises(UnknownRecordError):
        write(folder, "find-9", answers={"headlamp/hood": "present"})


def _send(shown: Opened, told: SheetAnswers, meanwhile: Barrier) -> tuple[str, ...]:
    meanwhile.wait()
    return write_sheet(shown, told, by="mh", today=TODAY).written


def test_the_same_sheet_sent_twice_at_once_is_written_once_and_refused_to_nobody(folder: Path) -> None:
    told = SheetAnswers(
        source="find-1", page=1, kind="photograph", machine=MACHINE, answers={"headlamp/kind": "electric"}
    )
    together = Barrier(2)
    shown = opened_with_what_a_page_showed(folder, "find-1")

    with ThreadPoolExecutor(2) as two:
        both = list(two.map(lambda _: _send(shown, told, together), range(2)))

    assert sorted({file for written in both for file in written}) == [
        "claims/headlamp-kind-electric.yaml",
        "sources/find-1.yaml",
    ]
    archive = open_folder(folder).archive
    assert len(archive.sources["find-1"].shows) == 1
    assert len(archive.claims["headlamp-kind-electric"].evidence) == 1


def test_a_record_that_is_written_between_reading_and_planning_is_read_anew(folder: Path) -> None:
    stale = replace(open_folder(folder), read=None)
    told = SheetAnswers(
        source="find-1", page=1, kind="photograph", machine=MACHINE, answers={"headlamp/hood": "present"}
    )
    by_command(folder, "tag", "find-1", "--kind", "photograph", "--shows", MACHINE)

    with pytest.raises(ChangedMeanwhileError):
        plan_sheet(stale, told, by="mh", today=TODAY)


@pytest.mark.parametrize("box", ["pixel:1,2,3,4", "here"])
def test_places_that_cannot_be_put_together_are_not_guessed_at(folder: Path, box: str) -> None:
    lamp = folder / "components" / "headlamp.yaml"
    text = lamp.read_text(encoding="utf-8")
    more = "{sign: conduit, expect: always, source: handbook}\n          - {sign: box, expect: always}"
    lamp.write_text(text.replace("{sign: conduit, expect: always, source: handbook}", more), encoding="utf-8")
    before = state_of_records(folder)

    with pytest.raises(UsageRefusedError):
        write(
            folder,
            answers={"headlamp/sign:conduit": "seen", "headlamp/sign:box": "seen"},
            regions={"headlamp/sign:conduit": "percent:10,20,30,5", "headlamp/sign:box": box},
        )

    assert state_of_records(folder) == before
