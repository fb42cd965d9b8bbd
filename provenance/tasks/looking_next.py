"""Where the next trip and the last money should go."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.days import Day
from provenance.records.decisions import Lead
from provenance.records.wording import quote
from provenance.reports.looked_next import Followed, LookedNext, Sought, Spending, Together
from provenance.rules.cautions import cautions_for
from provenance.rules.costs import Money, parse_money
from provenance.rules.flag_values import Urgency
from provenance.rules.grades import Grade
from provenance.rules.judging import judge_all
from provenance.rules.lifting import WEAK, Lifter
from provenance.rules.looking_next import CHANCE_UNSAID, chance_of, joined, need_of, offer_of, rank
from provenance.rules.pricing import by_holder, price
from provenance.rules.spending import choose_within
from provenance.rules.verdicts import Verdict
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened


def look_next(
    opened: Opened,
    *,
    today: date,
    money: str | None = None,
    group: bool = False,
    component: str | None = None,
    verdicts: Mapping[str, Verdict] | None = None,
) -> LookedNext:
    """Say what would lift each weak feature, and rank the leads by what they may tell of them.

    Args:
        opened: the archive.
        today: urgency goes by it.
        money: a sum to choose visits within, such as `250 GBP`; None for no choice.
        group: whether the leads of one holder at one place are put together.
        component: only what tells of this component's features; then the probable ones are answered for too.
        verdicts: on every feature, where they are known; None to judge what is needed.

    Raises:
        UsageRefusedError: the sum is none.
        UnknownRecordError: there is no such component.
        ArchiveError: the archive does not say yet what it represents.
    """
    asked = sum_of(money)
    return Looking(opened, today=today, component=component, verdicts=verdicts).told(asked, group=group)


class Looking:
    """What would lift each weak feature, worked out once, for several sums of money."""

    def __init__(
        self,
        opened: Opened,
        *,
        today: date,
        component: str | None = None,
        verdicts: Mapping[str, Verdict] | None = None,
    ) -> None:
        """Judge and try; what that asks for is told at `look_next`."""
        _ = opened.target
        self._answer, self._search = _looked(opened, today, component, verdicts)

    def told(self, money: Money | None, *, group: bool) -> LookedNext:
        """The answer, with what to do with a sum of money, and with the leads of one visit put together."""
        return replace(
            self._answer,
            visits=_visits(self._search) if group else None,
            spending=_spending(self._search, money) if money is not None else None,
        )


def _looked(
    opened: Opened, today: date, component: str | None, verdicts: Mapping[str, Verdict] | None
) -> tuple[LookedNext, "_Search"]:
    archive = opened.archive
    if component is not None and component not in archive.components:
        mend = nearest_mend(component, archive.components, "the components are the files in the folder components")
        raise UnknownRecordError(f"there is no component `{component}`", mend)
    only = None
    if component is not None:
        only = frozenset(f"{component}/{feature.id}" for feature in archive.components[component].features)
    known = judge_all(archive, only=only) if verdicts is None else verdicts
    judged = [verdict for feature, verdict in known.items() if only is None or feature in only]
    wanted = WEAK if component is None else WEAK | {Grade.PROBABLE}
    weak = [verdict for verdict in judged if verdict.grade in wanted]
    search = _search_of(archive, weak, Day(today.year, today.month, today.day), only)
    hazards = {hazard for verdict in weak for hazard in archive.components[verdict.component].hazards}
    answer = LookedNext(
        standing=opened.standing,
        day=today.isoformat(),
        features=search.features,
        leads=search.leads,
        judged=len(judged),
        component=component,
        notes=tuple(
            f"the chance of lead {each.lead.id}, {quote(each.lead.chance)}, cannot be read, and counts as even odds: "
            "write a share such as .3, or 30 %"
            for each in sorted(search.leads, key=lambda each: each.lead.id)
            if each.lead.chance is not None and chance_of(each.lead.chance) is None
        ),
        cautions=cautions_for(archive, hazards),
    )
    return answer, search


def sum_of(written: str | None) -> Money | None:
    """Read a sum of money, such as `250 GBP`; None for none.

    Raises:
        UsageRefusedError: it is no sum.
    """
    if written is None:
        return None
    money = parse_money(written)
    if money is None:
        raise UsageRefusedError(f"{quote(written)} is no sum of money", "write it such as `250` or `250 GBP`")
    return money


@dataclass(frozen=True, slots=True, kw_only=True)
class _Search:
    """What is sought, how much it matters, and the open leads in their order."""

    features: tuple[Sought, ...]
    needs: Mapping[str, float]
    leads: tuple[Followed, ...]


def _search_of(archive: Archive, verdicts: list[Verdict], today: Day, only: frozenset[str] | None) -> _Search:
    """Look through an archive; `only` names the features that leads have to hope for (None: any or none)."""
    leads = [lead for _, lead in sorted(archive.leads.items()) if only is None or not only.isdisjoint(lead.hoped_for)]
    lifter = Lifter(archive)
    sought = [_sought(archive, verdict, lifter, today) for verdict in verdicts]
    sought.sort(key=lambda each: _order(archive, each))
    needs = {each.about: each.weight for each in sought if each.weight > 0}
    followed = tuple(_followed([lead for lead in leads if not lead.searched], needs))
    features = tuple(_with_leads(each, followed, leads) for each in sought)
    return _Search(features=features, needs=needs, leads=followed)


def _sought(archive: Archive, verdict: Verdict, lifter: Lifter, today: Day) -> Sought:
    component = archive.components[verdict.component]
    lifting = lifter.lifting_of(verdict)
    return Sought(
        about=verdict.feature,
        name=verdict.name,
        grade=verdict.grade,
        needed_by=component.needed_by,
        weight=need_of(verdict.grade, component, today, set_aside=lifting.set_aside),
        lifting=lifting,
        leads=(),
        searched=(),
    )


def _order(archive: Archive, sought: Sought) -> tuple[object, ...]:
    """What matters most first; then what is needed first."""
    component = archive.components[sought.about.partition("/")[0]]
    return -sought.weight, Urgency(component.needed_by, component.prominence).order, sought.about


def _with_leads(sought: Sought, followed: tuple[Followed, ...], leads: list[Lead]) -> Sought:
    return replace(
        sought,
        leads=tuple(each.lead.id for each in followed if sought.about in each.lead.hoped_for),
        searched=tuple(lead for lead in leads if lead.searched and sought.about in lead.hoped_for),
    )


def _followed(leads: list[Lead], needs: Mapping[str, float]) -> Iterator[Followed]:
    """The leads in their order; `needs` is in the order in which features are shown."""
    by_id = {lead.id: lead for lead in leads}
    for ranked in rank(map(offer_of, leads), needs):
        lead = by_id[ranked.offer.name]
        chance = chance_of(lead.chance)
        yield Followed(
            lead=lead,
            covers=tuple(about for about in needs if about in lead.hoped_for),
            gain=ranked.gain,
            score=ranked.score,
            chance=CHANCE_UNSAID if chance is None else chance,
        )


def _visits(search: _Search) -> tuple[Together, ...]:
    """The leads of each holder at each place, and the visits ranked as leads are."""
    groups = {leads[0].id: leads for leads in by_holder(each.lead for each in search.leads)}
    visits = []
    for ranked in rank((joined(name, map(offer_of, leads)) for name, leads in groups.items()), search.needs):
        leads = groups[ranked.offer.name]
        hoped_for = {about for lead in leads for about in lead.hoped_for}
        visits.append(
            Together(
                holder=leads[0].holder,
                place=leads[0].place,
                leads=tuple(lead.id for lead in leads),
                covers=tuple(about for about in search.needs if about in hoped_for),
                gain=ranked.gain,
                score=ranked.score,
            )
        )
    return tuple(visits)


def _spending(search: _Search, money: Money) -> Spending:
    prices = price((each.lead for each in search.leads), money)
    return Spending(
        money=Money(amount=money.amount, currency=prices.currency),
        choice=choose_within(prices.priced, search.needs, money.amount),
        unpriced=tuple(sorted(prices.unpriced, key=lambda each: each.lead)),
    )
