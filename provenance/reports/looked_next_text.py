"""The page of `look-next` that people read: first what is most worth doing."""

from collections.abc import Iterator

from provenance.records.decisions import Lead
from provenance.reports.cautioned import caution_lines
from provenance.reports.layout import counted, listed, paragraph
from provenance.reports.looked_next import Followed, LookedNext, Sought, Spending, Together, lift_words
from provenance.rules.costs import Money
from provenance.rules.grades import Grade

SHOWN = 20
"""How many features the page shows; how many more there are is said."""

_SCORE = (
    "The score of a lead is how much its weak features matter (how weak, how soon needed, how prominent), times the "
    "chance, per effort; what a lead before it may tell counts only with the chance that it does not."
)
SLIGHTEST = (
    "What would lift each weak grade, the features that matter most first. Of all that might be found, the least that "
    "would do is named."
)
NO_LEADS = (
    "Where something may still be found is entered with `provenance add lead ID --what TEXT --holder TEXT --place TEXT "
    "--hoped-for COMPONENT/FEATURE --effort small --chance .3 --cost TEXT`."
)


def looked_next_text(looked: LookedNext, width: int) -> str:
    """The page that people read."""
    lines = [*looked.standing.as_lines(width), *caution_lines(looked.cautions, width)]
    for note in looked.notes:
        lines += paragraph(f"note: {note}", width, hang="  ")
    if looked.notes:
        lines.append("")
    if looked.spending is not None:
        lines += [*_spending_lines(looked.spending, width), ""]
    lines += [*_lead_lines(looked, width), ""]
    lines += _feature_lines(looked, width)
    return "\n".join([*lines, *paragraph(looked_next_summary(looked), width)])


def _spending_lines(spending: Spending, width: int) -> Iterator[str]:
    money, choice = spending.money, spending.choice
    best = "no other choice is worth more" if choice.exact else "chosen by worth for money, since they are many"
    if choice.visits:
        yield from paragraph(f"Within {money}, with one visit a place ({best}):", width)
    else:
        yield from paragraph(f"Within {money} no lead can be followed that may tell of anything weak.", width)
    for visit in choice.visits:
        cost = Money(amount=visit.cost, currency=money.currency) if visit.cost else "free"
        yield from paragraph(f"{visit.place}, {cost}: {listed(visit.leads)}", width, indent="  ", hang="    ")
    if choice.visits:
        spent = Money(amount=choice.cost, currency=money.currency)
        left = Money(amount=money.amount - choice.cost, currency=money.currency)
        yield from paragraph(f"Together {spent}; {left} is left.", width, indent="  ")
    for each in spending.unpriced:
        yield from paragraph(f"Not reckoned with: {each.lead}: {each.why}.", width, indent="  ", hang="    ")


def _lead_lines(looked: LookedNext, width: int) -> Iterator[str]:
    useful = [followed for followed in looked.leads if followed.gain > 0]
    idle = [followed.lead.id for followed in looked.leads if followed.gain <= 0]
    if not looked.leads:
        none = f"No open lead hopes for {looked.component}." if looked.component else "No open lead is entered."
        yield from paragraph(f"{none} {NO_LEADS}", width)
    elif not useful:
        yield from paragraph("No open lead hopes for anything weak.", width)
    elif looked.visits is not None:
        yield from paragraph("Visits, the one most worth making first:", width)
        by_id = {followed.lead.id: followed for followed in useful}
        for number, visit in enumerate((visit for visit in looked.visits if visit.gain > 0), start=1):
            yield from _visit_lines(number, visit, by_id, width)
    else:
        yield from paragraph("Leads, the one most worth following first:", width)
        for number, followed in enumerate(useful, start=1):
            lead = followed.lead
            yield from paragraph(f"{number}. {lead.what} ({lead.id})", width, hang="   ")
            yield from paragraph(where_it_is(lead), width, indent="   ")
            yield from _promise(followed, looked, width)
    if idle and useful:
        none = "They hope for nothing weak, or those above are sure to tell it"
        yield from paragraph(f"Not worth following now: {listed(idle)}. {none}.", width)


