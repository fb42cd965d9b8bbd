"""All checks together, and the part of an archive that can be judged on."""

from collections import Counter
from dataclasses import replace
from typing import Any

from builders import (
    BY,
    PRODUCTION,
    a_claim,
    a_component,
    a_decision,
    a_feature,
    a_pair,
    a_source,
    a_withdrawal,
    an_archive,
    an_event,
    an_item,
    applies,
    common_over,
    seen_on,
    shows,
)
from hypothesis import given
from hypothesis import strategies as st

from provenance.errors import Problem, Severity
from provenance.records.archive import Archive, Subject, Target
from provenance.records.claims import Claim
from provenance.records.regions import parse_page_range
from provenance.records.sources import OriginalFile, Source, Within
from provenance.rules.checks import check_files, check_records, usable_part
from provenance.rules.judging import judge_all
from provenance.rules.references import known_names, references_of

_RECORDS = {"components", "sources", "claims", "copies", "decisions"}
_NAMES = ("a", "b", "c", "d", "nowhere")


def a_sound_archive(**fields: Any) -> Archive:
    """An archive with nothing wrong with it, not even a gap."""
    archive = an_archive(a_claim("acetylene", "handbook"), a_source("handbook", "manual"))
    sound = replace(
        archive,
        subject=Subject(name="Velling railcar", claims_to_be="reproduction"),
        target=Target(example="9", as_at=PRODUCTION.batches[2].built, why="it opened the branch"),
    )
    return replace(sound, **fields)


def files_of(archive: Archive) -> set[str]:
    return {f"{folder}/{record}.yaml" for folder in _RECORDS for record in getattr(archive, folder)}


def test_a_sound_archive_has_no_fault_and_is_usable_as_it_is() -> None:
    archive = a_sound_archive()

    assert check_records(archive) == ()
    assert usable_part(archive) == (archive, ())


def test_every_fault_is_named_in_one_run_in_the_order_of_the_files() -> None:
    archive = an_archive(
        a_claim("gaslight", "photo", to="12", claim_id="one"),
        a_claim("oil", an_item("photo", "shows", page=7), claim_id="two"),
        a_source("photo", of=["print:photo"], shows=(shows("9", "1920"),)),
        a_component(part_of="front"),
        events=(an_event("1934", example="13"),),
        target=None,
    )

    problems = check_records(archive)

    assert [(problem.place.file, problem.place.field, problem.rule) for problem in problems] == [
        ("archive.yaml", "events[0].example", "unknown-example"),
        ("archive.yaml", "subject", "archive-gap"),
        ("archive.yaml", "target", "archive-gap"),
        ("claims/one.yaml", "applies_to.examples", "unknown-example"),
        ("claims/one.yaml", "value", "impossible-value"),
        ("components/headlamp.yaml", "part_of", "unknown-id"),
        ("sources/photo.yaml", "derives_from", "circle"),
        ("sources/photo.yaml", "shows[0].when", "impossible-date"),
    ]
    assert all(problem.what and problem.mend for problem in problems)


def test_a_record_that_names_one_with_faults_of_its_own_is_told_so() -> None:
    archive = replace(a_sound_archive(), sources={})

    (problem,) = check_records(archive, unreadable=frozenset({"sources/handbook.yaml"}))

    assert problem.what == "`handbook` cannot be used: sources/handbook.yaml has faults of its own"


def test_what_names_a_record_that_is_not_there_is_left_out_and_what_names_that_in_turn() -> None:
    """The print is made from a plate that is not there; the claim rests on the print, the decision on the claim."""
    archive = an_archive(
        a_source("print", of=["print:plate"]),
        a_claim("acetylene", "print", claim_id="from-the-print"),
        a_claim("oil", "drawing", claim_id="from-the-drawing"),
        a_pair("print", "drawing"),
        a_decision("on-the-print", basis=("from-the-print",)),
        a_decision("on-the-drawing", basis=("from-the-drawing",)),
    )

    usable, faults = usable_part(archive)

    assert files_of(usable) == {
        "sources/drawing.yaml",
        "claims/from-the-drawing.yaml",
        "decisions/on-the-drawing.yaml",
        "components/headlamp.yaml",
    }
    assert [(fault.place.file, fault.what) for fault in faults] == [
        ("claims/from-the-print.yaml", "`print` cannot be used: sources/print.yaml has faults of its own"),
        ("copies/drawing--print.yaml", "`print` cannot be used: sources/print.yaml has faults of its own"),
        (
            "decisions/on-the-print.yaml",
            "`from-the-print` cannot be used: claims/from-the-print.yaml has faults of its own",
        ),
        ("sources/print.yaml", "there is no `plate` among the sources"),
    ]


