"""The commands that ask: search, evidence, flags."""

from pathlib import Path

import click
import pytest
from cli.command_line import ROOT, SOUND, a_copy_of, ask, run
from tasks.team import a_text

from provenance.cli import main
from provenance.store.loading import load

SAMPLE = ROOT / "sample_archive" / "archive"


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    return a_copy_of(SOUND, tmp_path)


def test_a_page_is_found_by_what_it_says(archive: Path) -> None:
    run(archive, "rebuild", "--workers", "1")

    page = run(archive, "search", '"acetylene pattern"')
    answer = ask(archive, "search", '"acetylene pattern"', "--kind", "manual", "--limit", "1")

    assert page.exit_code == 0
    assert "Working instructions, page 1" in page.stdout
    assert [(hit["source"], hit["page"]) for hit in answer["hits"]] == [("handbook", 1)]
    assert answer["query"] == '"acetylene pattern"'


def test_nothing_found_is_no_fault(archive: Path) -> None:
    run(archive, "rebuild", "--workers", "1")

    result = run(archive, "search", "zeppelin")

    assert (result.exit_code, result.stdout) == (0, "Nothing was found for “zeppelin”.\n")


def test_a_search_that_cannot_look_on_pages_not_read_yet_says_so(archive: Path) -> None:
    result = run(archive, "search", "zeppelin")

    assert result.stdout.splitlines() == [
        "note: One page that was not read cannot be found; `provenance rebuild` reads what it can.",
        "Nothing was found for “zeppelin”.",
    ]


@pytest.mark.parametrize(
    ("narrowing", "found"),
    [
        (["--kind", "photograph"], {"photograph"}),
        (["--from", "1934"], {"photograph"}),
        (["--until", "1931"], {"handbook"}),
        (["--state", "untagged"], set()),
        (["--holder", "nobody"], set()),
        (["--component", "headlamp"], {"handbook"}),
    ],
)
def test_a_search_is_narrowed(archive: Path, narrowing: list[str], found: set[str]) -> None:
    answer = ask(archive, "search", "photograph instructions acetylene", *narrowing)

    assert {hit["source"] for hit in answer["hits"]} == found


@pytest.mark.parametrize(
    ("narrowing", "nearest"),
    [(["--kind", "photo"], "photograph"), (["--component", "headlmap"], "headlamp"), (["--from", "13.5.1934"], "1934")],
)
def test_narrowing_to_what_there_is_not_is_a_usage_error(archive: Path, narrowing: list[str], nearest: str) -> None:
    result = run(archive, "search", "lamp", *narrowing)

    assert result.exit_code == 2
    assert result.stdout == ""
    assert nearest in result.stderr
    assert ask(archive, "search", "lamp", *narrowing, code=2)["answer"] == "error"


def test_what_a_fitting_rests_on_is_shown(archive: Path) -> None:
    page = run(archive, "evidence", "headlamp/kind")
    answer = ask(archive, "evidence", "headlamp/kind")

    assert page.exit_code == 0
    assert "acetylene lamp: uncorroborated." in page.stdout
    assert "Working instructions (handbook), page 1" in page.stdout
    assert [feature["grade"] for feature in answer["features"]] == ["uncorroborated"]
    assert answer["features"][0]["flags"] == ["single-source"]


def test_a_component_is_shown_feature_by_feature(archive: Path) -> None:
    answer = ask(archive, "evidence", "headlamp")

    assert [feature["feature"] for feature in answer["features"]] == ["headlamp/kind", "headlamp/hood"]


def test_a_source_is_left_out_for_the_asking(archive: Path) -> None:
    answer = ask(archive, "evidence", "headlamp/kind", "--without", "handbook", "--without", "photograph")

    assert answer["without"] == ["handbook", "photograph"]
    assert answer["features"][0]["grade"] == "unsupported"


