import time
from collections.abc import Mapping

import pytest

from provenance.errors import UsageRefusedError
from provenance.reports.style_sheets import NAMESPACE, StyleSheet, look_over
from provenance.tasks.citing_styles import our_styles, style_sheet

LAYOUT = '<layout><text variable="title"/></layout>'
PARTS = {"citation": f"<citation>{LAYOUT}</citation>", "bibliography": f"<bibliography>{LAYOUT}</bibliography>"}


def _style(
    inside: str = "", before: str = "", parts: Mapping[str, str] = PARTS, says: str = 'class="in-text"'
) -> StyleSheet:
    text = f'{before}<style xmlns="{NAMESPACE}" version="1.0" {says}>{inside}{"".join(parts.values())}</style>'
    return StyleSheet(name="odd.csl", data=text.encode())


def _called(*names: str) -> str:
    return "".join(f'<text macro="{name}"/>' for name in names)


@pytest.mark.parametrize("name", our_styles())
def test_our_styles_pass(name: str) -> None:
    assert look_over(style_sheet(name)).language == "en-GB"


def test_whether_a_style_numbers_its_sources_is_seen() -> None:
    sorted_by_number = '<bibliography><sort><key variable="citation-number"/></sort>' + LAYOUT + "</bibliography>"

    assert look_over(style_sheet("iso-690-numeric")).numbered
    assert not look_over(style_sheet("iso-690-author-date")).numbered
    assert not look_over(_style(parts={**PARTS, "bibliography": sorted_by_number})).numbered


def test_the_language_is_the_styles_own_else_british_english() -> None:
    assert look_over(_style()).language == "en-GB"
    assert look_over(_style(says='class="in-text" default-locale="fr-FR"')).language == "fr-FR"


REFUSED = {
    "no XML": (StyleSheet(name="odd.csl", data=b"title: Works"), "odd.csl, line 1: this is not XML"),
    "a picture": (StyleSheet(name="odd.csl", data=b"\x89PNG"), "odd.csl: it is not written in UTF-8"),
    "nothing": (StyleSheet(name="odd.csl", data=b""), "this is not XML: no element found"),
    "cut off": (StyleSheet(name="odd.csl", data=_style().data[:-4]), "this is not XML"),
    "in other letters": (
        StyleSheet(name="odd.csl", data=_style().data.decode().encode("utf-16")),
        "not written in UTF-8",
    ),
    "in other letters, unmarked": (
        StyleSheet(name="odd.csl", data=_style().data.decode().encode("utf-16-le")),
        "not written in UTF-8",
    ),
    "another language": (StyleSheet(name="odd.csl", data=b"<html/>"), "line 1: this is no style of the Citation Style"),
    "too large": (StyleSheet(name="odd.csl", data=b" " * 1_000_001), "larger than 1,000,000 bytes"),
    "a file of this machine": (
        _style(before='<!DOCTYPE style [<!ENTITY x SYSTEM "file:///etc/passwd">]>', inside="<info>&x;</info>"),
        "odd.csl, line 1: it has a document type",
    ),
    "an address": (_style(before='<!DOCTYPE style SYSTEM "https://example.org/x.dtd">'), "it has a document type"),
    "a bomb": (
        _style(before='<!DOCTYPE s [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]>', inside="<info>&b;</info>"),
        "it has a document type",
    ),
    "an unknown entity": (_style(inside="<info>&x;</info>"), "this is not XML: undefined entity"),
    "a pointer to another": (
        _style('<info><link rel="independent-parent" href="https://example.org/styles/other"/></info>', parts={}),
        "odd.csl, line 1: it only points to another style, `other`",
    ),
    "notes": (_style(says='class="note"'), "notes at the foot of a page"),
    "no list": (_style(parts={"citation": PARTS["citation"]}), "does not say how to write a list of sources"),
    "no citations": (_style(parts={"bibliography": PARTS["bibliography"]}), "does not say how to write a citation"),
    "no such macro": (_style(f'<macro name="a">{_called("b")}</macro>'), "there is no macro `b`"),
    "a circle": (
        _style(f'<macro name="a">{_called("b")}</macro><macro name="b">{_called("a")}</macro>'),
        "leads back to itself",
    ),
    "a pit": (_style("<group>" * 200 + "</group>" * 200), "more than 100 deep"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_a_style_that_cannot_be_used_or_may_do_harm_is_refused_with_its_place_and_a_mend(case: str) -> None:
    style, why = REFUSED[case]

    with pytest.raises(UsageRefusedError) as refused:
        look_over(style)

    assert why in refused.value.what
    assert refused.value.what.startswith("odd.csl")
    assert refused.value.mend


def test_macros_that_multiply_are_refused_before_they_are_followed() -> None:
    doubling = "".join(f'<macro name="m{n}">{_called(f"m{n + 1}", f"m{n + 1}")}</macro>' for n in range(40))
    last = '<macro name="m40"><text variable="title"/></macro>'
    begun = time.perf_counter()

    with pytest.raises(UsageRefusedError, match="more than 20,000 steps"):
        look_over(_style(doubling + last))

    # Two to the power of forty steps would take years; this only tells that none of them was taken.
    assert time.perf_counter() - begun < 60


def test_of_the_branches_of_a_choice_one_is_counted() -> None:
    branch = '<if type="book">' + '<text variable="title"/>' * 9_000 + "</if>"
    either = f'<macro name="a"><choose>{branch}{branch.replace("if", "else-if")}</choose></macro>'
    both = f'<macro name="a"><choose>{branch}</choose><choose>{branch}</choose><choose>{branch}</choose></macro>'

    look_over(_style(either))
    with pytest.raises(UsageRefusedError, match="steps"):
        look_over(_style(both))


def test_what_a_file_says_is_told_without_what_a_terminal_would_obey() -> None:
    with pytest.raises(UsageRefusedError) as refused:
        look_over(_style(_called("&#x202E;&#x9B;x" * 60)))

    assert "\u202e" not in refused.value.what
    assert "\x9b" not in refused.value.what
    assert len(refused.value.what) < 200
