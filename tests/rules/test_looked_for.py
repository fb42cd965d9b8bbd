"""What was looked for in a picture and could not be told: kept as a note of what it shows, and read back."""

from dataclasses import replace

from builders import a_claim, a_source, a_withdrawal, an_archive, an_item
from rules.signed import NOT_SEEN, OUT_OF_VIEW, SEEN

from provenance.records.sources import Shows
from provenance.rules.looked_for import looked_for, note_of, points_told

POINTS = {"rim": OUT_OF_VIEW, "sign:conduit-on-cantrail": NOT_SEEN, "sign:hood": SEEN}
NOTE = "looked for: rim out of view; sign conduit-on-cantrail not seen; sign hood seen"


def noted(note: str | None, component: str | None = "headlamp") -> Shows:
    return Shows(component=component, note=note)


def test_a_note_says_what_became_of_each_point() -> None:
    assert note_of(POINTS) == NOTE


def test_what_a_note_says_is_read_back() -> None:
    found = looked_for(a_source("view", shows=(noted(NOTE),)))

    assert found == {f"headlamp/{point}": seen for point, seen in POINTS.items()}


def test_other_notes_and_notes_on_the_whole_machine_say_nothing_of_it() -> None:
    shows = (noted("the number is out of view"), noted(NOTE, None), noted(None), noted("looked for: a lamp, in vain"))

    assert looked_for(a_source("view", shows=shows)) == {}


def test_of_two_notes_on_the_same_the_later_counts() -> None:
    shows = (noted(note_of({"rim": OUT_OF_VIEW})), noted(note_of({"rim": NOT_SEEN})))

    assert looked_for(a_source("view", shows=shows)) == {"headlamp/rim": NOT_SEEN}


def test_claims_tell_their_feature_and_the_signs_that_they_bear() -> None:
    bearing = an_item("view", "shows", signs=(("conduit-on-cantrail", SEEN),))
    archive = an_archive(a_source("view"), a_claim("electric", bearing, bearing, claim_id="c"))

    told = points_told(archive)

    assert told == {"view": {"headlamp/type": ("c",), "headlamp/sign:conduit-on-cantrail": ("c",)}}


def test_an_item_that_its_signs_alone_imply_is_no_look_at_the_feature_itself() -> None:
    bearing = an_item("view", "implies", signs=(("conduit-on-cantrail", SEEN),))

    told = points_told(an_archive(a_source("view"), a_claim("electric", bearing, claim_id="c")))

    assert told == {"view": {"headlamp/sign:conduit-on-cantrail": ("c",)}}


def test_what_was_noted_counts_and_what_was_withdrawn_does_not() -> None:
    view = a_source("view", shows=(noted(note_of({"rim": OUT_OF_VIEW})),))
    gone = a_claim("electric", an_item("other", "shows"), claim_id="a", withdrawn=a_withdrawal())
    item = replace(an_item("third", "shows"), withdrawn=a_withdrawal())

    told = points_told(an_archive(view, gone, a_claim("electric", item, claim_id="b", to="8")))

    assert {source: dict(points) for source, points in told.items() if points} == {"view": {"headlamp/rim": ()}}
