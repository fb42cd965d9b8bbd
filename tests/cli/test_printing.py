import json
from pathlib import Path

import pytest
from answers import faults_of
from cli.command_line import ask, run
from public_folders import TODAY, a_folder_that_holds_back, canaries_in, let_names_tell

from provenance.tasks.citing_styles import style_sheet
from provenance.tasks.opening import open_folder


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return a_folder_that_holds_back(tmp_path)


def test_an_appendix_is_written_and_its_printing_kept(folder: Path, tmp_path: Path) -> None:
    output = tmp_path / "lamp.html"

    answer = ask(folder, "appendix", "lamp", "--output", str(output), "--date", TODAY)

    assert answer["written"] == ["panels/lamp.yaml"]
    assert (answer["record"], answer["output"], answer["draft"], answer["sources"]) == ("lamp", str(output), False, 1)
    assert len(open_folder(folder).archive.panels["lamp"].printed) == 1


def test_an_appendix_says_where_it_was_written(folder: Path, tmp_path: Path) -> None:
    output = tmp_path / "lamp.md"

    said = run(folder, "appendix", "lamp", "--output", str(output)).stdout

    assert "The appendix of lamp cites one source." in said
    assert f"written: {output}\nwritten: panels/lamp.yaml\n" in said


def test_what_is_not_cleared_is_a_refused_write(folder: Path, tmp_path: Path) -> None:
    source = folder / "sources/handbook.yaml"
    source.write_text(source.read_text(encoding="utf-8").replace("publish: allowed", "publish: ask"), encoding="utf-8")

    refused = run(folder, "appendix", "lamp", "--output", str(tmp_path / "lamp.html"))
    draft = run(folder, "appendix", "lamp", "--output", str(tmp_path / "lamp.html"), "--draft")

    assert refused.exit_code == 4
    assert "(1) ask whoever holds the rights about “Working instructions” (handbook)" in refused.stderr
    assert draft.exit_code == 0
    assert "A draft of lamp cites one source." in draft.stdout


@pytest.mark.parametrize("ending", ["pdf", "docx"])
def test_an_appendix_is_written_in_the_format_that_its_name_asks_for(folder: Path, tmp_path: Path, ending: str) -> None:
    output = tmp_path / f"lamp.{ending}"

    assert run(folder, "appendix", "lamp", "--output", str(output)).exit_code == 0

    assert output.read_bytes().startswith({"pdf": b"%PDF-", "docx": b"PK"}[ending])


def test_sources_are_cited_in_the_style_that_is_asked_for(folder: Path, tmp_path: Path) -> None:
    ours = tmp_path / "house.csl"
    ours.write_bytes(style_sheet("iso-690-author-date").data.replace(b"undated", b"no date known"))
    written, asked = {}, (None, "iso-690-author-date", str(ours))

    for style in asked:
        output = tmp_path / "lamp.md"
        answer = ask(folder, "appendix", "lamp", "--output", str(output), *(["--style", style] if style else []))
        assert answer["style"] == (style or "iso-690-numeric")
        written[style] = output.read_text(encoding="utf-8")

    assert [text.count("(Working instructions, 1931") for text in written.values()] == [0, 1, 1]
    assert [text.count("Held by") for text in written.values()] == [0, 0, 0]


@pytest.mark.parametrize("style", ["iso-690-numerik", "nowhere.csl"])
def test_a_style_that_is_not_there_is_a_usage_error_with_a_mend(folder: Path, tmp_path: Path, style: str) -> None:
    refused = run(folder, "appendix", "lamp", "--output", str(tmp_path / "lamp.html"), "--style", style)

    assert refused.exit_code == 2
    assert style in refused.stderr
    assert "mend:" in refused.stderr
    assert not (tmp_path / "lamp.html").exists()


@pytest.mark.parametrize("name", ["lamp.odt", "nowhere/lamp.html"])
def test_a_place_where_it_cannot_be_written_is_a_usage_error(folder: Path, tmp_path: Path, name: str) -> None:
    assert run(folder, "appendix", "lamp", "--output", str(tmp_path / name)).exit_code == 2


@pytest.mark.parametrize("audience", ["contractor", "public"])
@pytest.mark.parametrize("ending", ["txt", "json"])
def test_no_word_of_what_is_withheld_is_told_to_a_contractor_or_to_the_public(
    folder: Path, tmp_path: Path, audience: str, ending: str
) -> None:
    output = tmp_path / f"lamp.{ending}"

    printed = run(folder, "evidence", "headlamp", "--for", audience, "--output", str(output))
    shown = run(folder, "evidence", "headlamp", "--for", audience)
    answer = ask(folder, "evidence", "headlamp", "--for", audience)

    assert printed.stdout == f"written: {output}\n"
    for data in (output.read_bytes(), shown.stdout_bytes, json.dumps(answer).encode()):
        assert canaries_in(data) == []
        assert b"modern re-creation" in data
        assert b"A source held privately supports this too." in b" ".join(data.split())
    assert answer["for"] == audience