def test_a_record_that_could_not_be_read_is_not_called_missing() -> None:
    archive = replace(a_sound_archive(), sources={})

    usable, faults = usable_part(archive, unreadable=frozenset({"sources/handbook.yaml"}))

    assert usable.claims == {}
    assert [fault.what for fault in faults] == [
        "`handbook` cannot be used: sources/handbook.yaml has faults of its own"
    ]


def test_a_machine_that_was_never_built_and_a_value_that_cannot_be_are_left_out() -> None:
    archive = an_archive(
        a_claim("acetylene", "drawing", to="12", claim_id="never-built"),
        a_claim("gaslight", "drawing", claim_id="no-such-lamp"),
        a_claim("oil", an_item("photo", "shows", seen=seen_on("99")), claim_id="seen-on-nothing"),
        a_claim("electric", an_item("photo", "shows", signs=(("no-such-sign", "seen"),)), claim_id="no-such-sign"),
        a_claim("electric", "drawing", claim_id="sound"),
    )

    usable, faults = usable_part(archive)

    assert set(usable.claims) == {"sound"}
    assert Counter(fault.rule for fault in faults) == {
        "unknown-example": 2,
        "impossible-value": 1,
        "undefined-sign": 1,
    }


def test_what_judgement_can_do_without_is_kept() -> None:
    """A person who is not listed, a gap in archive.yaml, a source without a kind, a circle: told, and judged on."""
    archive = replace(
        an_archive(
            a_source("one", of=["print:two"], kind=None),
            a_source("two", of=["print:one"], topics=("bogie",)),
            a_claim("oil", "one", "two"),
            target=None,
        ),
        people=(),
    )

    usable, faults = usable_part(archive)

    assert usable == archive
    assert faults == ()
    assert check_records(archive)


def test_a_fault_in_the_archive_file_itself_leaves_no_record_out() -> None:
    archive = a_sound_archive(events=(an_event("1932", example="99"),))

    assert usable_part(archive) == (archive, ())


def test_a_component_whose_source_is_not_there_takes_its_claims_with_it() -> None:
    archive = an_archive(
        a_component(common_to=(common_over("5..8", "parts-list"),)),
        a_component("seat", a_feature("form", "text")),
        a_claim("acetylene", "drawing", claim_id="lamp"),
        a_claim("slatted", "drawing", about="seat/form", claim_id="seat"),
    )

    usable, faults = usable_part(archive)

    assert (set(usable.components), set(usable.claims)) == ({"seat"}, {"seat"})
    assert [fault.place.file for fault in faults] == ["claims/lamp.yaml", "components/headlamp.yaml"]


@st.composite
def small_archives(draw: st.DrawFn) -> Archive:
    """Up to four sources and four claims that name one another, and what is not there, at random."""
    named = st.sampled_from(_NAMES)
    sources: list[Source] = []
    for source_id in draw(st.sets(st.sampled_from(_NAMES[:4]), min_size=1)):
        parents = draw(st.lists(named, max_size=2, unique=True))
        replaced = draw(st.none() | named)
        sources.append(a_source(source_id, of=parents, replaces=replaced))
    claims: list[Claim] = []
    for number in range(draw(st.integers(0, 4))):
        items = [an_item(draw(named), via=draw(st.none() | named)) for _ in range(draw(st.integers(1, 2)))]
        example = draw(st.sampled_from(["9", "9", "9", "12"]))
        about = draw(st.sampled_from(["headlamp/type", "headlamp/type", "headlamp/hood"]))
        value = draw(st.sampled_from(["oil", "oil", "gaslight"]))
        claims.append(a_claim(value, *items, about=about, claim_id=f"claim-{number}", to=applies(example)))
    decisions = [
        a_decision(f"decision-{number}", basis=(f"claim-{draw(st.integers(0, 4))}",), replaces=replaced)
        for number, replaced in enumerate(
            draw(st.lists(st.sampled_from([None, "decision-0", "decision-1"]), max_size=3))
        )
    ]
    pairs = [a_pair(*sorted(draw(st.sets(named, min_size=2, max_size=2))))] if draw(st.booleans()) else []
    whole = an_archive(*claims, *pairs, *decisions)  # which adds the sources that are cited
    return replace(whole, sources={source.id: source for source in sources})


def needed_and_missing(archive: Archive) -> set[tuple[str, str]]:
    known = known_names(archive)
    return {
        (reference.file, reference.name)
        for reference in references_of(archive)
        if reference.needed and reference.name not in known[reference.to]
    }


def told(faults: tuple[Problem, ...]) -> Counter[tuple[str, str, str]]:
    return Counter((fault.place.file, fault.place.field, fault.rule) for fault in faults)


