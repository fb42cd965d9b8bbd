"""The commands that record what a source is and says: tag, claim."""

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from cli.command_line import SOUND, a_copy_of, ask, run, run_really
from tasks.team import a_text

from provenance.store.loading import load

BY = ("--by", "mh", "--date", "1 February 2026")


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    return a_copy_of(SOUND, tmp_path)


def records(archive: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in archive.rglob("*") if path.is_file() and ".derived" not in path.parts}


def test_evidence_is_entered_and_what_was_filled_in_is_said(archive: Path) -> None:
    page = run(archive, "claim", "headlamp/kind", "electric", "--source", "photograph", *BY)

    assert page.exit_code == 0, page.output
    assert page.stdout.splitlines() == [
        "Taken as `shows`, which is usual for the kind photograph (--how says otherwise).",
        "Taken to cover example 9, the one that was seen (--applies-to says otherwise).",
        "A new claim: headlamp/kind is `electric`, covering example 9.",
        "written: claims/headlamp-kind-electric.yaml",
    ]
    claim = load(archive).archive.claims["headlamp-kind-electric"]
    assert (claim.by, str(claim.date)) == ("mh", "2026-02-01")


def test_every_option_of_claim_reaches_the_record(archive: Path) -> None:
    answer = ask(
        archive,
        *("claim", "headlamp/kind", "electric", "--source", "handbook", "--page", "1", "--page-label", "iii"),
        *("--region", "percent:1,2,3,4", "--who", "M. Hollin", "--how", "implies", "--stance", "contradicts"),
        *("--legibility", "doubtful", "--applies-to", "batch=third", "--seen", "6", "--sign", "conduit=seen"),
        *("--condition", "worn", "--reasoning", "by the wiring", "--uncertainty", "1 mm", "--note", "small print", *BY),
    )

    assert answer["written"] == ["claims/headlamp-kind-electric.yaml"]
    assert answer["changes"] is None
    text = (archive / answer["written"][0]).read_text(encoding="utf-8")
    assert text == (
        "about: headlamp/kind\nvalue: electric\nuncertainty: 1 mm\napplies_to:\n  batch: third\nevidence:\n"
        "  - source: handbook\n    at:\n      page: 1\n      page_label: iii\n"
        '      region: "percent:1,2,3,4"\n      who: M. Hollin\n    stance: contradicts\n    how: implies\n'
        "    legibility: doubtful\n    condition: worn\n"
        '    seen:\n      example: "6"\n    signs:\n      conduit: seen\n    note: small print\n'
        "reasoning: by the wiring\nby: mh\ndate: 2026-02-01\n"
    )


def test_the_same_evidence_again_is_said_and_is_no_error(archive: Path) -> None:
    words = ("claim", "headlamp/kind", "electric", "--source", "photograph", *BY)
    run(archive, *words)
    before = records(archive)

    again = run(archive, *words)

    assert again.exit_code == 0
    assert again.stdout.endswith("has this item of evidence already; it was not added twice.\n")
    assert records(archive) == before


def test_a_quotation_brings_its_page_and_one_that_is_not_there_the_nearest(archive: Path) -> None:
    run(archive, "rebuild")
    words = ("claim", "headlamp/kind", "acetylene", "--source", "handbook", "--applies-to", "all", *BY, "--quote")

    found = ask(archive, *words, "is of the ACETYLENE pattern")
    missing = run(archive, *words, "is of the electric pattern")

    assert found["said"][0] == "The quotation stands on page 1."
    assert (missing.exit_code, missing.stdout) == (2, "")
    assert missing.stderr.startswith(
        "error: the quotation does not stand on page 1 of handbook; the nearest is: “is of the acetylene pattern.”\n"
    )


@pytest.mark.parametrize(
    ("words", "code", "what", "mend"),
    [
        (("headlamp/kind", "oil", "--applies-to", "all"), 2, "`oil` is no value", "(`acetylene`, `electric`)"),
        (("headlamp/kind", "electric", "--applies-to", "all", "--page", "7"), 2, "page 7 is beyond", "--page-label"),
        (("headlamp/knid", "electric", "--applies-to", "all"), 3, "no feature `headlamp/knid`", "`headlamp/kind`"),
        (("headlamp/kind", "electric"), 2, "not said which examples", "--applies-to 5..8"),
        (("headlamp/kind", "electric", "--applies-to", "all", "--by", "xx"), 2, "no `xx` among the people", "people"),
        (("headlamp/kind", "electric", "--applies-to", "all", "--date", "spring 1934"), 2, "--date", "1934-03/1934-05"),
    ],
)
def test_what_cannot_be_is_refused_with_what_can_and_nothing_is_written(
    archive: Path, words: tuple[str, ...], code: int, what: str, mend: str
) -> None:
    before = records(archive)

    result = run(archive, "claim", *words[:2], "--source", "handbook", "--by", "mh", *words[2:])

    assert (result.exit_code, result.stdout) == (code, "")
    assert what in result.stderr
    assert mend in result.stderr
    assert records(archive) == before


