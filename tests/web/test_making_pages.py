"""What was made, in the pages: to which decision, whether it fits, its photograph; and the command's own records."""

import io
from pathlib import Path

import pytest
from cli.command_line import ask
from PIL import Image
from web.deciding_archives import BY, HEIGHT, KIND, an_archive_to_decide_in, told
from web.writing_client import Desk, state_of_records

MADE = f"/fittings/{HEIGHT}/made"
BUILD = "3 ft 4 1/2 in"


def released(scratch: Path) -> Path:
    folder = an_archive_to_decide_in(scratch)
    decide(folder, BUILD, "--release")
    return folder


def decide(folder: Path, build: str, *more: str) -> str:
    return str(ask(folder, "decide", HEIGHT, "--build", build, "--why", "Conjecture.", *more, *BY)["record"])


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(released(tmp_path))


@pytest.fixture
def twin(tmp_path: Path) -> Path:
    return released(tmp_path / "twin")


def a_picture(text: str = "made") -> bytes:
    data = io.BytesIO()
    Image.new("RGB", (60, 40), (len(text), 90, 40)).save(data, "PNG")
    return data.getvalue()


def test_a_piece_is_the_record_that_the_command_writes(desk: Desk, twin: Path) -> None:
    answer = desk.send(
        desk.open(MADE),
        as_made="40 9/16 in",
        fits="well",
        inspected_by="T. Wenlark",
        note="first of two",
        photo="print",
    )

    assert (answer.status_code, answer.location) == (303, f"/fittings/{HEIGHT}")
    options = ["--fits", "well", "--inspected-by", "T. Wenlark", "--note", "first of two", "--photo", "print"]
    done = ask(twin, "made", HEIGHT, "--as-made", "40 9/16 in", *options, *BY)
    assert state_of_records(desk.folder) == state_of_records(twin)
    page = told(desk.client.get(answer.location).text)
    assert "Decided was “3 ft 4 1/2 in”, made was “40 9/16 in”." in done["said"]
    assert all(sentence in page for sentence in done["said"])


def test_a_misfit_puts_both_parts_in_doubt_which_is_said_before_and_after(desk: Desk, twin: Path) -> None:
    page = desk.client.get(MADE)
    before = told(page.text)
    assert "a query is opened on Headlamp: Height of the lamp and Bracket: Height of the bracket" in before

    answer = desk.send(desk.form_of(page), as_made="41 in", fits="badly", note="half an inch proud")

    done = ask(twin, "made", HEIGHT, "--as-made", "41 in", "--fits", "badly", "--note", "half an inch proud", *BY)
    assert len(done["written"]) == 3
    assert state_of_records(desk.folder) == state_of_records(twin)
    after = "“Headlamp: Height of the lamp” and “Bracket: Height of the bracket” are queried"
    assert after in told(desk.client.get(answer.location).text)


def test_a_part_that_fits_nothing_on_record_says_so(desk: Desk) -> None:
    ask(desk.folder, "decide", KIND, "--build", "electric", "--why", "as seen", "--release", *BY)

    page = told(Desk(desk.folder).client.get(f"/fittings/{KIND}/made").text)

    assert "a query is opened on Headlamp: Kind of lamp; no part is written down that it has to fit" in page


def test_where_the_record_is_refused_after_the_photograph_was_taken_in_what_was_written_is_said(desk: Desk) -> None:
    form = desk.open(MADE)
    (desk.folder / "queries").write_text("a file where the folder of the queries should be", encoding="utf-8")
    sent = {"photo-file": (io.BytesIO(a_picture()), "bench.png"), "fits": "badly"}

    refused = desk.send(form, sent, as_made=BUILD)  # type: ignore[arg-type]

    page = told(refused.text)
    assert refused.status_code == 409
    assert "Not all of it was written" in page
    assert "Written before that: sources/bench-98247230.yaml" in page
    assert desk.form_of(refused).fields["as-made"] == [BUILD]


def test_a_photograph_from_the_camera_is_taken_in_as_the_command_takes_it_in(
    desk: Desk, twin: Path, tmp_path: Path
) -> None:
    (tmp_path / "bench.png").write_bytes(a_picture())
    form = desk.open(MADE)

    answer = desk.send(form, {"photo-file": (io.BytesIO(a_picture()), "bench.png")}, as_made=BUILD)  # type: ignore[dict-item]

    assert answer.status_code == 303
    ask(twin, "made", HEIGHT, "--as-made", BUILD, "--photo", str(tmp_path / "bench.png"), *BY)
    assert state_of_records(desk.folder) == state_of_records(twin)
    assert "nobody has tagged yet" in told(desk.client.get(answer.location).text)