def _visit_lines(number: int, visit: Together, by_id: dict[str, Followed], width: int) -> Iterator[str]:
    where = ", ".join(part for part in (visit.holder, visit.place) if part) or "Holder and place not said"
    yield from paragraph(f"{number}. {where}: score {figure(visit.score)}", width, hang="   ")
    for lead_id in visit.leads:
        followed = by_id.get(lead_id)
        if followed is not None:
            yield from paragraph(f"{followed.lead.what} ({lead_id}); {lead_terms(followed)}", width, indent="   ")
    together = "Could be seen there together" if len(visit.leads) > 1 else "May tell of"
    yield from paragraph(f"{together}: {listed(visit.covers)}.", width, indent="   ")


def _promise(followed: Followed, looked: LookedNext, width: int) -> Iterator[str]:
    grades = {feature.about: feature.grade.value for feature in looked.features}
    told = listed([f"{feature} ({grades[feature]})" for feature in followed.covers])
    yield from paragraph(f"May tell of {told}.", width, indent="   ")
    said = lead_terms(followed)
    yield from paragraph(f"{said[:1].upper()}{said[1:]}; score {figure(followed.score)}.", width, indent="   ")


def where_it_is(lead: Lead) -> str:
    """Who holds what a lead names, where, and under which reference, in a sentence."""
    where = ", ".join(part for part in (lead.holder, lead.place, lead.reference) if part)
    return f"{where}." if where else "Holder and place are not said."


def lead_terms(followed: Followed) -> str:
    """What following a lead takes, how likely it tells something, and what it costs."""
    lead = followed.lead
    effort = f"effort {lead.effort}" if lead.effort else "effort not said, taken as medium"
    said = "" if lead.chance else " (not said)"
    cost = f"cost {lead.cost}" if lead.cost else "no cost written"
    return f"{effort}, chance {figure(followed.chance * 100)} %{said}, {cost}"


def figure(number: float) -> str:
    """A figure to two decimals at most, without idle noughts."""
    return f"{number:.2f}".rstrip("0").rstrip(".")


def _feature_lines(looked: LookedNext, width: int) -> Iterator[str]:
    if not looked.features:
        return
    yield from paragraph(SLIGHTEST, width)
    for feature in looked.features[:SHOWN]:
        yield from _of_feature(feature, width)
    more = len(looked.features) - SHOWN
    if more > 0:
        told = counted(more, "more feature is", "more features are").capitalize()
        yield from paragraph(f"{told} not shown; `--component ID` or `--json` shows them.", width)
    yield ""


def _of_feature(sought: Sought, width: int) -> Iterator[str]:
    needed = f", needed by {sought.needed_by}" if sought.needed_by is not None else ""
    without = "" if sought.leads or sought.grade is Grade.PROBABLE else ", nobody has a lead"
    yield from paragraph(f"{sought.about} ({sought.name}): {sought.grade.value}{needed}{without}", width, hang="    ")
    lifts = sought.lifting.lifts
    rulings = "; ".join(lift_words(lift) for lift in lifts if lift.at_home)
    finds = "; ".join(lift_words(lift) for lift in lifts if not lift.at_home)
    if not finds:
        finds = "no find that was tried would lift it, not even two of a kind"
    for told in (rulings, finds, sought.remark):
        if told:
            yield from paragraph(f"{told[:1].upper()}{told[1:]}.", width, indent="  ", hang="    ")
    if sought.leads:
        yield from paragraph(f"Leads: {listed(sought.leads)}.", width, indent="  ", hang="    ")
    for lead in sought.searched:
        outcome = lead.outcome or "no outcome is written"
        told = f"Searched already: {lead.what} ({lead.id}, entered {lead.date}): {outcome.rstrip('.')}."
        yield from paragraph(told, width, indent="  ", hang="    ")


def looked_next_summary(looked: LookedNext) -> str:
    """How many features were judged and are weak, how many nobody has a lead for, and what a score is."""
    if not looked.judged:
        return "There is no feature to judge yet: `provenance add feature` enters one."
    weak = [feature for feature in looked.features if feature.grade is not Grade.PROBABLE]
    said = f"{counted(looked.judged, 'feature')} judged, {len(weak) or 'none'} of them weak"
    without = sum(not feature.leads for feature in weak)
    if without:
        said += f"; nobody has a lead for {without} of these"
    said = f"{said[:1].upper()}{said[1:]}. As of {looked.day}."
    return f"{said} {_SCORE}" if any(followed.gain > 0 for followed in looked.leads) else said
