from builders import a_claim, an_archive, an_item
from public_archives import CLEARED, DAY, an_open_source, texts_in

from provenance.records.archive import Archive, Person
from provenance.records.kinds import Publish
from provenance.records.sources import Rights
from provenance.rules.public_view import public_view

ASKED = Rights(publish=Publish.ASK)
TYPE = "headlamp/type"


def _view_texts(archive: Archive) -> str:
    return "\n".join(texts_in(public_view(archive, DAY).archive))


def test_who_wrote_a_letter_is_named_where_the_letter_is_cleared_for_print() -> None:
    archive = an_archive(an_open_source("letter", "letter", creator="E. Marrable"), a_claim("electric", "letter"))

    view = public_view(archive, DAY)

    assert view.creators == {"letter": "E. Marrable"}
    assert view.verdicts[TYPE].rests_on == ("letter", "witness:E. Marrable")


def test_who_wrote_a_letter_is_not_named_where_it_is_not_cleared() -> None:
    letter = an_open_source("letter", "letter", creator="E. Marrable", title="E. Marrable to the works", rights=ASKED)

    view = public_view(an_archive(letter, a_claim("electric", "letter")), DAY)

    assert view.creators == {"letter": "person 1, who is not named"}
    assert "Marrable" not in "\n".join(texts_in(view.archive) | texts_in(view.verdicts))
    assert view.archive.sources["letter"].title == "[withheld] to the works"


def test_two_accounts_of_somebody_who_is_not_named_are_one_witness() -> None:
    letters = [
        an_open_source("a", "letter", creator="E. Marrable", rights=ASKED),
        an_open_source("b", "letter", creator="E. Marrable"),
    ]
    other = an_open_source("c", "letter", creator="T. Ossary", rights=ASKED)

    view = public_view(an_archive(*letters, other, a_claim("electric", "a", "b", "c")), DAY)

    assert view.verdicts[TYPE].lines == 2
    assert view.creators["c"] == "person 2, who is not named"


def test_the_author_of_a_published_book_is_credited_for_it_though_a_letter_of_theirs_is_not_cleared() -> None:
    book = an_open_source("book", "book", creator="E. Marrable", origin_stated=True)
    letter = an_open_source("letter", "letter", creator="E. Marrable", rights=ASKED)

    view = public_view(an_archive(book, letter, a_claim("electric", "book", "letter")), DAY)

    assert view.creators["book"] == "E. Marrable"
    assert view.verdicts[TYPE].lines == 1


def test_whoever_speaks_in_a_recording_is_named_only_where_it_is_cleared() -> None:
    tape = an_open_source("tape", "oral-history", rights=ASKED)
    free = an_open_source("film", "film", rights=CLEARED)
    claim = a_claim("electric", an_item("tape", who="Ada Penrith"), an_item("film", "shows", who="Old Morgan"))

    text = _view_texts(an_archive(tape, free, claim))

    assert "Penrith" not in text
    assert "Old Morgan" in text


def test_a_member_of_the_team_is_named_as_they_wish_to_be_credited_or_not_at_all() -> None:
    people = (Person(id="mh", name="Mary Holt", credited_as="M. Holt"),)
    notes = an_open_source("notes", "notes", creator="mh")
    hidden = an_open_source("notes", "notes", creator="mh", rights=ASKED, title="Notes of Mary Holt")

    named = public_view(an_archive(notes, people=people), DAY)
    unnamed = public_view(an_archive(hidden, people=people), DAY)

    assert named.creators == {"notes": "M. Holt"}
    assert unnamed.archive.sources["notes"].title == "Notes of [withheld]"


def test_an_unknown_writer_or_speaker_is_nobody_to_be_hidden() -> None:
    letter = an_open_source("letter", "letter", creator="unknown", rights=ASKED)
    claim = a_claim("electric", an_item("letter", who="unknown"))

    view = public_view(an_archive(letter, claim), DAY)

    assert view.creators == {}
    assert view.verdicts[TYPE].rests_on == ("letter",)
