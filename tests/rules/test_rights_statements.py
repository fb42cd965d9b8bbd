"""Rights statements and licences by the codes that others gave them.

The twelve statements: https://rightsstatements.org/page/1.0/, written from memory; no registry package that we have
carries them. The codes of licences: the SPDX License List as the package `packaging` carries it.
"""

import pytest
from packaging.licenses import InvalidLicenseExpression, canonicalize_license_expression

from provenance.rules.rights_statements import STATEMENTS, statement_words
from provenance.store.document import Document
from provenance.store.record_reading import read_record

# The codes as the paths of https://rightsstatements.org/vocab/*/1.0/ name them: InC-RUU, CNE and NKC as published in
# the data model's repository, the list of twelve from memory.
_PUBLISHED = "InC InC-OW-EU InC-EDU InC-NC InC-RUU NoC-CR NoC-NC NoC-OKLR NoC-US CNE UND NKC"

_VERSIONS = ("1.0", "2.0", "2.5", "3.0", "4.0")
# The six licences of Creative Commons in each of their versions, the waiver, the mark of the public domain, and an
# older dedication to it. BY-NC-ND was BY-ND-NC in version 1.0; SPDX has it in the order of the later ones.
LICENCES = (
    *(f"CC-BY{terms}-{version}" for terms in ("", "-SA", "-ND", "-NC", "-NC-SA", "-NC-ND") for version in _VERSIONS),
    *("CC0-1.0", "CC-PDM-1.0", "CC-PDDC"),
    # ported to a country's law
    *("CC-BY-3.0-DE", "CC-BY-SA-3.0-DE", "CC-BY-SA-2.0-UK", "CC-BY-NC-SA-3.0-IGO"),
    # of governments, whose archives publish under them
    *("OGL-UK-1.0", "OGL-UK-2.0", "OGL-UK-3.0", "OGL-Canada-2.0", "etalab-2.0", "DL-DE-BY-2.0", "DL-DE-ZERO-2.0"),
    *("NLOD-2.0", "ODbL-1.0", "PDDL-1.0"),
)


def test_the_statements_are_the_twelve_of_the_published_vocabulary() -> None:
    assert set(STATEMENTS) == set(_PUBLISHED.split())


@pytest.mark.parametrize("code", sorted(_PUBLISHED.split()))
def test_the_label_begins_as_its_code_says(code: str) -> None:
    """InC is in copyright, NoC no copyright; the other three speak of what is not known."""
    begins = {"InC": "In Copyright", "NoC": "No Copyright", "CNE": "Copyright", "UND": "Copyright", "NKC": "No Known"}

    assert STATEMENTS[code].startswith(begins[code.partition("-")[0]])


@pytest.mark.parametrize(
    ("part", "says"),
    [
        ("EDU", "Educational"),
        ("NC", "Non-Commercial"),
        ("OW", "Orphan Work"),
        ("RUU", "Unlocatable or Unidentifiable"),
        ("CR", "Contractual Restrictions"),
        ("OKLR", "Other Known Legal Restrictions"),
        ("US", "United States"),
        ("EU", "EU"),
    ],
)
def test_each_part_of_a_code_stands_in_its_label(part: str, says: str) -> None:
    labels = [label for code, label in STATEMENTS.items() if part in code.split("-")[1:]]

    assert labels
    assert all(says in label for label in labels)


@pytest.mark.parametrize("code", sorted(_PUBLISHED.split()))
def test_no_code_of_a_statement_is_that_of_a_licence(code: str) -> None:
    """Else one code would mean two things."""
    with pytest.raises(InvalidLicenseExpression):
        canonicalize_license_expression(code)


@pytest.mark.parametrize("code", LICENCES)
def test_a_licence_is_kept_and_printed_under_its_code(code: str) -> None:
    assert canonicalize_license_expression(code) == code
    assert _kept(code) == code
    assert statement_words(code) == code


@pytest.mark.parametrize("code", sorted(_PUBLISHED.split()))
@pytest.mark.parametrize(
    "form", ["{}", "http://rightsstatements.org/vocab/{}/1.0/", "https://rightsstatements.org/page/{}/1.0"]
)
def test_a_statement_is_kept_as_it_was_written_and_printed_in_words(code: str, form: str) -> None:
    written = form.format(code)

    assert _kept(written) == written
    assert statement_words(written) == f"{STATEMENTS[code]} ({code})"


@pytest.mark.parametrize(
    "written",
    [
        "inc",  # a code is written as it was published
        "http://rightsstatements.org/vocab/InC/2.0/",
        "http://rightsstatements.org/vocab/XYZ/1.0/",
        "http://elsewhere.example/vocab/InC/1.0/",
        "https://creativecommons.org/licenses/by/4.0/",
        "with the heirs",
    ],
)
def test_what_is_no_statement_of_the_vocabulary_is_printed_as_it_is_written(written: str) -> None:
    assert statement_words(written) == written


def _kept(statement: str) -> object:
    """What a source's record says of its rights once it was read."""
    text = f"title: A leaf\nrights: {{statement: {statement}}}\nby: mh\ndate: 2026-01-10\n"
    document = read_record(text, "sources/leaf.yaml")
    assert isinstance(document, Document)
    rights = document.content["rights"]
    assert isinstance(rights, dict)
    return rights["statement"]
