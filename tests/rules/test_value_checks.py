from dataclasses import replace

import pytest
from builders import (
    LAMPS,
    a_claim,
    a_component,
    a_decision,
    a_feature,
    a_source,
    a_withdrawal,
    against,
    an_archive,
    an_item,
    applies,
    seen_on,
)
from hypothesis import given
from hypothesis import strategies as st

from provenance.errors import Problem, Severity
from provenance.records.archive import Archive
from provenance.records.claims import At
from provenance.records.decisions import Decision
from provenance.records.regions import PageRange
from provenance.records.sources import OriginalFile, Source, Within
from provenance.rules.judging import decision_in_force
from provenance.rules.value_checks import (
    double_claims,
    impossible_pages,
    impossible_values,
    several_in_force,
    sources_without_kind,
    undefined_signs,
)

NOT_SEEN = "not-seen"


def places(problems: list[Problem]) -> list[tuple[str, str, str]]:
    return [(problem.place.file, problem.place.field, problem.rule) for problem in problems]


def a_scanned_source(source_id: str, *pages: int | None) -> Source:
    """A source of as many files as there are counts of pages."""
    files = tuple(
        OriginalFile(
            path=f"originals/{source_id}/{n}.pdf", sha256="0" * 64, size=1, media_type="application/pdf", pages=count
        )
        for n, count in enumerate(pages)
    )
    return a_source(source_id, "manual", files=files)


def test_a_page_beyond_the_end_of_all_files_together_is_told() -> None:
    """Seven and five pages are twelve."""
    archive = an_archive(
        a_scanned_source("handbook", 7, 5),
        a_claim("oil", an_item("handbook", page=12), an_item("handbook", page=13), claim_id="one"),
    )

    (problem,) = impossible_pages(archive)

    assert (problem.place.file, problem.place.field) == ("claims/one.yaml", "evidence[1].at.page")
    assert problem.what == "page 13 is beyond the end of handbook, which has 12"
    assert "page_label" in problem.mend


@pytest.mark.parametrize("pages", [(), (7, None)])
def test_where_pages_cannot_be_counted_none_is_beyond_the_end(pages: tuple[int | None, ...]) -> None:
    archive = an_archive(a_scanned_source("tape", *pages), a_claim("oil", an_item("tape", page=99)))

    assert list(impossible_pages(archive)) == []


def test_a_page_of_a_source_that_is_not_here_is_told_elsewhere() -> None:
    archive = an_archive(a_claim("oil", an_item("handbook", page=99)), sources={})

    assert list(impossible_pages(archive)) == []


def test_a_file_beyond_the_files_of_a_source_is_told() -> None:
    archive = an_archive(
        a_scanned_source("tape", None, None),
        a_claim("oil", an_item("tape", at=At(file=2)), an_item("tape", at=At(file=3)), claim_id="one"),
        a_claim("electric", an_item("drawing", at=At(file=3)), claim_id="of-a-source-without-files"),
    )

    (problem,) = impossible_pages(archive)

    assert (problem.place.field, problem.what) == (
        "evidence[1].at.file",
        "file 3 is beyond the files of tape, which has 2",
    )


def test_a_photograph_cannot_be_kept_on_a_page_that_its_album_does_not_have() -> None:
    archive = an_archive(
        a_scanned_source("album", 8),
        a_source("in-it", within=Within(source="album", pages=PageRange(3, 8))),
        a_source("beyond", within=Within(source="album", pages=PageRange(8, 9))),
        a_source("somewhere", within=Within(source="album")),
        a_source("in-another", within=Within(source="not-here", pages=PageRange(99, 99))),
    )

    assert places(list(impossible_pages(archive))) == [("sources/beyond.yaml", "within.pages", "page-beyond")]


