"""What tasks say in the words of commands and records is said in the words of the page; expected by hand."""

from pathlib import Path

import pytest
from tasks.team import a_text
from web.deciding_archives import ACETYLENE, an_archive_to_decide_in

from provenance.records.archive import Archive
from provenance.tasks.living import Living
from provenance.web.page_words import page_words, refusal_words

LABELS = {"name": "What it is called", "region": "Where on the page", "id": "Short name", "states": "what it states"}


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Archive:
    folder: Path = an_archive_to_decide_in(tmp_path_factory.mktemp("words"))
    a_text(
        folder / "decisions" / "lamp-kind.yaml",
        "about: headlamp/kind\nbuild: electric\nwhy: it was so\nby: mh\ndate: 2026-01-10\nstatus: proposed\n",
    )
    return Living(folder).now().archive


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("see `--applies-to` and --basis", "see “What it covers” and “What it rests on”"),
        ("such as `--applies-to 9`", "such as “9” under “What it covers”"),
        ("`--seen-known-by` is missing", "“seen known by” is missing"),
        (
            "Taken as `states` (`--how` says otherwise)",
            "Taken as “stated in words or figures” (“How it says so” says otherwise)",
        ),
        ("`states` is missing", "“what it states” is missing"),
        ("headlamp/kind is `acetylene`", "“Headlamp: Kind of lamp” is “acetylene”"),
        (f"{ACETYLENE} is out of judgement", "The claim of “acetylene” is out of judgement"),
        (f"Added to the claim {ACETYLENE}", "Added to the claim of “acetylene”"),
        ("decided on it: lamp-kind; see", "decided on it: the decision of 10 January 2026 to build “electric”; see"),
        ("It is thin. (built-on-thin-evidence; mend: look further.)", "It is thin. What to do: look further."),
        ("with `provenance add feature COMPONENT/ID`", "with “Add to the records”"),
        ("by `provenance tag letter --transcript FILE --page 1`", "by “Correct the reading”, on the page of that page"),
        ("the pair photo-a--photo-b is open", "the pair photo-a--photo-b is open"),
    ],
)
def test_what_a_task_says_is_said_in_the_words_of_the_page(archive: Archive, said: str, words: str) -> None:
    assert page_words(said, archive, LABELS) == words


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("name: `name` is missing", "“What it is called” is not filled in"),
        ("add `name: …`: write what it is called, such as `name: Hood`", "write what it is called, such as “Hood”"),
        ("evidence[0].at.region: `x` goes beyond the page", "“Where on the page”: “x” goes beyond the page"),
        ("features[4]: it has no unit", "it has no unit"),
        ("claims/lamp.yaml: made[1].as_made: `5` has no unit", "“as made”: “5” has no unit"),
        (
            "how: `x` is none; name: `name` is missing",
            "“How it says so”: “x” is none; “What it is called” is not filled in",
        ),
        ("queries/lamp.yaml: there is no value for name", "“What it is called” is not filled in"),
        ("`A B` is no id: small letters", "“A B” is no “Short name”: small letters"),
        ("give another id", "give another “Short name”"),
        ("there is no feature ``", "it is not said which feature is meant"),
        ("did you mean `headlamp`?", "did you mean “Headlamp”?"),
    ],
)
def test_why_nothing_was_written_names_the_fields_of_the_page(archive: Archive, said: str, words: str) -> None:
    assert refusal_words(said, archive, LABELS) == words