def test_what_needs_attention_is_shown(archive: Path) -> None:
    page = run(archive, "flags")
    answer = ask(archive, "flags")

    assert page.exit_code == 0
    assert "warn: headlamp/kind: single-source" in page.stdout
    assert {"single-source", "no-evidence"} <= {flag["flag"] for flag in answer["flags"]}


def test_flags_are_narrowed_to_one_rule_or_one_component(archive: Path) -> None:
    of_rule = ask(archive, "flags", "--rule", "single-source")
    of_component = ask(archive, "flags", "--component", "headlamp")

    assert [flag["about"] for flag in of_rule["flags"]] == ["headlamp/kind"]
    assert {flag["about"].partition("/")[0] for flag in of_component["flags"]} == {"headlamp"}


def test_strict_flags_end_with_1_only_where_something_is_worse_than_a_note(archive: Path) -> None:
    pressing = run(archive, "flags", "--strict")
    only_notes = run(archive, "flags", "--strict", "--rule", "rights-unclear")

    assert (pressing.exit_code, only_notes.exit_code) == (1, 0)
    assert ask(archive, "flags", "--strict", code=1)["answer"] == "flags"


def test_an_unknown_flag_is_a_usage_error(archive: Path) -> None:
    answer = ask(archive, "flags", "--rule", "single-sorce", code=2)

    assert "`single-source`" in answer["mend"]


def test_an_unknown_component_is_named_with_the_nearest(archive: Path) -> None:
    answer = ask(archive, "evidence", "headlmap", code=3)

    assert answer["what"] == "there is no component `headlmap`"
    assert "`headlamp`" in answer["mend"]


def test_what_is_not_the_whole_archive_is_said_first(archive: Path) -> None:
    (archive / "sources" / "photograph.yaml").write_text("title: [\n", encoding="utf-8")

    for words in (["search", "lamp"], ["evidence", "headlamp"], ["flags"]):
        assert run(archive, *words).stdout.startswith("Not the whole archive: one record takes no part")
        assert [record["file"] for record in ask(archive, *words)["left_out"]] == ["sources/photograph.yaml"]


def test_every_question_to_the_sample_archive_keeps_to_its_schema(tmp_path: Path) -> None:
    sample = a_copy_of(SAMPLE, tmp_path)
    components = sorted(load(sample).archive.components)

    answers = [ask(sample, "evidence", component) for component in components]

    assert all(answer["left_out"] == [] for answer in answers)
    assert sum(len(answer["features"]) for answer in answers) == len(load(sample).archive.features)
    assert ask(sample, "search", "headlamp bracket")["total"] > 0
    assert ask(sample, "flags")["flags"]
    assert ask(sample, "check")["answer"] == "check"


def test_a_caution_stands_first_in_the_sample_archive(tmp_path: Path) -> None:
    """The lagging of the exhaust held asbestos."""
    sample = a_copy_of(SAMPLE, tmp_path)

    assert run(sample, "evidence", "exhaust-lagging").stdout.startswith("CAUTION, asbestos")


def test_flags_about_a_part_or_a_source_with_a_hazard_begin_with_the_caution(archive: Path) -> None:
    for file, hazard in (("sources/handbook.yaml", "lead-paint"), ("components/headlamp.yaml", "pressure")):
        record = archive / file
        a_text(record, f"{record.read_text(encoding='utf-8')}hazards: [{hazard}]\n")

    of_both = ask(archive, "flags")
    of_the_part = ask(archive, "flags", "--rule", "single-source")

    assert [caution["hazard"] for caution in of_both["cautions"]] == ["lead-paint", "pressure"]
    assert [caution["hazard"] for caution in of_the_part["cautions"]] == ["pressure"]
    assert run(archive, "flags").stdout.startswith("CAUTION, lead-paint")


def test_the_commands_stand_in_the_order_in_which_a_newcomer_meets_them() -> None:
    met = ["new", "ingest", "search", "evidence", "flags", "check", "rebuild", "upgrade"]

    assert [name for name in main.list_commands(click.Context(main)) if name in met] == met
