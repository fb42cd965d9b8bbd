"""Write down what somebody saw in one photograph: what it is and shows, then what it tells, in one plan.

The records come out as from `tag` and then one `claim` for each feature. Signs that were answered for a feature without
an option being named go to the claim of the option that they speak for, as implied; where they speak for none, and
where the place of a feature is out of view, it is noted with what the photograph shows that somebody looked.
"""

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.claims import EvidenceItem
from provenance.records.kinds import How, SignSeen, SourceKind, Stance
from provenance.records.regions import Region, RegionError, parse_region
from provenance.records.sources import Source
from provenance.records.wording import quote
from provenance.reports.written import Written
from provenance.rules.applicability import seen_in
from provenance.rules.looked_for import SIGN, note_of
from provenance.rules.sheet_rows import how_by_picture, signs_told_by
from provenance.rules.signs import read_signs
from provenance.store.record_kinds import RecordKind
from provenance.tasks.changing import change
from provenance.tasks.claiming import plan_evidence
from provenance.tasks.evidence_items import Evidence
from provenance.tasks.given_values import SEEN, SHOWS, given_pairs, require_record
from provenance.tasks.opening import Opened, Where
from provenance.tasks.plans import Plan, RecordEdit, Step
from provenance.tasks.shown_texts import require_unchanged
from provenance.tasks.tagging import Tags, plan_tags

ANSWER = "look"
ABSENT = "absent"
OUT_OF_VIEW = SignSeen.OUT_OF_VIEW.value


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetAnswers:
    """What somebody answered on the sheet of one photograph. What is not answered is not written.

    Attributes:
        source: its id.
        page: which page of it was looked at; None where it has none.
        answers: by `component/feature` an option, `present`, `absent`, a text or a figure; by `component/sign:SIGN`
            `seen` or `not-seen`; by either `out-of-view`.
        regions: by the same, the part of the page where it is, or would be.
        kind: what the photograph is; None where that is not said anew.
        process: `monochrome` or `colour`; None where that is not said anew.
        machine: which machine it shows, as `--shows` of the command takes it; None where that is not said.
        applies_to: what the answers cover where no machine is known, as `--applies-to` takes it; None for not said.
    """

    source: str
    page: int | None
    answers: Mapping[str, str] = field(default_factory=dict)
    regions: Mapping[str, str] = field(default_factory=dict)
    kind: str | None = None
    process: str | None = None
    machine: str | None = None
    applies_to: str | None = None

    @property
    def is_empty(self) -> bool:
        """Whether nothing was said that is worth writing down."""
        return not (self.answers or self.machine)


def write_sheet(where: Where, sheet: SheetAnswers, *, by: str, today: str) -> Written:
    """Write down what was answered. What is written down already is not written again.

    Args:
        where: the archive's folder, or the archive as it was opened before, with what the page showed of the source.
        sheet: what was answered.
        by: an id of `people`.
        today: the date that it carries.

    Raises:
        UnknownRecordError: no such source, feature or sign.
        UsageRefusedError: it is not known which machine it is, nor what the answers cover; something is said to be
            absent and not where it would be; or a record would be unsound.
        ChangedUnderneathError: somebody else changed the record of the source meanwhile.
        WriteRefusedError: a record cannot be written.
    """
    shown = where.shown if isinstance(where, Opened) else {}
    made: list[tuple[Opened, SheetPlan]] = []

    def plan(opened: Opened) -> Sequence[Step]:
        planned = plan_sheet(opened, sheet, by=by, today=today)
        if planned.edits_source:
            # To claims it is only added, and what is there stays; so nothing else that became of the source matters. It
            # may have been this very sheet, sent a moment before.
            require_unchanged(opened.folder, shown)
        made.append((opened, planned))
        return planned.steps

    written = change(replace(where, shown={}) if isinstance(where, Opened) else where, plan)
    opened, planned = made[-1]
    return Written(standing=opened.standing, answer=ANSWER, record=sheet.source, written=written, said=planned.said)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlan:
    """What a sheet asks for: the steps, sentences for the writer, and whether the source itself is edited."""

    steps: tuple[Step, ...]
    said: tuple[str, ...]
    edits_source: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """What the answers come to: evidence, one item a feature, and what was looked for in vain, by component."""

    evidence: tuple[Evidence, ...]
    in_vain: Mapping[str, Mapping[str, SignSeen]]


