"""What is about to be withdrawn, in words: the record, and of a claim each item of its evidence."""

from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.sources import Withdrawal
from provenance.reports.copied_words import source_words
from provenance.reports.dossier_words import place_in_words
from provenance.reports.to_decide import value_words


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemToWithdraw:
    """An item of a claim's evidence.

    Attributes:
        number: from 1.
        words: its source and the place in it.
        withdrawn: why it is withdrawn already; None where it is not.
    """

    number: int
    words: str
    withdrawn: Withdrawal | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ToWithdraw:
    """A record that is about to be withdrawn, or one item of a claim.

    Attributes:
        folder: of the record.
        words: what it is, for people.
        about: the feature that a claim or a decision is about; None of a source.
        item: the number of the item that is meant, from 1; None for the whole record.
        items: of a claim, all of them; empty otherwise.
        withdrawn: why what is meant is withdrawn already; None where it is not.
    """

    folder: str
    id: str
    words: str
    about: str | None
    item: int | None
    items: tuple[ItemToWithdraw, ...]
    withdrawn: Withdrawal | None


def compose_to_withdraw(archive: Archive, folder: str, record_id: str, item: int | None) -> ToWithdraw | None:
    """Put together what is about to be withdrawn; None where a claim has no such item.

    Args:
        archive: that has the record.
        folder: `sources`, `claims` or `decisions`.
        record_id: of the record in it.
        item: of a claim, which item of its evidence, from 1; None for the whole record.
    """
    record = getattr(archive, folder)[record_id]
    items = _items(archive, record_id) if folder == "claims" else ()
    meant = next((each for each in items if each.number == item), None)
    if item is not None and meant is None:
        return None
    return ToWithdraw(
        folder=folder,
        id=record_id,
        words=_words(archive, folder, record_id),
        about=None if folder == "sources" else record.about,
        item=item,
        items=items,
        withdrawn=meant.withdrawn if meant else record.withdrawn,
    )


def _words(archive: Archive, folder: str, record_id: str) -> str:
    if folder == "sources":
        return source_words(archive.sources[record_id])
    if folder == "claims":
        claim = archive.claims[record_id]
        return f"the claim that it is “{value_words(archive.features[claim.about], claim.value)}”"
    decision = archive.decisions[record_id]
    return f"the decision to build “{value_words(archive.features[decision.about], decision.build)}”"


def _items(archive: Archive, claim: str) -> tuple[ItemToWithdraw, ...]:
    return tuple(
        ItemToWithdraw(
            number=number,
            words=", ".join(filter(None, (source_words(archive.sources[each.source]), place_in_words(each.at)))),
            withdrawn=each.withdrawn,
        )
        for number, each in enumerate(archive.claims[claim].evidence, 1)
    )
