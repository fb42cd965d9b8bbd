import pytest
from builders import a_source

from provenance.records.kinds import Derivation, SourceKind
from provenance.rules.source_words import introducer, kind_in_words, made_in_words


@pytest.mark.parametrize("kind", SourceKind)
def test_every_kind_of_source_has_words_without_hyphens_for_one_and_for_several(kind: SourceKind) -> None:
    words = {kind_in_words(kind), kind_in_words(kind, several=True)}

    assert all(word and "-" not in word for word in words)


def test_a_piece_and_a_recollection_are_called_as_people_call_them() -> None:
    assert kind_in_words(SourceKind.ORAL_HISTORY) == "recollection"
    assert kind_in_words(SourceKind.ARTEFACT, several=True) == "surviving pieces"


@pytest.mark.parametrize(
    ("how", "words"),
    [("print", "is a print of"), ("cites", "takes it from"), ("measured-from", "was measured from")],
)
def test_how_a_source_was_made_from_its_parent(how: str, words: str) -> None:
    assert made_in_words(a_source("copy", of=[f"{how}:negative"]), "negative") == words


def test_every_way_of_making_has_words() -> None:
    ways = [made_in_words(a_source("copy", of=[f"{how}:negative"]), "negative") for how in Derivation]

    assert all(ways)


def test_what_was_not_made_from_it_has_no_words() -> None:
    assert made_in_words(a_source("copy", of=["print:negative"]), "ledger") is None


@pytest.mark.parametrize(
    ("kind", "title", "introduced"),
    [
        ("photograph", "No. 9 at the works", "the photograph “No. 9 at the works”"),
        ("letter", "Letter of 1933", "“Letter of 1933”"),
        (None, "A tin of papers", "“A tin of papers”"),
    ],
)
def test_a_source_is_introduced_by_its_kind_unless_its_title_names_that(
    kind: str | None, title: str, introduced: str
) -> None:
    source = a_source("it", kind, title=title)

    assert introducer({"it": source})("it") == introduced
    assert introducer({})("it") == "“it”"