def plan_sheet(opened: Opened, sheet: SheetAnswers, *, by: str, today: str) -> SheetPlan:
    """Plan what `write_sheet` writes, from the archive as it was opened.

    Raises:
        UnknownRecordError: no such source, feature or sign.
        UsageRefusedError: as when it is written.
        ChangedMeanwhileError: somebody wrote the record of the source after the archive was opened.
    """
    source = require_record(opened.archive.sources, sheet.source, "source", "sources")
    if sheet.is_empty:
        return SheetPlan(steps=(), said=("Nothing was answered, so nothing is written down.",), edits_source=False)
    told = _told(opened.archive, sheet)
    tags = _tags(source, sheet, told)
    plan = Plan(opened.folder, opened.archive, {record.file for record in opened.left_out})
    steps: list[Step] = []
    said: list[str] = []

    def take(more: Sequence[Step], sentences: Sequence[str]) -> None:
        for step in more:
            plan.take(step)
        steps.extend(more)
        said.extend(each for each in sentences if each not in said)

    if tags is not None:
        take(*plan_tags(opened, source.id, tags, None))
        # The tags go by what the record says now; where that is not what was opened, the plan is made anew.
        plan.take(RecordEdit(kind=RecordKind.SOURCE, id=source.id, changes=()))
    edits_source = bool(steps)
    seen = _seen(plan.after.sources[source.id], sheet)
    for evidence in told.evidence:
        _require_coverage(plan.after.sources[source.id], evidence, seen)
        planned = plan_evidence(replace(opened, archive=plan.after), replace(evidence, seen=seen), by=by, today=today)
        take(planned.steps, planned.said)
    return SheetPlan(steps=tuple(steps), said=tuple(said), edits_source=edits_source)


def _tags(source: Source, sheet: SheetAnswers, told: _Told) -> Tags | None:
    """What is said of the photograph itself; None where that is nothing new."""
    notes = [f"component={component},note={note_of(points)}" for component, points in sorted(told.in_vain.items())]
    machine = [sheet.machine] if sheet.machine and not _is_shown(source, sheet.machine) else []
    words = {"kind": sheet.kind, "process": sheet.process}
    if not (machine or notes or any(words.values())):
        return None
    return Tags(words=words, shows=(*machine, *notes))


def _is_shown(source: Source, machine: str) -> bool:
    """Whether the record of a source says already what is said of the machine in it, or more."""
    pairs = given_pairs(machine, "--shows", SHOWS)
    for shown in source.shows:
        there = {"example": shown.example, "when": shown.when, "known_by": shown.known_by, "component": shown.component}
        if all(str(there.get(key) or "") == str(value) for key, value in pairs.items()):
            return True
    return False


def _seen(source: Source, sheet: SheetAnswers) -> str | None:
    """The machine as each item has to name it; None where the record of the source tells it, or nobody knows it."""
    bare = EvidenceItem(source=source.id, stance=Stance.SUPPORTS, how=How.SHOWS)
    if not sheet.machine or seen_in(bare, source, "") is not None:
        return None
    pairs = given_pairs(sheet.machine, "--shows", SHOWS)
    told = [f"{key}={value}" for key, value in pairs.items() if key in SEEN]
    return ",".join(told) if "example" in pairs else None


def _require_coverage(source: Source, evidence: Evidence, seen: str | None) -> None:
    """See that it is known which machine was seen, or else what is claimed covers."""
    bare = EvidenceItem(source=source.id, stance=Stance.SUPPORTS, how=How.SHOWS)
    component = evidence.feature.partition("/")[0]
    if seen is None and evidence.applies_to is None and seen_in(bare, source, component) is None:
        raise UsageRefusedError(
            "it is not said which machine this is, nor what the answers cover",
            "say which machine it is; where nobody knows, fill in --applies-to",
        )