def test_a_claim_from_a_letter_in_a_bundle_cites_one_of_the_letter_s_pages_as_the_bundle_counts_them() -> None:
    archive = an_archive(
        a_scanned_source("bundle", 20),
        a_source("letter", "letter", within=Within(source="bundle", pages=PageRange(3, 4))),
        a_source("slip", "letter", within=Within(source="bundle")),
        a_claim(
            "oil",
            *(an_item("letter", page=page) for page in (2, 3, 4, 5)),
            an_item("letter"),
            an_item("slip", page=9),
            claim_id="one",
        ),
    )

    assert places(list(impossible_pages(archive))) == [
        ("claims/one.yaml", "evidence[0].at.page", "page-beyond"),
        ("claims/one.yaml", "evidence[3].at.page", "page-beyond"),
    ]


@pytest.mark.parametrize(
    ("kind", "value", "is_fault"),
    [
        ("choice", "acetylene", False),
        ("choice", "GAS  lamp", False),
        ("choice", "gaslight", True),
        ("presence", "present", False),
        ("presence", "absent", False),
        ("presence", "yes", True),
        ("text", "anything at all", False),
        ("quantity", "3 ft 4 1/2 in", False),
    ],
)
def test_a_claim_has_a_value_that_its_feature_can_have(kind: str, value: str, *, is_fault: bool) -> None:
    archive = an_archive(a_component("headlamp", a_feature("type", kind)), a_claim(value, "drawing", claim_id="one"))

    problems = list(impossible_values(archive))

    assert places(problems) == ([("claims/one.yaml", "value", "impossible-value")] if is_fault else [])


def test_the_mend_names_the_values_that_there_are() -> None:
    hood, none_yet = a_feature("hood", "presence"), a_feature("glass", options=())
    archive = an_archive(
        a_component("headlamp", a_feature("type"), hood, none_yet),
        a_claim("gaslight", "drawing", claim_id="a"),
        a_claim("yes", "drawing", about="headlamp/hood", claim_id="b"),
        a_claim("clear", "drawing", about="headlamp/glass", claim_id="c"),
        a_claim("clear", "drawing", about="headlamp/nowhere", claim_id="d"),
    )

    mends = [problem.mend for problem in impossible_values(archive)]

    assert mends == [
        "write one of its options (`acetylene`, `electric`, `oil`), or add an option to the component",
        "write `present` or `absent`",
        "write one of its options (none is listed yet), or add an option to the component",
    ]


def test_a_sign_that_the_component_does_not_define_is_told() -> None:
    lamp = replace(LAMPS[0], signs=(*LAMPS[0].signs, replace(LAMPS[0].signs[0], sign="vent-on-roof")))
    archive = an_archive(
        a_component("headlamp", a_feature(options=(LAMPS[1], lamp))),
        a_claim("oil", an_item("photo", signs=(("conduit-on-cantrail", "seen"), ("vent", NOT_SEEN))), claim_id="one"),
        a_claim("oil", an_item("photo", signs=(("vent", NOT_SEEN),)), about="bogie/type", claim_id="of-nothing"),
    )

    assert places(list(undefined_signs(archive))) == [
        ("components/headlamp.yaml", "features[0].options[1].signs[1].sign", "undefined-sign"),
        ("claims/one.yaml", "evidence[0].signs.vent", "undefined-sign"),
    ]


def test_a_machine_may_be_told_by_a_sign_of_another_component_but_not_by_one_that_nobody_defined() -> None:
    """A sign that is spelt wrongly would hide that the machine was told by the very thing that is asked about."""
    seen = seen_on("9", known_by="likeness", signs=["conduit-on-cantrail", "conduit-on-cantrial"])
    archive = an_archive(
        a_component(),
        a_component("seat", a_feature("form", "text"), signs=()),
        a_claim("slatted", an_item("photo", seen=seen), about="seat/form", claim_id="one"),
    )

    assert places(list(undefined_signs(archive))) == [
        ("claims/one.yaml", "evidence[0].seen.signs[1]", "undefined-sign")
    ]