def test_the_camera_of_a_tablet_is_asked_for_a_picture(desk: Desk) -> None:
    page = desk.client.get(MADE).text

    assert '<input type="file" name="photo-file" accept="image/*" capture="environment"' in page
    assert 'enctype="multipart/form-data"' in page


def test_a_photograph_is_sent_or_named_and_never_read_from_elsewhere(desk: Desk, tmp_path: Path) -> None:
    secret = tmp_path / "secret.png"
    secret.write_bytes(a_picture("secret"))
    before = state_of_records(desk.folder)

    elsewhere = desk.send(desk.open(MADE), as_made=BUILD, photo=str(secret))
    both = desk.send(
        desk.open(MADE),
        {"photo-file": (io.BytesIO(a_picture()), "bench.png")},  # type: ignore[dict-item]  # a file as the client takes one
        as_made=BUILD,
        photo="print",
    )

    assert (elsewhere.status_code, both.status_code) == (400, 400)
    assert f"there is no source {secret}" in told(elsewhere.text).replace("There", "there")
    assert "leave one of them out" in told(both.text)
    assert state_of_records(desk.folder) == before


# 40 9/16 x 25.4 = 1030.29; 1030 / 25.4 = 40.5512, and .5512 x 64 = 35.3: next to 35/64.
@pytest.mark.parametrize(
    ("written", "read"), [("40 9/16 in", "40 9/16 in (1030.29 mm)"), ("1030 mm", "1030 mm (3 ft 4 35/64 in)")]
)
def test_what_was_measured_is_read_back_in_both_units_before_it_is_written(desk: Desk, written: str, read: str) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open(MADE), as_made=written, fits="badly", look="yes", by="")

    page = told(answer.text)
    assert f"“{written}” is read as: {read}" in page
    assert "are queried" in page
    assert desk.form_of(answer).fields["as-made"] == [written]
    assert desk.form_of(answer).fields["fits"] == ["badly"]
    assert state_of_records(desk.folder) == before


@pytest.mark.parametrize(
    ("written", "said"), [("16 gauge", "16 SWG"), ("3.4½", "3 ft 4 1/2 in"), ("", "not said what it was made to")]
)
def test_a_doubtful_figure_is_refused_with_the_choices(desk: Desk, written: str, said: str) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open(MADE), as_made=written, note="by the door")

    assert answer.status_code == 400
    assert said in told(answer.text)
    assert desk.form_of(answer).fields["note"] == ["by the door"]
    assert state_of_records(desk.folder) == before


def test_where_nothing_is_released_that_is_said_with_the_way_to_release(tmp_path: Path) -> None:
    folder = an_archive_to_decide_in(tmp_path)

    nothing = Desk(folder).client.get(MADE).text
    proposal = decide(folder, BUILD)
    proposed = Desk(folder).client.get(MADE).text

    assert "Nothing is released for building here" in told(nothing)
    assert f'href="/fittings/{HEIGHT}/decide"' in nothing
    assert 'name="as-made"' not in nothing
    assert f'href="/decisions/{proposal}"' in proposed
    assert 'name="as-made"' not in proposed


def test_a_caution_stands_before_all_else(desk: Desk) -> None:
    ask(desk.folder, "decide", "bracket/height", "--build", "40 in", "--why", "Conjecture.", "--release", *BY)

    page = told(Desk(desk.folder).client.get("/fittings/bracket/height/made").text)

    assert page.index("Caution, asbestos") < page.index("not evidence that it is safe") < page.index("As made")


def test_a_piece_is_not_written_to_a_decision_that_came_into_force_meanwhile(desk: Desk) -> None:
    form = desk.open(MADE)
    decide(desk.folder, "41 in", "--release")
    before = state_of_records(desk.folder)

    refused = desk.send(form, as_made=BUILD)

    assert refused.status_code == 409
    assert "is in force by now" in told(refused.text)
    assert state_of_records(desk.folder) == before
    assert desk.send(desk.form_of(refused)).status_code == 303


def test_a_decision_that_changed_meanwhile_is_shown_as_it_was_and_as_it_is(desk: Desk) -> None:
    form = desk.open(MADE)
    ask(desk.folder, "made", HEIGHT, "--as-made", "40 in", *BY)

    refused = desk.send(form, as_made=BUILD)

    assert refused.status_code == 409
    assert refused.text.index("As you saw") < refused.text.index("As it stands now")
    assert desk.form_of(refused).fields["as-made"] == [BUILD]
