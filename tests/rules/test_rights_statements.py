import pytest

from provenance.rules.rights_statements import STATEMENTS, statement_words

# The codes as the paths of https://rightsstatements.org/vocab/*/1.0/ name them: InC-RUU, CNE and NKC as published in
# the data model's repository, the list of twelve from memory.
_PUBLISHED = "InC InC-OW-EU InC-EDU InC-NC InC-RUU NoC-CR NoC-NC NoC-OKLR NoC-US CNE UND NKC"


def test_the_statements_are_the_twelve_of_the_published_vocabulary() -> None:
    assert set(STATEMENTS) == set(_PUBLISHED.split())


@pytest.mark.parametrize("code", sorted(_PUBLISHED.split()))
def test_the_label_begins_as_its_code_says(code: str) -> None:
    """InC is in copyright, NoC no copyright; the other three speak of what is not known."""
    begins = {"InC": "In Copyright", "NoC": "No Copyright", "CNE": "Copyright", "UND": "Copyright", "NKC": "No Known"}

    assert STATEMENTS[code].startswith(begins[code.partition("-")[0]])


def test_a_licence_is_printed_as_it_is_written() -> None:
    assert statement_words("CC-BY-4.0") == "CC-BY-4.0"
    assert statement_words("NoC-US") == "No Copyright - United States (NoC-US)"