def test_two_claims_of_one_value_for_the_same_machines_are_one_claim() -> None:
    archive = an_archive(
        a_claim("oil", "drawing", claim_id="a"),
        a_claim("oil", "letter", claim_id="b"),
        a_claim("oil", "photo", to=applies("9", until="1934"), claim_id="for-a-time"),
        a_claim("electric", "drawing", claim_id="another-value"),
        a_claim("oil", against("book"), claim_id="c"),
    )

    problems = list(double_claims(archive))

    assert places(problems) == [("claims/b.yaml", "", "double-claim"), ("claims/c.yaml", "", "double-claim")]
    assert all("claims/a.yaml" in problem.mend for problem in problems)


def test_the_mend_for_a_double_claim_mends_it() -> None:
    """It says: move the evidence and withdraw this one."""
    archive = an_archive(
        a_claim("oil", "drawing", claim_id="a", withdrawn=a_withdrawal()), a_claim("oil", "letter", claim_id="b")
    )

    assert list(double_claims(archive)) == []


def test_two_decisions_in_force_for_one_feature_are_told() -> None:
    archive = an_archive(
        a_decision("first"),
        a_decision("second"),
        a_decision("third", replaces="first"),
        a_decision("hood", "headlamp/hood"),
    )

    (problem,) = several_in_force(archive)

    assert places([problem]) == [("decisions/third.yaml", "status", "two-in-force")]
    assert problem.what == "headlamp/type has 2 decisions in force: second, third"


@pytest.mark.parametrize(
    "other",
    [
        a_decision("second", status="proposed"),
        a_decision("second", status="withdrawn"),
        a_decision("second", withdrawn=a_withdrawal()),
        a_decision("second", replaces="first"),
        a_decision("second", "headlamp/hood"),
    ],
)
def test_what_is_not_in_force_does_not_clash(other: Decision) -> None:
    assert list(several_in_force(an_archive(a_decision("first"), other))) == []


def test_a_mere_proposal_replaces_nothing_yet() -> None:
    archive = an_archive(
        a_decision("first"), a_decision("second"), a_decision("third", status="proposed", replaces="first")
    )

    assert len(list(several_in_force(archive))) == 1


_IDS = ("a", "b", "c")


@given(
    st.fixed_dictionaries(
        {
            each: st.tuples(st.sampled_from(["released", "proposed"]), st.booleans(), st.sampled_from([None, *_IDS]))
            for each in _IDS
        }
    )
)
def test_no_clash_is_told_exactly_where_judgement_has_no_choice(drawn: dict[str, tuple[str, bool, str | None]]) -> None:
    """Judgement takes one of several; where another is in force after that one is gone, there were two."""
    decisions = [
        a_decision(each, status=status, withdrawn=a_withdrawal() if withdrawn else None, replaces=replaces)
        for each, (status, withdrawn, replaces) in drawn.items()
        if replaces != each
    ]
    standing = [each for each in decisions if each.status == "released" and each.withdrawn is None]
    left = [each for each in standing if each.id not in {other.replaces for other in standing}]

    told = list(several_in_force(an_archive(*decisions)))

    assert len(told) == max(0, len(left) - 1)
    assert (decision_in_force(decisions) in left) == bool(left)


def test_a_source_that_evidence_is_taken_from_needs_a_kind() -> None:
    archive = an_archive(
        a_source("photo", kind=None),
        a_source("uncited", kind=None),
        a_source("doubtful", kind=None),
        a_claim("oil", "photo", "drawing", an_item("doubtful", withdrawn=a_withdrawal())),
        a_claim("electric", "doubtful", withdrawn=a_withdrawal()),
        a_claim("acetylene", "not-here"),
    )
    without = {key: source for key, source in archive.sources.items() if key != "not-here"}

    problems = list(sources_without_kind(replace(archive, sources=without)))

    assert places(problems) == [("sources/photo.yaml", "kind", "kind-missing")]
    assert problems[0].severity is Severity.WARN


def test_a_sound_archive_breaks_none_of_these_rules() -> None:
    archive: Archive = an_archive(a_claim("oil", "drawing"), a_decision())
    checks = (
        double_claims,
        impossible_pages,
        impossible_values,
        several_in_force,
        sources_without_kind,
        undefined_signs,
    )

    assert [list(check(archive)) for check in checks] == [[]] * len(checks)
