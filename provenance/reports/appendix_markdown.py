"""The appendix as Markdown (CommonMark), with every text of others made harmless."""

import re
from collections.abc import Iterable, Iterator

from provenance.reports import appendix_wording as wording
from provenance.reports.appendix_values import Account, Appendix, Reading, StatementAccount
from provenance.reports.cautioned import caution_sentences
from provenance.reports.citations import Citation
from provenance.reports.layout import plain

# CommonMark 0.31, section 2.4: a backslash before any ASCII punctuation makes it literal. `<`, `>` and `&` become
# character references, since some programs hand HTML on before they look at backslashes; `://`, `www.` and `@` are
# broken up, since some programs make links of them.
_SPECIAL = re.compile(r"[\\`*_{}\[\]|~^$@!]|(?<=\w):(?=//)|(?<=www)\.", re.IGNORECASE)
_BEGINNING = re.compile(r"^(\s*)(\d{1,9}(?=[.)])|(?=[-+=#:]))")
_REFERENCES = {"&": "&amp;", "<": "&lt;", ">": "&gt;"}


def markdown_text(text: str) -> str:
    """Write a text so that Markdown shows it as it is, on one line and wherever it stands."""
    harmless = "".join(_REFERENCES.get(letter, letter) for letter in plain(text))
    return _BEGINNING.sub(r"\1\2\\", _SPECIAL.sub(r"\\\g<0>", harmless))


def appendix_markdown(appendix: Appendix) -> str:
    """Write the whole text; the same appendix gives the same bytes."""
    return "\n\n".join(_blocks(appendix)) + "\n"


def _blocks(appendix: Appendix) -> Iterator[str]:
    running = f"*{markdown_text(wording.running_line(appendix))}*"
    yield running
    yield f"# {markdown_text(appendix.title)}"
    if appendix.cautions:
        yield f"## {wording.CAUTIONS}"
        for caution in appendix.cautions:
            name = markdown_text(caution.hazard.replace("-", " ").capitalize())
            yield f"**{name}.** {markdown_text(caution_sentences(caution))}"
    yield markdown_text(wording.opening(appendix))
    yield markdown_text(wording.ON_FITNESS)
    yield f"## {wording.REPRESENTED}"
    yield markdown_text(wording.represented(appendix))
    yield f"## {wording.PARTS_SHOWN}"
    yield _defined((part.name, part.words) for part in appendix.parts) or wording.NO_PARTS
    yield f"## {wording.STATEMENTS}"
    for statement in appendix.statements:
        yield from _statement(statement)
    yield f"## {wording.CONJECTURE}"
    yield _list(appendix.conjecture) or wording.NO_CONJECTURE
    yield f"## {wording.CHANGES}"
    yield _list(appendix.changes) or wording.NO_CHANGES
    yield f"## {wording.SOURCES}"
    yield _numbered(each.text for each in appendix.sources) or wording.NO_SOURCES
    yield f"## {wording.CREDITS}"
    yield _numbered(each.credit for each in appendix.sources) or wording.NO_SOURCES
    yield f"## {wording.WORDS}"
    yield _defined(appendix.definitions)
    yield markdown_text(wording.closing(appendix))
    yield running


def _list(sentences: Iterable[str]) -> str:
    return "\n".join(f"- {markdown_text(sentence)}" for sentence in sentences)


def _numbered(texts: Iterable[str]) -> str:
    return "\n".join(f"{number}. {markdown_text(text)}" for number, text in enumerate(texts, 1))


def _defined(pairs: Iterable[tuple[str, str]]) -> str:
    return "\n".join(f"- **{markdown_text(word)}**: {markdown_text(meaning)}" for word, meaning in pairs)


def _statement(statement: StatementAccount) -> Iterator[str]:
    yield f"> {markdown_text(statement.text)}"
    yield from map(_account, statement.accounts)
    if not statement.accounts:
        yield wording.NO_FEATURE


def _account(account: Account) -> str:
    best = _reading(account.best) if account.best else f"{wording.NO_VALUE}."
    others = "".join(f" Another answer: {_reading(other)}" for other in account.others)
    remarks = "".join(f" {markdown_text(remark)}" for remark in account.remarks)
    return f"**{markdown_text(account.name)}:** {best}{others}{remarks}"


def _reading(reading: Reading) -> str:
    opposed = f" Against it: {_cited(reading.opposed)}." if reading.opposed else ""
    value, sure = markdown_text(reading.value), markdown_text(reading.sure)
    return f"“{value}”, {sure}: {_cited(reading.supported)}.{opposed}"


def _cited(citations: Iterable[Citation]) -> str:
    return "; ".join(_citation(citation) for citation in citations)


def _citation(citation: Citation) -> str:
    quote = f"“{markdown_text(citation.quote)}” " if citation.quote else ""
    return f"{quote}{markdown_text(citation.mark)}"
