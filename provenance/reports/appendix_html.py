"""The appendix as one self-contained page: no script, nothing fetched, to be read on a screen or printed on A4."""

from collections.abc import Iterable, Iterator
from html import escape

from provenance.reports import appendix_wording as wording
from provenance.reports.appendix_values import Account, Appendix, Reading, StatementAccount
from provenance.reports.cautioned import caution_sentences
from provenance.reports.citations import Citation
from provenance.reports.layout import plain

# Text #1d1d1b on #fff has a contrast of 16.9:1, links and small print #3d4a52 of 9.2:1; WCAG 2.2 asks for 7:1 at AAA.
_STYLE = """
@page { size: A4; margin: 18mm 20mm 20mm; }
html { font: 11pt/1.5 Georgia, "Times New Roman", serif; color: #1d1d1b; background: #fff; }
body { margin: 0 auto; max-width: 42rem; padding: 1.5rem; }
.sheet { display: table; width: 100%; }
.running { display: table-header-group; break-inside: avoid; }
.running p { margin: 0 0 1.5rem; padding-bottom: .4rem; border-bottom: 1px solid #3d4a52; font-size: .85rem;
  color: #3d4a52; }
.draft .running p { color: #8a1c00; font-weight: bold; border-color: #8a1c00; }
main { display: table-row-group; }
h1 { font-size: 1.7rem; line-height: 1.2; margin: 0 0 .6rem; }
h2 { font-size: 1.15rem; margin: 1.8rem 0 .5rem; break-after: avoid; }
p, ul, ol, dl { margin: .4rem 0; }
a { color: #3d4a52; text-decoration-thickness: 1px; }
blockquote { margin: 0 0 .3rem; padding-left: .8rem; border-left: 3px solid #3d4a52; font-size: 1.05rem; }
.statements { list-style: none; padding: 0; }
.statements > li { margin: 0 0 1.2rem; break-inside: avoid; }
.caution { border: 1px solid #8a1c00; padding: .5rem .8rem; break-inside: avoid; }
dt { font-weight: bold; break-after: avoid; }
dd { margin: 0 0 .4rem 1.2rem; }
li, dd, p { overflow-wrap: anywhere; }
a { white-space: nowrap; }
.small { font-size: .85rem; color: #3d4a52; }
@media print { body { max-width: none; padding: 0; } a { text-decoration: none; } }
"""


def appendix_html(appendix: Appendix) -> str:
    """Write the whole page; the same appendix gives the same bytes."""
    title = _safe(f"{wording.SOURCES}: {appendix.title}")
    body = "\n".join(_body(appendix))
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>{title}</title>
<style>{_STYLE}</style>
</head>
<body{' class="draft"' if appendix.draft else ""}>
<div class="sheet">
<header class="running"><p>{_safe(wording.running_line(appendix))}</p></header>
<main>
{body}
</main>
</div>
</body>
</html>
"""


def _safe(text: str) -> str:
    return escape(plain(text), quote=True)


def _body(appendix: Appendix) -> Iterator[str]:
    yield f"<h1>{_safe(appendix.title)}</h1>"
    if appendix.cautions:
        yield _heading(wording.CAUTIONS)
        for caution in appendix.cautions:
            name = _safe(caution.hazard.replace("-", " ").capitalize())
            yield f'<p class="caution"><strong>{name}.</strong> {_safe(caution_sentences(caution))}</p>'
    yield _paragraph(wording.opening(appendix))
    yield _paragraph(wording.ON_FITNESS)
    yield _heading(wording.REPRESENTED)
    yield _paragraph(wording.represented(appendix))
    yield _heading(wording.PARTS_SHOWN)
    yield _defined([(part.name, part.words) for part in appendix.parts]) or _paragraph(wording.NO_PARTS)
    yield _heading(wording.STATEMENTS)
    yield '<ol class="statements">'
    yield from (_statement(each) for each in appendix.statements)
    yield "</ol>"
    yield _heading(wording.CONJECTURE)
    yield _list(appendix.conjecture) or _paragraph(wording.NO_CONJECTURE)
    yield _heading(wording.CHANGES)
    yield _list(appendix.changes) or _paragraph(wording.NO_CHANGES)
    yield _heading(wording.SOURCES)
    yield _numbered((each.text for each in appendix.sources), anchor=True) or _paragraph(wording.NO_SOURCES)
    yield _heading(wording.CREDITS)
    yield _numbered(each.credit for each in appendix.sources) or _paragraph(wording.NO_SOURCES)
    yield _heading(wording.WORDS)
    yield _defined(appendix.definitions)
    yield f'<p class="small">{_safe(wording.closing(appendix))}</p>'


def _heading(text: str) -> str:
    return f"<h2>{_safe(text)}</h2>"


def _paragraph(text: str) -> str:
    return f"<p>{_safe(text)}</p>"


def _list(sentences: Iterable[str]) -> str:
    items = "\n".join(f"<li>{_safe(sentence)}</li>" for sentence in sentences)
    return f"<ul>\n{items}\n</ul>" if items else ""


def _numbered(texts: Iterable[str], *, anchor: bool = False) -> str:
    items = "\n".join(
        f'<li id="source-{number}">{_safe(text)}</li>' if anchor else f"<li>{_safe(text)}</li>"
        for number, text in enumerate(texts, 1)
    )
    return f"<ol>\n{items}\n</ol>" if items else ""


def _defined(pairs: Iterable[tuple[str, str]]) -> str:
    items = "\n".join(f"<dt>{_safe(word)}</dt>\n<dd>{_safe(meaning)}</dd>" for word, meaning in pairs)
    return f"<dl>\n{items}\n</dl>" if items else ""


def _statement(statement: StatementAccount) -> str:
    lines = [f"<li>\n<blockquote>{_safe(statement.text)}</blockquote>"]
    lines += [_account(account) for account in statement.accounts] or [_paragraph(wording.NO_FEATURE)]
    return "\n".join([*lines, "</li>"])


def _account(account: Account) -> str:
    best = _reading(account.best) if account.best else f"{wording.NO_VALUE}."
    others = "".join(f" Another answer: {_reading(other)}" for other in account.others)
    remarks = "".join(f" {_safe(remark)}" for remark in account.remarks)
    return f"<p><strong>{_safe(account.name)}:</strong> {best}{others}{remarks}</p>"


def _reading(reading: Reading) -> str:
    opposed = f" Against it: {_cited(reading.opposed)}." if reading.opposed else ""
    return f"“{_safe(reading.value)}”, {_safe(reading.sure)}: {_cited(reading.supported)}.{opposed}"


def _cited(citations: Iterable[Citation]) -> str:
    return "; ".join(_citation(citation) for citation in citations)


def _citation(citation: Citation) -> str:
    quote = f"<q>{_safe(citation.quote)}</q> " if citation.quote else ""
    return f'{quote}<a href="#source-{citation.number}">{_safe(citation.mark)}</a>'
