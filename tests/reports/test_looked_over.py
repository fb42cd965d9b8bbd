from dataclasses import replace

from answers import faults_of
from hypothesis import given
from reports.pages import NOT_WHOLE, STANDING, WIDTH, any_text, obeyed, overlong, widths

from provenance.reports.looked_over import Find, Finds, SuspectedCopy, finds_json, finds_text
from provenance.rules.suggesting import Suggestion

LETTER = Find(
    source="letter-1a2b3c4d",
    title="letter",
    files=("originals/letter-1a2b3c4d/letter.png",),
    pages=1,
    reading_confidence=91.4,
    lots=("Starrick's tin",),
    suggested_components=(Suggestion(component="headlamp", why="“headlamp” in page 1", score=0.4),),
    suspected_copies=(SuspectedCopy(source="letter-1933", kind="text", score=0.8, why="the same lines"),),
    dates=("1934", "1934-06"),
    examples=("9",),
)
BARE = replace(
    LETTER,
    pages=None,
    reading_confidence=None,
    lots=(),
    suggested_components=(),
    suspected_copies=(),
    dates=(),
    examples=(),
)


def test_a_find_is_shown_with_all_that_it_may_speak_of() -> None:
    assert finds_text(Finds(standing=STANDING, finds=(LETTER,)), WIDTH).split("\n") == [
        "One find to be looked at:",
        "",
        "letter",
        "    letter-1a2b3c4d; one page; read with confidence 91; Starrick's tin",
        "    may speak of headlamp: “headlamp” in page 1",
        "    looks like a copy of letter-1933: the same lines",
        "    names No. 9",
        "    names 1934 and 1934-06",
        "",
        "Next: provenance tag letter-1a2b3c4d --kind … --component headlamp",
    ]


def test_a_find_that_tells_nothing_is_shown_as_what_it_is() -> None:
    page = finds_text(Finds(standing=STANDING, finds=(BARE,)), WIDTH)

    assert page.split("\n")[2:4] == ["letter", "    letter-1a2b3c4d"]
    assert page.endswith("--component ID")


def test_of_many_suggestions_the_best_are_explained_and_the_rest_named() -> None:
    many = tuple(Suggestion(component=f"part-{n}", why="named", score=0.4) for n in range(6))

    page = finds_text(Finds(standing=STANDING, finds=(replace(LETTER, suggested_components=many),)), WIDTH)

    assert page.count("may speak of") == 4
    assert "and perhaps of part-4 and part-5" in page


def test_nothing_to_look_at_is_said() -> None:
    assert finds_text(Finds(standing=STANDING, finds=()), WIDTH) == "Everything that is held has been looked at."
    assert finds_text(Finds(standing=NOT_WHOLE, finds=()), WIDTH).startswith("Not the whole archive")


def test_the_answer_keeps_to_its_schema() -> None:
    assert faults_of(finds_json(Finds(standing=NOT_WHOLE, finds=(LETTER, BARE)))) == []


@given(any_text, widths)
def test_what_a_find_says_cannot_reach_the_terminal(text: str, width: int) -> None:
    suggestion = Suggestion(component="headlamp", why=text, score=0.4)
    page = finds_text(
        Finds(standing=STANDING, finds=(replace(LETTER, title=text, suggested_components=(suggestion,)),)), width
    )

    assert obeyed(page) == []
    assert overlong(page, width) == []
