import pytest
from builders import a_component, an_archive
from reports.appendices import a_whole_archive, the_appendix, with_panel

from provenance.reports.appendix_markdown import appendix_markdown, markdown_text


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("No. 9, at 3 ft 4 1/2 in", "No. 9, at 3 ft 4 1/2 in"),
        ("*bold* _and_ `code`", r"\*bold\* \_and\_ \`code\`"),
        ("[a](b) ![c](d)", r"\[a\](b) \!\[c\](d)"),
        ("<script> & &lt;", "&lt;script&gt; &amp; &amp;lt;"),
        ("https://x.org www.x.org me@x.org", r"https\://x.org www\.x.org me\@x.org"),
        ("a | b ~ c ^ d $ e", r"a \| b \~ c \^ d \$ e"),
        ("back\\slash", "back\\\\slash"),
        ("# not a heading", r"\# not a heading"),
        ("- not a list", r"\- not a list"),
        ("+ nor this", r"\+ nor this"),
        ("1. nor this", r"1\. nor this"),
        ("12) nor this", r"12\) nor this"),
        ("=== nor this", r"\=== nor this"),
        ("1934 was so", "1934 was so"),
        ("two\n\n# lines", "two # lines"),
    ],
)
def test_markdown_shows_a_text_as_it_is(text: str, written: str) -> None:
    """CommonMark 0.31: a backslash before ASCII punctuation (2.4), what begins a block (4.2, 4.3, 5.2)."""
    assert markdown_text(text) == written


def test_the_text_says_first_and_last_that_the_object_is_a_modern_re_creation() -> None:
    lines = appendix_markdown(the_appendix(a_whole_archive(), draft=True)).splitlines()

    assert lines[0] == lines[-1]
    assert lines[0].startswith("*DRAFT, not for display · A modern re-creation · ")


def test_nothing_that_others_wrote_becomes_markup() -> None:
    text = appendix_markdown(the_appendix(a_whole_archive("<b>*x*</b>\n# y")))

    assert "<b>" not in text
    assert "*x*" not in text.replace(r"\*x\*", "")
    assert "\n# y" not in text


def test_sources_credits_and_words_stand_at_the_end() -> None:
    text = appendix_markdown(the_appendix(a_whole_archive()))

    headings = [line.removeprefix("## ") for line in text.splitlines() if line.startswith("## ")]

    assert headings == [
        "Cautions",
        "What is represented",
        "What you see",
        "What each statement rests on",
        "What is conjecture",
        "What was changed for the present day",
        "Sources",
        "Credits",
        "The words used",
    ]
    assert "1. Tamlin Works. Handbook. Manual, issue 2, about 1933.\n2. " in text
    assert r"“as it was” \[2, page 1\]" in text
    assert r"Against it: \[1, page 15\]." in text
    assert "No evidence is cited for this statement." in text


def test_what_is_missing_is_said() -> None:
    text = appendix_markdown(the_appendix(with_panel(an_archive(a_component(), target=None), components=())))

    assert "The panel names no part." in text
    assert text.count("No source can be shown.") == 2
    assert "It is not recorded yet which machine is represented, and when." in text