@pytest.mark.parametrize("audience", ["contractor", "public"])
def test_names_that_tell_are_struck_out_of_what_is_shown_outside_the_team(
    folder: Path, tmp_path: Path, audience: str
) -> None:
    let_names_tell(folder)
    output = tmp_path / "lamp.txt"

    shown = run(folder, "evidence", "headlamp", "--for", audience)
    answer = ask(folder, "evidence", "headlamp", "--for", audience)
    run(folder, "evidence", "headlamp", "--for", audience, "--output", str(output))

    for data in (shown.stdout_bytes, json.dumps(answer).encode(), output.read_bytes()):
        assert canaries_in(data) == []
        assert b"[withheld]" in data
    assert answer["archive"] == "Railcar No. 9, gift of [withheld]"
    assert (answer["features"][0]["value"], answer["features"][0]["decision"]["released"]) == ("acetylene", None)
    if audience == "contractor":
        assert b"To drawing: [withheld] issue of [withheld]." in shown.stdout_bytes


def test_the_team_and_its_workshop_are_told_everything(folder: Path, tmp_path: Path) -> None:
    output = tmp_path / "brief.txt"

    team = ask(folder, "evidence", "headlamp")
    run(folder, "evidence", "headlamp", "--for", "workshop", "--output", str(output))

    assert (team["for"], team["notices"]) == ("team", [])
    assert canaries_in(json.dumps(team).encode())
    assert canaries_in(output.read_bytes())
    assert "Make: nothing yet: nothing has been decided." in output.read_text(encoding="utf-8")


def test_a_file_of_evidence_is_the_answer_itself(folder: Path, tmp_path: Path) -> None:
    output = tmp_path / "lamp.json"

    run(folder, "evidence", "headlamp", "--output", str(output))

    written = json.loads(output.read_text(encoding="utf-8"))
    assert faults_of(written) == []
    assert written == ask(folder, "evidence", "headlamp")


def test_public_evidence_is_stopped_by_rights_and_a_draft_says_that_it_is_one(folder: Path) -> None:
    source = folder / "sources/handbook.yaml"
    source.write_text(source.read_text(encoding="utf-8").replace("publish: allowed", "publish: ask"), encoding="utf-8")

    assert run(folder, "evidence", "headlamp", "--for", "public").exit_code == 4
    assert run(folder, "evidence", "headlamp").exit_code == 0
    assert run(folder, "evidence", "headlamp", "--draft").exit_code == 2
    assert "DRAFT" in run(folder, "evidence", "headlamp", "--for", "public", "--draft").stdout


def test_public_evidence_is_judged_on_what_may_be_shown_on_the_day_that_it_is_asked_for(folder: Path) -> None:
    source = folder / "sources/handbook.yaml"
    closed = source.read_text(encoding="utf-8").replace("access: open", "access: closed\naccess_until: 2030-06-30")
    source.write_text(closed, encoding="utf-8")

    before, after = (
        ask(folder, "evidence", "headlamp/kind", "--for", "public", "--date", day)["features"][0]["grade"]
        for day in ("2030-06-30", "2030-07-01")
    )

    assert (before, after) == ("unsupported", "uncorroborated")
    assert run(folder, "evidence", "headlamp", "--for", "public", "--date", "2030").exit_code == 2
    assert run(folder, "evidence", "headlamp", "--date", "2030-07-01").exit_code == 2


def test_public_evidence_can_be_asked_for_without_a_source(folder: Path) -> None:
    answer = ask(folder, "evidence", "headlamp/kind", "--for", "public", "--without", "handbook")

    assert answer["features"][0]["grade"] == "unsupported"
    assert run(folder, "evidence", "headlamp", "--for", "public", "--without", "canaryteamid").exit_code == 3


def test_a_public_draft_of_an_archive_that_is_not_whole_names_no_record(folder: Path) -> None:
    (folder / "sources" / "canarybroken.yaml").write_text("title: [\n", encoding="utf-8")

    answer = ask(folder, "evidence", "headlamp", "--for", "public", "--draft")

    assert answer["left_out"] == [{"file": "(a record)", "why": "it could not be used"}]
    assert run(folder, "evidence", "headlamp", "--for", "public").exit_code == 4
