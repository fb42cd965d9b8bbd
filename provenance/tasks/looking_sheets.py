"""Look at photographs one after another: which are to be looked at, and what each of them could answer."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import replace
from functools import cached_property

from provenance.errors import UnknownRecordError
from provenance.pages.cut_outs import has_pieces
from provenance.records.archive import Archive
from provenance.records.claims import At, EvidenceItem
from provenance.records.kinds import How, SourceKind, Stance
from provenance.records.regions import Region, RegionUnit
from provenance.records.sources import Shows, Source
from provenance.reports.looking_sheet import LookingQueue, LookingSheet, QueuedPicture, Which
from provenance.reports.source_facts import machine_words, shown_words
from provenance.rules.applicability import seen_in
from provenance.rules.cautions import cautions_for
from provenance.rules.flag_values import Urgency
from provenance.rules.looked_for import is_note_of_looking, points_told
from provenance.rules.looking_queue import (
    InQueue,
    all_pictures,
    is_to_be_looked_at,
    pictures_for,
    pictures_of_lot,
)
from provenance.rules.sheet_rows import SheetRow, sheet_rows
from provenance.rules.suggesting import Namings, Suggestion
from provenance.rules.verdicts import Verdict
from provenance.tasks.batches import lots_in
from provenance.tasks.finds import texts_of
from provenance.tasks.given_values import require_record
from provenance.tasks.opening import Opened
from provenance.tasks.page_readings import Readings, SourcePage, pages_of
from provenance.tasks.places_to_show import NothingToShowError, PlacesToShow

MOST_ROWS = 40
"""So many rows are shown of a picture of which nobody has said what it speaks of; more are found by typing."""


class LookingSheets:
    """The pictures of one state of an archive: what all of them need is worked out once."""

    def __init__(self, opened: Opened, readings: Readings, verdicts: Mapping[str, Verdict]) -> None:
        """Look at an archive.

        Args:
            opened: the archive.
            readings: of its pages.
            verdicts: on every feature; empty while nothing can be judged.
        """
        self._opened, self._readings, self._verdicts = opened, readings, verdicts

    @property
    def _archive(self) -> Archive:
        return self._opened.archive

    @cached_property
    def _told(self) -> Mapping[str, Mapping[str, tuple[str, ...]]]:
        return points_told(self._archive)

    @cached_property
    def _namings(self) -> Namings:
        return Namings(self._archive)

    @cached_property
    def lots(self) -> Mapping[str, Mapping[str, int]]:
        """The sources that came with each lot, each with its place in it; lots in order of name."""
        lots: dict[str, dict[str, int]] = {}
        for source in self._archive.sources.values():
            for lot, place in lots_in(entry.note for entry in source.acquired).items():
                lots.setdefault(lot, {})[source.id] = place
        return dict(sorted(lots.items()))

    def suggestions(self, source: Source) -> Mapping[str, Suggestion]:
        """The components that the texts of a source name, by id, the best suggestion first."""
        return {each.component: each for each in self._namings.suggest(texts_of(source, self._readings))}

    def queue(self, which: Which) -> LookingQueue:
        """Give the pictures that are to be looked at.

        Raises:
            UnknownRecordError: there is no such lot, component or feature.
        """
        queued = self._queued(which)
        shown = [(each, page) for each in queued if (page := self._first_page(each.source)) is not None]
        return LookingQueue(
            which=which,
            called=self._called(which),
            pictures=tuple(
                QueuedPicture(
                    source=each.source, title=self._archive.sources[each.source].title, page=page, is_done=each.is_done
                )
                for each, page in shown
            ),
            unseen=len(queued) - len(shown),
        )

    def sheet(
        self, source_id: str, which: Which, *, page: int | None = None, more: Iterable[str] = (), before: str = ""
    ) -> LookingSheet:
        """Give the sheet of a picture.

        Args:
            source_id: of the picture.
            which: what it is looked at for.
            page: of it; None for its first.
            more: ids of further components that are looked for; unknown ones are passed over.
            before: id of the picture that was looked at before it, whose machine may be the same; empty for none.

        Raises:
            UnknownRecordError: there is no such source, or it has no such page.
        """
        archive = self._archive
        source = require_record(archive.sources, source_id, "source", "sources")
        pages = {each.page: each for each in pages_of(source, archive)}
        shown = _page_of(source, pages, page)
        why = self.suggestions(source)
        named = self._named(source, which, more, why)
        rows = self._rows(source, named)
        if not rows:
            named, rows = [], self._rows(source, self._by_need())
        fresh = [row for row in rows if not row.was_looked_for]
        kept = fresh if named else _of_first_components(fresh)
        wanted = dict.fromkeys((*named, *(row.component for row in kept)))
        picture = source if source.kind is not None else replace(source, kind=SourceKind.PHOTOGRAPH)
        carried = self._carried(source, before)
        bare = EvidenceItem(source=source.id, stance=Stance.SUPPORTS, how=How.SHOWS)
        return LookingSheet(
            source=source,
            page=shown.page if shown else page or 1,
            pages=tuple(pages),
            digest=shown.file.sha256 if shown else "",
            within=_in_percent(shown.region) if shown else None,
            is_placed=shown is not None and (shown.region is None or shown.region.unit is RegionUnit.PERCENT),
            no_picture=self._why_no_picture(source.id, shown),
            components=tuple(archive.components[each] for each in wanted),
            why={each: why[each] for each in wanted if each in why and each not in source.topics},
            rows=tuple(kept),
            looked_for=tuple(row for row in rows if row.was_looked_for),
            left_out=len(fresh) - len(kept),
            shows=shown_words(archive, replace(source, shows=_machines(source))),
            names_machine=seen_in(bare, picture, "") is not None,
            lots=tuple(lot for lot, places in self.lots.items() if source.id in places),
            carried=_as_pairs(carried) if carried else "",
            carried_words=machine_words(carried) if carried else "",
            examples=(*archive.production.order, *(each.name for each in archive.related)),
            cautions=cautions_for(archive, source.hazards),
        )

    def _carried(self, source: Source, before: str) -> Shows | None:
        """The last machine that is named of the picture before, where it came with the same lot."""
        is_of_lot = any(source.id in places and before in places for places in self.lots.values())
        if not is_of_lot or before == source.id:
            return None
        named = [each for each in self._archive.sources[before].shows if each.example and each.component is None]
        return named[-1] if named else None

    def _queued(self, which: Which) -> tuple[InQueue, ...]:
        archive = self._archive
        if which.lot:
            if which.lot not in self.lots:
                raise UnknownRecordError(f"no find came with a lot {which.lot}", "choose one of the lots")
            return pictures_of_lot(archive, self.lots[which.lot], self._told)
        if not which.component:
            return all_pictures(archive, self._told)
        require_record(archive.components, which.component, "component", "components")
        if which.feature:
            require_record(archive.features, which.feature, "feature", "components")
        wanted = [
            verdict
            for name, verdict in self._verdicts.items()
            if verdict.component == which.component and which.feature in {"", name}
        ]
        if not wanted:
            return all_pictures(archive, self._told)
        return pictures_for(archive, wanted, self._told, list(self._finds_naming(which.component)))

    def _finds_naming(self, component: str) -> Iterator[str]:
        """The pictures whose texts name a component, though nobody has tagged them yet."""
        for source in self._archive.sources.values():
            if source.kind is None and is_to_be_looked_at(source) and component in self.suggestions(source):
                yield source.id

    def _called(self, which: Which) -> str:
        if which.lot:
            return f"the lot “{which.lot}”"
        if which.feature:
            component = self._archive.components[which.component]
            return f"{component.name}: {self._archive.features[which.feature].name}"
        return self._archive.components[which.component].name if which.component else "all pictures"

    def _first_page(self, source_id: str) -> int | None:
        pages = pages_of(self._archive.sources[source_id], self._archive)
        return next((page.page for page in pages if has_pieces(page.file.media_type)), None)

    def _named(self, source: Source, which: Which, more: Iterable[str], why: Mapping[str, Suggestion]) -> list[str]:
        """The components that a picture is looked at for; none where nobody and nothing says of any."""
        asked = (which.component, *more, *source.topics, *why)
        return [each for each in dict.fromkeys(asked) if each in self._archive.components]

    def _by_need(self) -> list[str]:
        """All components, what is needed first and seen most before the rest."""
        components = self._archive.components
        return sorted(
            components, key=lambda each: (Urgency(components[each].needed_by, components[each].prominence).order, each)
        )

    def _rows(self, source: Source, components: Collection[str]) -> tuple[SheetRow, ...]:
        return sheet_rows(self._archive, source, components, self._verdicts, self._told.get(source.id, {}))

    def _why_no_picture(self, source_id: str, page: SourcePage | None) -> str:
        if page is None:
            return "no page of it can be shown"
        try:
            PlacesToShow(self._readings).find(source_id, At(page=page.page), None)
        except NothingToShowError as error:
            return str(error)
        return ""


def _page_of(source: Source, pages: Mapping[int, SourcePage], number: int | None) -> SourcePage | None:
    if number is None:
        return next(iter(pages.values()), None)
    if number not in pages:
        raise UnknownRecordError(f"“{source.title}” has no page {number}", "look at one of its pages")
    return pages[number]


def _of_first_components(rows: list[SheetRow]) -> list[SheetRow]:
    """The rows of the first components, as many whole ones as make a sheet; of one at least."""
    counts: dict[str, int] = {}
    for row in rows:
        counts[row.component] = counts.get(row.component, 0) + 1
    kept: set[str] = set()
    for component, count in counts.items():
        if kept and count + sum(counts[each] for each in kept) > MOST_ROWS:
            break
        kept.add(component)
    return [row for row in rows if row.component in kept]


def _machines(source: Source) -> tuple[Shows, ...]:
    """What a picture shows, without that somebody looked for something in it."""
    return tuple(shown for shown in source.shows if not is_note_of_looking(shown))


def _as_pairs(shown: Shows) -> str:
    """A machine as `--shows` takes it."""
    pairs = {"example": shown.example, "when": shown.when, "known_by": shown.known_by}
    return ",".join(f"{key}={value}" for key, value in pairs.items() if value is not None)


def _in_percent(region: Region | None) -> Region | None:
    return region if region is not None and region.unit is RegionUnit.PERCENT else None