def test_a_claim_is_tried_without_a_byte_being_written(archive: Path) -> None:
    before = records(archive)
    words = ("claim", "headlamp/kind", "electric", "--source", "photograph", "--try", *BY)

    page = run(archive, *words)
    answer = ask(archive, *words)

    assert "Only tried: nothing was written. It would write claims/headlamp-kind-electric.yaml." in page.stdout
    assert "  before: acetylene lamp: uncorroborated" in page.stdout
    (change,) = answer["changes"]
    assert (change["before"]["value"], change["after"]["value"]) == ("acetylene", "electric")
    assert answer["written"] == []
    assert records(archive) == before


def test_a_find_is_tagged(archive: Path) -> None:
    page = run(
        archive,
        *("tag", "photograph", "--created", "about May 1934", "--holder", "Orrin museum", "--component", "headlamp"),
        *(
            "--language",
            "en",
            "--hazard",
            "nitrate-film",
            "--rights",
            "InC",
            "--derives-from",
            "source=handbook,how=cites",
        ),
        *("--shows", "example=6,when=1933", "--replaces", "handbook", "--reliability-why", "it is sharp"),
    )

    assert page.exit_code == 0, page.output
    assert page.stdout.splitlines() == [
        "created was `1934-05`, and is `1934-05~` now.",
        "written: sources/photograph.yaml",
    ]
    source = load(archive).archive.sources["photograph"]
    assert (str(source.created), source.topics, source.hazards, source.language) == (
        "1934-05~",
        ("headlamp",),
        ("nitrate-film",),
        ("en",),
    )
    assert (source.replaces, source.reliability_why, source.by) == ("handbook", "it is sharp", "mh")


def test_a_transcript_is_stored_by_whoever_gives_it(archive: Path, tmp_path: Path) -> None:
    mine = a_text(tmp_path / "mine.txt", "WORKING INSTRUCTIONS\n")

    nobody = run(archive, "tag", "handbook", "--transcript", str(mine))
    answer = ask(archive, "tag", "handbook", "--transcript", str(mine), "--page", "1", *BY)

    assert nobody.exit_code == 2
    assert answer["written"] == ["sources/handbook.yaml", "transcripts/handbook/p0001.txt"]
    stored = (archive / "transcripts" / "handbook" / "p0001.txt").read_text(encoding="utf-8")
    assert stored == "by: mh\ndate: 2026-02-01\n\nWORKING INSTRUCTIONS\n"


def test_tags_are_tried_without_a_byte_being_written(archive: Path) -> None:
    before = records(archive)

    page = run(archive, "tag", "handbook", "--kind", "notes", "--try")
    answer = ask(archive, "tag", "handbook", "--kind", "notes", "--try")

    assert "One verdict would change:" in page.stdout
    assert [change["feature"] for change in answer["changes"]] == ["headlamp/kind"]
    assert records(archive) == before


def _claim_really(archive: Path, writer: str, times: int) -> list[int]:
    """Give the real command again and again; what each call ended with."""
    said = ("headlamp/kind", "electric", "--source", "handbook", "--applies-to", "all", "--page", "1")
    return [
        run_really("--archive", archive, "claim", *said, "--note", f"{writer} {number}", *BY).returncode
        for number in range(times)
    ]


@pytest.mark.parametrize("times", [4, pytest.param(100, marks=pytest.mark.long)])
def test_two_people_at_two_keyboards_who_claim_at_once_lose_nothing(archive: Path, times: int) -> None:
    with ThreadPoolExecutor(2) as people:
        ends = list(people.map(lambda writer: _claim_really(archive, writer, times), ("a", "b")))

    entered = [item.note for item in load(archive).archive.claims["headlamp-kind-electric"].evidence]
    assert ends == [[0] * times] * 2
    assert sorted(filter(None, entered)) == sorted(f"{writer} {number}" for writer in "ab" for number in range(times))
    assert run(archive, "check").exit_code == 0
