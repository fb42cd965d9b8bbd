"""Sources that look like copies of one another: the list of pairs, and two of them side by side."""

from typing import Any

from flask import Blueprint, Response, make_response, request, url_for

from provenance.errors import ProvenanceError
from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair
from provenance.records.kinds import Derivation, Ruling
from provenance.reports.aligned_text import aligned_stretches
from provenance.reports.copied_text import found_words, if_words, ruling_commands
from provenance.reports.copied_words import place_in_words, ruling_words, source_words
from provenance.reports.layout import counted
from provenance.reports.pair_page import PairPage
from provenance.reports.pair_shown import likeness_words
from provenance.reports.tried import Tried, change_sentences
from provenance.rules.source_words import derivation_in_words
from provenance.tasks.listing_copies import ALL, RULINGS
from provenance.tasks.pair_pages import PairPages
from provenance.tasks.ruling import NEITHER
from provenance.web.asking import current, failed, shown
from provenance.web.writing import Refused, before_them

pages = Blueprint("copies_pages", __name__)

VIEWS = ("first", "second", "under", "laid")
"""The pictures of a pair: each page with the area outlined, that of the first as it is, the second laid on it."""

ORIGINAL = "original:"
"""What a ruling begins with that names the source from which the other was made."""

DISTINCT = "distinct"
"""The ruling that neither was made from the other."""

_STRETCH = 90


def _begun(text: str) -> str:
    """A clause as a sentence begins."""
    return text[:1].upper() + text[1:]


_WORDS: dict[str, Any] = {
    "begun": _begun,
    "change_sentences": change_sentences,
    "counted": counted,
    "found_words": found_words,
    "if_words": if_words,
    "likeness_words": likeness_words,
    "place_in_words": place_in_words,
    "ruling_words": ruling_words,
    "source_words": source_words,
}


@pages.get("/copies")
def pairs() -> str | Response:
    """List pairs, and what each ruling would change."""
    asked = request.args
    ruling = asked.get("ruling") or ALL
    if ruling not in RULINGS:
        return failed(f"There is no ruling “{ruling}”", f"ask for one of {', '.join(RULINGS)}", 400)
    component, source = (asked.get(name, "").strip() or None for name in ("component", "source"))
    number = asked.get("page", "")
    page = _pair_pages().listed(
        ruling, component=component, source=source, page=int(number) if number.isdecimal() and len(number) < 8 else 1
    )

    def address(to: int) -> str:
        return url_for("copies_pages.pairs", ruling=ruling, component=component, source=source, page=to)

    archive = page.copies.archive
    return shown(
        "copies.html",
        page=page,
        copies=page.copies,
        counts=[(each.value, page.copies.counts[each]) for each in Ruling],
        rulings=[(ALL, "all"), *((each.value, _NAMES[each]) for each in Ruling)],
        components=sorted((each.name, each.id) for each in archive.components.values()),
        address=address,
        **_WORDS,
    )


@pages.get("/copies/<pair_id>")
def pair(pair_id: str) -> str:
    """Show two sources side by side."""
    return show_pair(pair_id)


def show_pair(pair_id: str, *, refused: Refused | None = None, tried: Tried | None = None) -> str:
    """The page of two sources side by side, with a form to rule on them.

    Args:
        pair_id: of their record.
        refused: why a ruling was not written; None where none was sent.
        tried: what a ruling would change; None where that was not asked.

    Raises:
        UnknownRecordError: there is no such pair.
    """
    known = current().archive.copies.get(pair_id)
    sources = known.between if known is not None else ()
    before, _ = before_them([f"copies/{pair_id}.yaml", *(f"sources/{each}.yaml" for each in sources)])
    page = _pair_pages().page(pair_id, is_asked="compare" in request.args)
    passages = page.shown.passages if page.shown else ("", "")
    return shown(
        "copies_pair.html",
        page=page,
        pair=page.listed.pair,
        named=_named(page.listed.pair),
        sources=[page.archive.sources[each] for each in page.listed.pair.between],
        stretches=list(aligned_stretches(*passages, _STRETCH)),
        commands=ruling_commands(page.listed),
        before=before,
        refused=refused,
        new_ruling=tried,
        rulings=_rulings(page.listed.pair, page.archive),
        ways=[(each.value, f"the copy {derivation_in_words(each)} the original") for each in Derivation],
        way=_way(page),
        **_WORDS,
    )


def _rulings(pair: CopyPair, archive: Archive) -> list[tuple[str, str]]:
    """What may be ruled, and the words for it."""
    one, other = (f"“{archive.sources[each].title}”" for each in pair.between)
    return [
        (f"{ORIGINAL}{pair.between[0]}", f"copies: B was made from A; the original is {one}"),
        (f"{ORIGINAL}{pair.between[1]}", f"copies: A was made from B; the original is {other}"),
        (NEITHER, "copies: both go back to a third that is not held"),
        (DISTINCT, "no copies: each is a witness of its own"),
    ]


def _way(page: PairPage) -> str:
    """How the one was made from the other by what is on record; empty where nothing says it."""
    if page.listed.pair.how is not None:
        return page.listed.pair.how.value
    making = next((each.making for each in page.listed.tried or () if each.making), None)
    return making.how.value if making and making.is_on_record and making.how else ""


@pages.get("/copies/<pair_id>/<view>.png")
def view(pair_id: str, view: str) -> Response:
    """Give a picture of a pair."""
    if view not in VIEWS:
        return failed("There is no such picture of a pair", "go back to the pair", 404)
    try:
        views = _pair_pages().views(pair_id)
    except ProvenanceError as error:
        return failed(error.what, error.mend, 404)
    data: bytes | None = getattr(views, view)
    if data is None:
        return failed(
            "; ".join(views.faults) or "There is nothing to be seen of it", "look at the original itself", 404
        )
    answer = make_response(data)
    answer.content_type = "image/png"
    return answer


_NAMES = {
    Ruling.OPEN: "waiting for a ruling",
    Ruling.COPY: "ruled copies",
    Ruling.DISTINCT: "ruled distinct",
}


def _named(pair: CopyPair) -> str:
    return " and ".join(pair.between)


def _pair_pages() -> PairPages:
    now = current()
    return now.remembered("copies", lambda: PairPages(now.opened, now.verdicts))
