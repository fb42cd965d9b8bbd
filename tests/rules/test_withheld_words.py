import re
from dataclasses import replace
from typing import Any

import pytest
from builders import a_claim, a_component, a_feature, a_source, an_archive, an_item, an_option
from hypothesis import given
from hypothesis import strategies as st
from public_archives import an_open_source

from provenance.records.kinds import Access
from provenance.records.sources import Acquired, Loan, Source
from provenance.rules.withheld_words import _any_of, _letters, striker


def _album(**fields: Any) -> Source:
    return a_source("starling-album", access=Access.TEAM, **{"title": "Album of Edith Starling", **fields})


@pytest.mark.parametrize(
    ("said", "sayable"),
    [
        ("As the Album of  Edith\nStarling shows.", "As [withheld] shows."),
        ("as the album of edith starling shows.", "as [withheld] shows."),
        ("See starling-album.", "See [withheld]."),
        ("See starling-albums.", "See starling-albums."),
        ("Nothing of it.", "Nothing of it."),
    ],
)
def test_the_name_of_a_withheld_source_is_struck_out_as_a_whole_however_it_is_spaced(said: str, sayable: str) -> None:
    archive = an_archive(_album())

    strike = striker(archive, {"starling-album"}, ())

    assert strike(said.replace("the Album", "Album").replace("the album", "album")) == sayable


def test_a_long_quotation_is_struck_out_and_a_word_that_anybody_may_say_is_not() -> None:
    long, short = "the lamps were fed from a dynamo", "electric lamp"
    claim = a_claim("electric", *(an_item("starling-album", page=p, quote=q) for p, q in ((1, long), (2, short))))

    strike = striker(an_archive(_album(), claim), {"starling-album"}, ())

    assert strike(f"That “{long}” by an {short}.") == "That “[withheld]” by an electric lamp."


def test_a_donor_is_struck_out_whoever_may_see_what_was_given() -> None:
    given = an_open_source("plate", "artefact", acquired=(Acquired(giver="Mr Corrin of Pell"),))

    strike = striker(an_archive(given), (), ())

    assert strike("Given by Mr Corrin of Pell.") == "Given by [withheld]."


def test_what_public_records_say_too_may_be_said() -> None:
    works = "Tamlin Works"
    archive = an_archive(_album(creator=works, title="Drawing"), an_open_source("sheet", "drawing", creator=works))

    strike = striker(archive, {"starling-album"}, ())

    assert strike("A Drawing by the Tamlin Works.") == "A Drawing by the Tamlin Works."


def test_a_part_keeps_the_name_that_a_withheld_picture_of_it_has_for_a_title_and_loses_that_of_its_donor() -> None:
    picture = _album(title="Front buffer", acquired=(Acquired(giver="Starrick pump"),))
    parts = a_component("buffer", name="Front buffer"), a_component("pump", name="Starrick pump")

    strike = striker(an_archive(picture, *parts), {"starling-album"}, ())

    assert strike("The Front buffer and the Starrick pump.") == "The Front buffer and the [withheld]."


def test_works_that_an_answer_names_and_a_museum_that_the_archive_is_called_by_may_be_said() -> None:
    album = _album(creator="Tamlin Works", holder="Velling Museum", loan=Loan(owner="Velling Museum"))
    maker = a_component("lamp", a_feature("maker", options=(an_option("Tamlin Works"),)))

    lent = striker(an_archive(album, maker, title="Velling Museum"), {"starling-album"}, ())
    kept = striker(an_archive(replace(album, loan=None), maker, title="Velling Museum"), {"starling-album"}, ())

    assert kept("Tamlin Works, in the Velling Museum") == "Tamlin Works, in the Velling Museum"
    assert lent("Tamlin Works, in the Velling Museum") == "Tamlin Works, in the [withheld]"


def test_a_name_that_is_not_to_be_said_is_struck_out_though_an_open_record_says_it() -> None:
    archive = an_archive(an_open_source("letter", "letter", creator="E. Marrable"))

    assert striker(archive, (), {"E. Marrable"})("E. Marrable wrote so.") == "[withheld] wrote so."


def test_where_nothing_is_withheld_nothing_is_struck_out() -> None:
    assert striker(an_archive(), (), ())("Anything at all.") == "Anything at all."


_PIECES = st.sampled_from(("a", "b", "ab", "A.", "-b", "é", "Ba"))
_NAMES = st.lists(_PIECES, min_size=1, max_size=3).map(" ".join)
_TEXTS = st.lists(_PIECES, max_size=8).map("  ".join)


@given(st.lists(_NAMES, min_size=1, max_size=40), _TEXTS)
def test_many_words_are_found_as_each_by_itself_would_be_the_longest_first(words: list[str], text: str) -> None:
    longest_first = sorted({" ".join(word.split()) for word in words}, key=lambda word: (-len(word), word))
    one_by_one = "|".join(r"\s+".join(map(re.escape, word.split())) for word in longest_first)

    found = re.findall(rf"(?<!\w)(?:{_any_of(map(_letters, words))})(?!\w)", text, re.IGNORECASE)

    assert found == re.findall(rf"(?<!\w)(?:{one_by_one})(?!\w)", text, re.IGNORECASE)
