from answers import faults_of

from provenance.reports.registered import Asking, Registered, askings, registered_json, registered_text
from provenance.reports.standing import Standing
from provenance.rules.clearance import NotCleared


def missing(
    source: str, ask: str = "the library", why: str = "it is not said whether it may be published"
) -> NotCleared:
    return NotCleared(source=source, title=source.upper(), why=why, ask=ask)


def said_in(answer: Registered) -> list[str]:
    """The sentences of the JSON answer."""
    said = registered_json(answer)["said"]
    assert isinstance(said, list)
    return said


def an_answer(**changed: object) -> Registered:
    fields = {
        "standing": Standing(archive="Railcar No. 9"),
        "which": "sources",
        "output": "list.csv",
        "rows": 1,
        "held_privately": 0,
        "draft": False,
        "askings": (),
        "said": (),
    }
    return Registered(**{**fields, **changed})  # type: ignore[arg-type]  # fields by name


def test_who_is_to_be_asked_the_same_is_asked_once() -> None:
    asked = askings([missing("b"), missing("c", "the heirs"), missing("a"), missing("d", why="it was refused")])

    assert asked == (
        Asking(ask="the heirs", why="it is not said whether it may be published", sources=("“C” (c)",)),
        Asking(ask="the library", why="it is not said whether it may be published", sources=("“A” (a)", "“B” (b)")),
        Asking(ask="the library", why="it was refused", sources=("“D” (d)",)),
    )
    assert asked[1].sentence() == (
        "Not cleared for print, it is not said whether it may be published: ask the library about “A” (a) and “B” (b)."
    )


def test_of_many_sources_the_page_names_some_and_the_answer_all() -> None:
    many = askings(missing(f"s-{number:02}") for number in range(40))

    page = registered_text(an_answer(askings=many), 100)
    (said,) = said_in(an_answer(askings=many))

    assert page.count("(s-") == 12
    assert "28 more (`--json` names them all)" in " ".join(page.split())
    assert said.count("(s-") == 40


def test_the_page_says_how_much_is_listed_and_how_much_is_not_and_where_it_is() -> None:
    assert registered_text(an_answer(held_privately=12), 100).splitlines() == [
        "The register of sources lists one source.",
        "12 sources of the team's are not shown.",
        "written: list.csv",
    ]
    assert registered_text(an_answer(which="features", rows=0, held_privately=1, draft=True), 100).splitlines() == [
        "A draft of the register of features lists no features.",
        "One source of the team's is not shown.",
        "written: list.csv",
    ]


def test_the_answer_is_as_its_schema_says() -> None:
    given = an_answer(said=("One cell was cut.",), askings=askings([missing("a")]))
    answer = registered_json(given)

    assert faults_of(answer) == []
    assert (answer["which"], answer["rows"], answer["written"]) == ("sources", 1, [])
    assert said_in(given)[0] == "One cell was cut."