@given(small_archives())
def test_what_remains_names_nothing_that_is_not_there_and_can_be_judged(archive: Archive) -> None:
    usable, faults = usable_part(archive)

    assert needed_and_missing(usable) == set()
    assert all(fault.severity is Severity.ERROR for fault in faults)
    assert set(judge_all(usable)) == set(usable.features)


@given(small_archives())
def test_what_was_left_out_is_told_and_each_fault_once(archive: Archive) -> None:
    usable, faults = usable_part(archive)

    assert {fault.place.file for fault in faults} == files_of(archive) - files_of(usable)
    assert all(times == 1 for times in told(faults).values())
    for folder in _RECORDS:
        kept = getattr(usable, folder)
        assert kept == {record: getattr(archive, folder)[record] for record in kept}


@given(small_archives())
def test_no_more_is_left_out_than_has_to_be(archive: Archive) -> None:
    """Brute force: whatever alone is put back beside the usable part is at fault there."""
    usable, _ = usable_part(archive)

    for folder in sorted(_RECORDS):
        for record_id, record in getattr(archive, folder).items():
            if record_id not in getattr(usable, folder):
                changed: dict[str, Any] = {folder: {**getattr(usable, folder), record_id: record}}
                with_it = replace(usable, **changed)
                again, _ = usable_part(with_it)
                assert record_id not in getattr(again, folder)


@given(small_archives())
def test_whatever_is_left_out_check_finds_fault_with_too_or_with_what_it_names(archive: Archive) -> None:
    _, faults = usable_part(archive)
    named = {problem.place.file for problem in check_records(archive)}

    for fault in faults:
        assert fault.place.file in named or "has faults of its own" in fault.what


def test_a_withdrawn_record_still_has_to_be_sound() -> None:
    archive = an_archive(a_claim("gaslight", "drawing", withdrawn=a_withdrawal(), claim_id="withdrawn"))

    usable, _ = usable_part(archive)

    assert usable.claims == {}
    assert BY in usable.person_ids


@given(small_archives(), st.data())
def test_the_faults_in_some_files_are_those_that_a_check_of_everything_tells_of_them(
    archive: Archive, data: st.DataObject
) -> None:
    files = data.draw(st.sets(st.sampled_from(sorted(files_of(archive)))))

    told_alone = check_files(archive, files)

    assert told_alone == tuple(problem for problem in check_records(archive) if problem.place.file in files)


def test_a_file_alone_shows_what_it_gets_wrong_about_the_sources_that_it_names() -> None:
    album = replace(a_source("album"), files=(a_file_of(pages=3),))
    leaf = replace(a_source("leaf", created="1930"), within=Within(source="album", pages=parse_page_range("2..4")))
    tracing = a_source("tracing", "drawing", created="1925", of=["redrawn:drawing-b"])
    later = a_source("drawing-b", "drawing", created="1929", replaces="drawing-c")
    newest = a_source("drawing-c", "drawing", created="1935")
    archive = a_sound_archive(sources={each.id: each for each in (album, leaf, tracing, later, newest)}, claims={})

    rules = {
        each: [problem.rule for problem in check_files(archive, [f"sources/{each}.yaml"])] for each in archive.sources
    }

    assert rules == {
        "album": [],
        "leaf": ["page-beyond"],
        "tracing": ["impossible-date"],
        "drawing-b": ["impossible-date"],
        "drawing-c": [],
    }


def test_a_source_without_a_kind_is_told_where_a_claim_rests_on_it() -> None:
    archive = an_archive(a_claim("acetylene", "scan"), a_source("scan", None), a_source("other", None))

    assert [problem.rule for problem in check_files(archive, ["sources/scan.yaml"])] == ["kind-missing"]
    assert check_files(archive, ["sources/other.yaml"]) == ()


def test_a_hazard_that_a_name_suggests_is_told_with_the_component_of_that_name_alone() -> None:
    components = {name: replace(a_component(name), name="Brake lining") for name in ("brake", "spare")}
    archive = a_sound_archive(components=components, claims={})

    told = check_files(archive, ["components/brake.yaml", "sources/scan.yaml"])

    assert [(problem.place.file, problem.rule) for problem in told] == [("components/brake.yaml", "hazard-suggested")]
    assert check_files(archive, ["sources/scan.yaml"]) == ()


def test_a_fault_of_the_archive_s_own_record_is_told_with_it() -> None:
    archive = a_sound_archive(target=None)

    assert [problem.rule for problem in check_files(archive, ["archive.yaml"])] == ["archive-gap"]


def a_file_of(pages: int) -> OriginalFile:
    return OriginalFile(path="originals/a/a.pdf", sha256="0" * 64, size=9, media_type="application/pdf", pages=pages)
