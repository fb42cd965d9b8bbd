"""What a change would do, as programs and people are told."""

from answers import faults_of
from builders import a_claim, a_source, an_archive

from provenance.reports.standing import LeftOut, Standing
from provenance.reports.tried import Change, Tried, change_sentences, tried_json, tried_text, untried_json
from provenance.reports.written import Written
from provenance.rules.judging import judge_feature
from provenance.rules.verdicts import Verdict

STANDING = Standing(archive="Railcar No. 9")


def a_verdict(*kinds: str) -> Verdict:
    """The verdict on the lamp where sources of these kinds, each on its own, state that it was acetylene."""
    sources = [a_source(f"{kind}-{number}", kind, origin_stated=True) for number, kind in enumerate(kinds)]
    claims = [a_claim("acetylene", *(source.id for source in sources))] if sources else []
    return judge_feature(an_archive(*sources, *claims), "headlamp/type")


def a_change(**hanging: tuple[str, ...]) -> Change:
    return Change(before=a_verdict(), after=a_verdict("manual", "drawing"), **hanging)


def tried(*changes: Change, files: tuple[str, ...] = ("claims/c.yaml",), standing: Standing = STANDING) -> Tried:
    return Tried(
        standing=standing, answer="claim", record="c", files=files, said=("Taken as `states`.",), changes=changes
    )


def test_programs_are_told_the_figures_before_and_after() -> None:
    answer = tried_json(tried(a_change(decisions=("lamp",), made=("lamp",), panels=("light",))))

    assert faults_of(answer) == []
    assert (answer["written"], answer["said"]) == ([], ["Taken as `states`."])
    changes = answer["changes"]
    assert isinstance(changes, list)
    after = a_verdict("manual", "drawing")
    # Manual 11 and drawing 12 decibans: 23 together, a likelihood ratio of 10^2.3 against the 1 of "none of these".
    assert round(after.posterior, 6) == round(10**2.3 / (1 + 10**2.3), 6)
    assert changes == [
        {
            "feature": "headlamp/type",
            "before": {"grade": "unsupported", "lines": 0, "posterior": 0.0, "value": None},
            "after": {"grade": "probable", "lines": 2, "posterior": after.posterior, "value": "acetylene"},
            "decisions": ["lamp"],
            "made": ["lamp"],
            "panels": ["light"],
        }
    ]


def test_an_answer_that_was_written_says_that_nobody_looked_at_what_changes() -> None:
    answer = untried_json(Written(standing=STANDING, answer="claim", record="c", written=("claims/c.yaml",)))

    assert faults_of(answer) == []
    assert answer["changes"] is None


def test_people_are_told_what_would_change_and_what_hangs_on_it() -> None:
    page = tried_text(tried(a_change(decisions=("lamp",), made=("lamp",), panels=("light", "night"))), 100)

    assert page.splitlines() == [
        "Only tried: nothing was written. It would write claims/c.yaml.",
        "Taken as `states`.",
        "",
        "One verdict would change:",
        "",
        "headlamp/type (Headlamp type)",
        "  before: nothing supports any value",
        "  after: Acetylene: probable, chance over 99 %, 2 independent witnesses",
        "  decided on it: lamp; see whether that still holds",
        "  made already, after lamp",
        "  told to visitors on the panel light and night",
    ]


def test_several_changes_are_told_one_after_the_other() -> None:
    page = tried_text(tried(a_change(), a_change()), 100)

    assert "These verdicts would change:" in page
    assert page.count("headlamp/type (Headlamp type)") == 2


def test_where_nothing_changes_or_nothing_is_to_do_that_is_said() -> None:
    left_out = Standing(archive="Railcar No. 9", left_out=(LeftOut(file="claims/x.yaml", why="spoilt"),))

    page = tried_text(tried(files=(), standing=left_out), 100)

    assert page.startswith("Not the whole archive")
    assert page.endswith(
        "Only tried: nothing was written. Nothing would be to do.\nTaken as `states`.\nNo verdict would change."
    )


def test_the_sentences_of_a_change_begin_with_before_and_after() -> None:
    first, second = change_sentences(a_change())

    assert first == "before: nothing supports any value"
    assert second.startswith("after: Acetylene: probable")


def test_a_change_too_small_for_the_words_is_told_as_such() -> None:
    # 31 and 34 decibans give chances of .9992 and .9996: the words are the same.
    before, after = a_verdict("manual", "drawing", "letter"), a_verdict("manual", "drawing", "specification")

    sentences = change_sentences(Change(before=before, after=after, decisions=("lamp",)))

    assert before.posterior < after.posterior
    standing = "Acetylene: probable, chance over 99 %, 3 independent witnesses"
    assert sentences == (
        f"as before ({standing}), but for less than one chance in a hundred",
        "decided on it: lamp; see whether that still holds",
    )
