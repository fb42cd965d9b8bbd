"""The words of the pages of the fittings, as templates ask for them: the same as in the printed dossier."""

from collections.abc import Callable, Mapping
from typing import Any
from urllib.parse import quote, urlencode

from provenance.records.claims import At
from provenance.reports.appendix_words import PARTS
from provenance.reports.document import Block, Heading
from provenance.reports.dossier import Dossier, Exhibit, FeatureDossier
from provenance.reports.dossier_document import words_used_blocks
from provenance.reports.dossier_evidence import language_of, weighed_words
from provenance.reports.dossier_history import decided_blocks, open_blocks
from provenance.reports.dossier_words import about_source, candidate_words, place_in_words, represented
from provenance.reports.evidence_text import standing_words
from provenance.reports.fit_text import shown_lines
from provenance.reports.layout import counted
from provenance.reports.making_words import making_terms
from provenance.reports.measure_text import near_words, together_words
from provenance.reports.measure_words import needed_words, nominal_words
from provenance.reports.signs import as_it_stands, sign_texts
from provenance.rules.quantity_values import Quantity
from provenance.rules.verdicts import Candidate, JudgedItem
from provenance.rules.weights import Weights, weights_of


def _about(exhibit: Exhibit) -> str:
    return about_source(exhibit.source, exhibit.maker)


def _weighed(item: JudgedItem) -> str:
    return weighed_words(item, with_points=True)


def _sure(candidate: Candidate) -> str:
    return candidate_words(candidate, with_points=True)


def _making(dossier: Dossier, feature: FeatureDossier) -> list[tuple[str, str]]:
    return list(making_terms(dossier.evidence, feature.feature))


def _decided(dossier: Dossier, feature: FeatureDossier) -> list[Block]:
    return _headless(decided_blocks(dossier, feature))


def _open(feature: FeatureDossier) -> list[Block]:
    return _headless(open_blocks(feature))


def _meanings(dossier: Dossier, weights: Weights) -> list[Block]:
    return _headless(words_used_blocks(dossier.evidence, weights))


def _headless(blocks: Any) -> list[Block]:
    """Blocks without their headings, which the page has of its own."""
    return [block for block in blocks if not isinstance(block, Heading)]


def _kind(block: Block) -> str:
    return type(block).__name__


def _measured(quantity: Quantity) -> str:
    """What the figures of a measure come to: laid down, measured, how closely known."""
    told = (nominal_words(quantity), together_words(quantity), near_words(quantity), needed_words(quantity))
    return " ".join(each for each in told if each)


def _capital(sentence: str) -> str:
    """A sentence that begins with a capital; the rest stays as it is."""
    return sentence[:1].upper() + sentence[1:]


def _ended(sentence: str) -> str:
    """A sentence with one full stop behind it, or the mark that ends it already."""
    return sentence if sentence.endswith(("?", "!")) else f"{sentence.rstrip('.')}."


def _made_as(made_as: str | None) -> str:
    return PARTS.get(made_as or "", "")


def place_address(source: str, at: At) -> str:
    """Where a place in a source is looked at: its page with the region marked, or the source where no page is named."""
    beginning = f"/sources/{quote(source, safe='')}"
    if at.page is None:
        return f"{beginning}?{urlencode({'time': str(at.time)})}" if at.time is not None else beginning
    region = f"?{urlencode({'region': str(at.region)})}" if at.region is not None else ""
    return f"{beginning}/pages/{at.page}{region}"


def _item_address(item: JudgedItem) -> str:
    return place_address(item.source, item.at)


def _query(asked: Mapping[str, object]) -> str:
    """What stands behind the question mark of an address; what is empty is left out."""
    return urlencode({name: str(said) for name, said in asked.items() if said != ""})


FILTERS: Mapping[str, Callable[..., Any]] = {
    "fitting_about": _about,
    "fitting_address": _item_address,
    "fitting_as_it_stands": as_it_stands,
    "fitting_capital": _capital,
    "fitting_counted": counted,
    "fitting_decided": _decided,
    "fitting_ended": _ended,
    "fitting_kind": _kind,
    "fitting_language": language_of,
    "fitting_lines": shown_lines,
    "fitting_made_as": _made_as,
    "fitting_making": _making,
    "fitting_meanings": _meanings,
    "fitting_measured": _measured,
    "fitting_open": _open,
    "fitting_query": _query,
    "fitting_place": place_in_words,
    "fitting_represented": represented,
    "fitting_sign": sign_texts,
    "fitting_standing": standing_words,
    "fitting_sure": _sure,
    "fitting_weighed": _weighed,
    "fitting_weights": weights_of,
}
"""What templates call; each name begins with `fitting_`, so that none is in the way of another page's."""