def _told(archive: Archive, sheet: SheetAnswers) -> _Told:
    answered: defaultdict[str, dict[str, str]] = defaultdict(dict)
    for key, answer in sheet.answers.items():
        component, _, point = key.partition("/")
        _require_point(archive, key)
        answered[component][point] = answer
    evidence: list[Evidence] = []
    in_vain: dict[str, dict[str, SignSeen]] = {}
    for component in sorted(answered):
        points = answered[component]
        signs = {point.removeprefix(SIGN): _sign_seen(seen) for point, seen in points.items() if point.startswith(SIGN)}
        items = list(_items(archive, sheet, component, points, signs))
        evidence += items
        kept = {sign.partition("=")[0] for item in items for sign in item.signs}
        vain = {point: SignSeen.OUT_OF_VIEW for point, seen in points.items() if seen == OUT_OF_VIEW}
        vain |= {f"{SIGN}{sign}": seen for sign, seen in signs.items()}
        vain = {
            point: seen for point, seen in vain.items() if point.removeprefix(SIGN) not in kept or SIGN not in point
        }
        if vain:
            in_vain[component] = vain
    return _Told(evidence=tuple(evidence), in_vain=in_vain)


def _items(
    archive: Archive, sheet: SheetAnswers, component: str, points: Mapping[str, str], signs: Mapping[str, SignSeen]
) -> Iterator[Evidence]:
    """An item for each feature of a component of which something is told, by the answer itself or by signs."""
    source = archive.sources[sheet.source]
    picture = source if source.kind is not None else replace(source, kind=SourceKind.PHOTOGRAPH)
    for feature in archive.components[component].features:
        name = f"{component}/{feature.id}"
        telling = {sign: seen for sign, seen in signs.items() if sign in signs_told_by(feature)}
        value = points.get(feature.id, OUT_OF_VIEW)
        if value != OUT_OF_VIEW:
            how = How.MEASURED.value if how_by_picture(feature, picture) is How.MEASURED else None
            yield _item(sheet, name, value, how=how, signs=telling, drawn=[name])
            continue
        reading = read_signs(feature, tuple(telling.items()))
        if reading is not None:
            drawn = [f"{component}/{SIGN}{sign}" for sign in telling]
            yield _item(sheet, name, reading.option.id, how=How.IMPLIES.value, signs=telling, drawn=drawn)


def _item(
    sheet: SheetAnswers,
    feature: str,
    value: str,
    *,
    how: str | None,
    signs: Mapping[str, SignSeen],
    drawn: Collection[str],
) -> Evidence:
    region = _around([sheet.regions[key] for key in drawn if key in sheet.regions])
    if value == ABSENT and region is None:
        raise UsageRefusedError(
            f"{feature} is said to be absent, and not where it would be",
            "draw the region where it would be seen, or answer that it is out of view",
        )
    return Evidence(
        feature=feature,
        value=value,
        source=sheet.source,
        at={"page": sheet.page, "region": region},
        item={"how": how},
        applies_to=sheet.applies_to,
        signs=tuple(f"{sign}={seen}" for sign, seen in sorted(signs.items())),
    )


def _around(regions: Sequence[str]) -> str | None:
    """The smallest region that holds all of these; None for none."""
    if len(regions) < 2:
        return next(iter(regions), None)
    try:
        read = [parse_region(each) for each in regions]
    except RegionError as error:
        raise UsageRefusedError(error.what, error.mend) from error
    if len({each.unit for each in read}) > 1:
        raise UsageRefusedError("the places of signs are measured some in percent, some in pixels", "use one for all")
    left, top = min(each.x for each in read), min(each.y for each in read)
    right, foot = max(each.x + each.w for each in read), max(each.y + each.h for each in read)
    return str(Region(unit=read[0].unit, x=left, y=top, w=Decimal(right - left), h=Decimal(foot - top)))


def _require_point(archive: Archive, key: str) -> None:
    component, _, point = key.partition("/")
    record = require_record(archive.components, component, "component", "components")
    if point.startswith(SIGN):
        known: Collection[str] = {f"{SIGN}{sign.id}" for sign in record.signs}
    else:
        known = {feature.id for feature in record.features}
    if point not in known:
        raise UnknownRecordError(f"{component} has no {quote(point)}", "open the sheet anew: the records have changed")


def _sign_seen(answer: str) -> SignSeen:
    try:
        return SignSeen(answer)
    except ValueError as error:
        raise UsageRefusedError(
            f"{quote(answer)} is no answer for a sign", "answer seen, not-seen or out-of-view"
        ) from error
