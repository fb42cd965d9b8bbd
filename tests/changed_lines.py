"""The lines that `mutations.py` changes: each breaks one rule of the judgement."""

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Mutation:
    """One change of one line.

    Attributes:
        name: what the changed judgement does wrong, in words.
        file: the module.
        old: text that stands exactly once in the module, within one line.
        new: what it becomes.
        room: the folder under `provenance` that the module is in; the tests of that room have to notice.
    """

    name: str
    file: str
    old: str
    new: str
    room: str = "rules"

    def module(self, checkout: Path) -> Path:
        """The module in a checkout."""
        return checkout / "provenance" / self.room / self.file


MUTATIONS: tuple[Mutation, ...] = (
    Mutation(
        name="what another batch shows is trusted like a sister of the batch",
        file="weights.py",
        old='"agreement.same-type": 0.75',
        new='"agreement.same-type": 0.9',
    ),
    Mutation(
        name="a source of unknown reliability counts in full",
        file="weights.py",
        old='"reliability.F": 0.5',
        new='"reliability.F": 1',
    ),
    Mutation(
        name="what is learnt about other machines counts in full for this one",
        file="carrying_over.py",
        old="if agreement == 1 or weight == 0:",
        new="if agreement <= 1 or weight == 0:",
    ),
    Mutation(
        name="a machine known by its caption is certain to be this one",
        file="applicability.py",
        old='KnownBy.CAPTION: (Category.COVERED, "this',
        new='KnownBy.CAPTION: (Category.ITSELF, "this',
    ),
    Mutation(
        name="what is said of a group counts as said of this machine alone",
        file="applicability.py",
        old="if examples == {standpoint.target}:",
        new="if standpoint.target in examples:",
    ),
    Mutation(
        name="parts are interchangeable where only some of the machines spoken of share them",
        file="applicability.py",
        old="for common, source in standpoint.common if examples <= common]",
        new="for common, source in standpoint.common if examples & common]",
    ),
    Mutation(
        name="a statement holds before the day from which it speaks",
        file="applicability.py",
        old="if applies_to.since is not None and certainly_after(applies_to.since, counts):",
        new="if applies_to.since is not None and certainly_before(applies_to.since, counts):",
    ),
    Mutation(
        name="a later issue ends what it replaces only where its date is not known",
        file="applicability.py",
        old="if replaced and replaced.created is not None and certainly_before(replaced.created, counts):",
        new="if replaced and replaced.created is None:",
    ),
    Mutation(
        name="a machine told by a sign of the feature proves the feature",
        file="assessing.py",
        old="return not left_out and not reach.circular and",
        new="return not left_out and",
    ),
    Mutation(
        name="a photograph in colour cannot show a finish, one in monochrome can",
        file="weighing.py",
        old='source.process != "colour"',
        new='source.process == "colour"',
    ),
    Mutation(
        name="an account is late memory when it is made before what it speaks of",
        file="weighing.py",
        old="certainly_more_than_years(speaks_of, source.created, late_years)",
        new="certainly_more_than_years(source.created, speaks_of, late_years)",
    ),
    Mutation(
        name="an unbuilt design weighs as much as one that was built",
        file="weighing.py",
        old='return "an unbuilt design" if source.executed is False else ""',
        new='return ""',
    ),
    Mutation(
        name="a place that can hardly be read weighs as much as a clear one",
        file="weighing.py",
        old="if item.legibility is Legibility.DOUBTFUL:",
        new="if item.legibility is Legibility.CLEAR:",
    ),
    Mutation(
        name="descent ends with the parents",
        file="descent.py",
        old="waiting.extend(fresh)",
        new="waiting.extend(())",
    ),
    Mutation(
        name="two books without sources are independent of one another",
        file="descent.py",
        old="origins.add(UNSTATED)",
        new="origins.add(source_id)",
    ),
    Mutation(
        name="likely copies count as independent until somebody rules on them",
        file="copy_families.py",
        old="for pair in copies if pair.ruling is not Ruling.DISTINCT]",
        new="for pair in copies if pair.ruling is Ruling.COPY]",
    ),
    Mutation(
        name="pictures are taken pair by pair, and reports that a bulletin is like are copies of one another",
        file="copy_families.py",
        old="return pair.ruling is Ruling.OPEN and is_of_pictures(pair)",
        new="return pair.ruling is Ruling.OPEN and not is_of_pictures(pair)",
    ),
    Mutation(
        name="a book of plates ties its plates to one another",
        file="copy_families.py",
        old="for place in places] if len(places) == 2 else",
        new="for place in places] if len(places) == 3 else",
    ),
    Mutation(
        name="a likely copy does not go back to what its likeness was made from",
        file="copy_families.py",
        old="return self.of_ancestors(behind) |",
        new="return self.of_ancestors(()) |",
    ),
    Mutation(
        name="three prints of a negative that is not held are two witnesses once all are ruled copies",
        file="copy_families.py",
        old="if one not in self._origins(other) and",
        new="if one in self._origins(other) and",
    ),
    Mutation(
        name="of a family the pairs are named that lie at its ends, not those between what is cited",
        file="open_pairs.py",
        old="if len(at[place]) != 1 or held[place[0]]:",
        new="if len(at[place]) != 1 or not held[place[0]]:",
    ),
    Mutation(
        name="a ruling that parts nothing is said to change a verdict",
        file="open_pairs.py",
        old="if not each.isdisjoint(own) and each.isdisjoint(others)]",
        new="if not each.isdisjoint(own)]",
    ),
    Mutation(
        name="every pair of likely copies warns, whatever hangs on it",
        file="copy_flags.py",
        old="severity=Level.WARN if hanging else Level.NOTE",
        new="severity=Level.WARN if pair else Level.NOTE",
    ),
    Mutation(
        name="what is withheld loosens the ties between what is shown",
        file="public_pairs.py",
        old="first.setdefault(family, (place, pair))",
        new="first.setdefault(place, (place, pair))",
    ),
    Mutation(
        name="photographs by one person on different occasions are one witness",
        file="descent.py",
        old='return {f"{WITNESS}{name}, {source.occasion}"} if name and source.occasion else set()',
        new='return {f"{WITNESS}{name}"} if name else set()',
    ),
    Mutation(
        name="items that all share something are as many lines as there are items",
        file="independence.py",
        old="return min(len(closed), 1)",
        new="return len(closed)",
    ),
    Mutation(
        name="the weightiest set is the first greedy one",
        file="independent_sets.py",
        old="if self._bound(left) <= floor - weight + _NOISE:",
        new="if self._bound(left) >= floor - weight + _NOISE:",
    ),
    Mutation(
        name="of equally weighty sets the smaller one is taken",
        file="weightiest_set.py",
        old="return -kept.items.bit_count(), tuple(members(kept.items))",
        new="return kept.items.bit_count(), tuple(members(kept.items))",
    ),
    Mutation(
        name="some value has to be right: none of these is left out of the sum",
        file="posterior.py",
        old="total = 10 ** (-highest / 10) + sum(sorted(shares))",
        new="total = sum(sorted(shares))",
    ),
    Mutation(
        name="a chance that just reaches a threshold does not reach it",
        file="posterior.py",
        old="return round(chance, _SAME_CHANCE) >= round(least, _SAME_CHANCE)",
        new="return round(chance, _SAME_CHANCE) > round(least, _SAME_CHANCE)",
    ),
    Mutation(
        name="a rival seen on a sister of the batch makes a value contested",
        file="grading.py",
        old="each.is_direct_of(Category.ITSELF, Category.COVERED) for each in supporting",
        new="each.is_direct_of(*Category) for each in supporting",
    ),
    Mutation(
        name="one witness is corroboration enough",
        file="grading.py",
        old="return self.lines >= 2 or self.has_the_part_itself",
        new="return self.lines >= 1 or self.has_the_part_itself",
    ),
    Mutation(
        name="a value is established though nobody saw it as built",
        file="grading.py",
        old="and any(each.saw_it_as_built for each in standing.supporting)",
        new="and any(True for each in standing.supporting)",
    ),
    Mutation(
        name="late memory establishes a value",
        file="grading.py",
        old="and not self.assessed.weighed.late_memory",
        new="and self.assessed.weighed is not None",
    ),
    Mutation(
        name="a claim that was withdrawn goes on to count",
        file="assessing.py",
        old="if claim.withdrawn is not None:",
        new="if claim.withdrawn is not None and item.withdrawn is not None:",
    ),
    Mutation(
        name="an item against presence counts for nothing instead of for absence",
        file="candidates.py",
        old="named = value if each.item.stance is Stance.SUPPORTS else other",
        new="named = value if each.item.stance is Stance.SUPPORTS else written",
    ),
    Mutation(
        name="a broken reading fits only the wording it is itself",
        file="candidates.py",
        old="if UNREADABLE in wording:",
        new="if UNREADABLE == wording:",
    ),
    Mutation(
        name="two independent witnesses are flagged as a single source",
        file="feature_flags.py",
        old="if best is None or best.lines != 1:",
        new="if best is None or best.lines < 1:",
    ),
    Mutation(
        name="setting one of several rival claims aside settles a contest",
        file="chosen_builds.py",
        old="return bool(named) and named <= {",
        new="return bool(named) and named & {",
    ),
    Mutation(
        name="a loan due some day this year is overdue on the first of January",
        file="source_flags.py",
        old="overdue = loan.due.latest < today",
        new="overdue = loan.due.earliest < today",
    ),
    Mutation(
        name="conjecture that is declared is flagged all the same",
        file="decision_flags.py",
        old="if not chosen.is_conjecture or chosen.declares_conjecture:",
        new="if not chosen.is_conjecture:",
    ),
    Mutation(
        name="a grade that fell is told as one that rose",
        file="decision_flags.py",
        old="_ORDER.index(chosen.grade) < _ORDER.index(then)",
        new="_ORDER.index(chosen.grade) > _ORDER.index(then)",
    ),
    Mutation(
        name="a misfit stays one after a piece that fits",
        file="mate_flags.py",
        old="verdict.decision.made[-1]",
        new="verdict.decision.made[0]",
    ),
    Mutation(
        name="what rests on a claim rests on whatever sets that claim aside",
        file="resting.py",
        old="if step.goes_on and step.thing not in reached:",
        new="if step.thing not in reached:",
    ),
    Mutation(
        name="a value of which no claim speaks is set aside by every decision",
        file="chosen_builds.py",
        old="return bool(named) and named <= {",
        new="return named <= {",
    ),
    Mutation(
        name="what a sign weighs forgets how many options there are",
        file="signs.py",
        old="odds = chances[place] * len(others) / max(",
        new="odds = chances[place] / max(",
    ),
    Mutation(
        name="signs show an option though none that was reported is decisive",
        file="signs.py",
        old=" and any(is_decisive(feature, sign) for sign, _ in told_by)",
        new="",
    ),
    Mutation(
        name="what signs tell weighs more than the picture itself can",
        file="assessing.py",
        old="weight=min(weighed.weight, reading.weight)",
        new="weight=reading.weight",
    ),
    Mutation(
        name="a change is no likelier to come in with a batch than within one",
        file="change_over.py",
        old="shares = [batch_step if example in begins else 1.0 for example in run]",
        new="shares = [1.0 for _ in run]",
    ),
    Mutation(
        name="a machine seen with both values still makes one clean change",
        file="change_over.py",
        old="if {old, new} <= values:",
        new="if {old, new} < values:",
    ),
    Mutation(
        name="what changes in service goes over from machine to machine",
        file="change_over.py",
        old="if feature.changes is not Changes.AT_BUILD or feature.kind is FeatureKind.QUANTITY:",
        new="if feature.kind is FeatureKind.QUANTITY:",
    ),
    Mutation(
        name="between two sightings the first day of the date represented counts for all of it",
        file="change_in_service.py",
        old="middle = (bounds[0].ordinal + bounds[1].ordinal) / 2",
        new="middle = bounds[0].ordinal",
    ),
    Mutation(
        name="a change is proved by dates that overlap",
        file="change_in_service.py",
        old="if change.last_old < change.first_new and all(",
        new="if all(",
    ),
    Mutation(
        name="figures that disagree are averaged as if they agreed",
        file="averaging.py",
        old="added = 0.0 if consistent else _variance_between(scaled, degrees)",
        new="added = 0.0",
    ),
    Mutation(
        name="the ratio of Birge is not the root",
        file="averaging.py",
        old="birge=sqrt(chi_square / degrees)",
        new="birge=chi_square / degrees",
    ),
    Mutation(
        name="a worn piece sets the figure",
        file="quantities.py",
        old="return is_wanted and assessed.weighed.direct and assessed.item.condition is Condition.SOUND",
        new="return is_wanted and assessed.weighed.direct",
    ),
    Mutation(
        name="a mean is given with its standard uncertainty, not with twice that",
        file="quantities.py",
        old="expanded=2 * mean.standard if mean",
        new="expanded=mean.standard if mean",
    ),
    Mutation(
        name="a half-width is taken for a standard uncertainty",
        file="give_or_take.py",
        old="spread * spread / 3, float(spread)",
        new="spread * spread, float(spread)",
    ),
    Mutation(
        name="a nominal in inches is good to a thirty-second",
        file="give_or_take.py",
        old='_FEET_AND_INCHES = UNITS["in"].factor / 64',
        new='_FEET_AND_INCHES = UNITS["in"].factor / 32',
    ),
    Mutation(
        name="values stated for the machine in other years are taken to have gone together",
        file="coexistence_flags.py",
        old="if days is not None and not (_before(days[1], first) or _before(last, days[0])):",
        new="if days is not None:",
    ),
    Mutation(
        name="a value stated for the machine in other years is taken to hold on the day represented",
        file="coexistence_flags.py",
        old="return days is not None and not _before(begins, days[0]) and not _before(days[1], ends)",
        new="return days is not None",
    ),
    Mutation(
        name="the loss of a source leaves the verdict as it was",
        file="sensitivity.py",
        old="without=without | {source})",
        new="without=without)",
    ),
    Mutation(
        name="another value by another weight is not told where the grade stays",
        file="sensitivity.py",
        old="if then.grade is not verdict.grade or not is_same_value(verdict, then):",
        new="if then.grade is not verdict.grade:",
    ),
    Mutation(
        name="a find that leaves the grade as it is lifts it",
        file="lifting.py",
        old="if STRENGTH.index(becomes) > stands:",
        new="if STRENGTH.index(becomes) >= stands:",
    ),
    Mutation(
        name="copies are ruled copies to lift a grade",
        file="open_pairs.py",
        old="ruling=Ruling.DISTINCT) for pair",
        new="ruling=Ruling.COPY) for pair",
    ),
    Mutation(
        name="what an earlier lead may tell of counts in full for a later one",
        file="looking_next.py",
        old="left[feature] *= 1 - chance",
        new="left[feature] *= 1",
    ),
    Mutation(
        name="a visit serves leads that cost more than was paid",
        file="spending.py",
        old="for lead in there if lead.cost <= cost)",
        new="for lead in there)",
    ),
    Mutation(
        name="inches behind feet need a mark",
        file="measure_parts.py",
        old='_NEXT = {"ft": "in", ',
        new="_NEXT = {",
        room="records",
    ),
    Mutation(
        name="a temperature is told in another unit as a difference is",
        file="measures.py",
        old="return (self.value * self.unit.factor + self.unit.offset - unit.offset) / unit.factor",
        new="return (self.value * self.unit.factor) / unit.factor",
        room="records",
    ),
    Mutation(
        name="a doubt about a decision is none about its feature in public",
        file="public_view.py",
        old="archive.decisions[each].about if each in archive.decisions else each for each in about",
        new="each for each in about",
    ),
    Mutation(
        name="of words that begin alike a shorter one is struck out before a longer one",
        file="withheld_words.py",
        old="key=lambda word: (-len(word), word))",
        new="key=lambda word: (len(word), word))",
    ),
    Mutation(
        name="what is to be made is told in inches as coarsely as in whole steps of its last place",
        file="quantity_words.py",
        old="step = measure.last_place_in(unit) / 2",
        new="step = measure.last_place_in(unit) * 4",
    ),
    Mutation(
        name="a strong feature is not looked for in a picture in which nobody looked for it",
        file="sheet_rows.py",
        old="row for row in rows if row.is_weak or not row.was_looked_for",
        new="row for row in rows if row.is_weak",
    ),
    Mutation(
        name="what signs alone imply counts as a look at the feature itself",
        file="looked_for.py",
        old="if not item.signs or item.how is not How.IMPLIES:",
        new="if item.how:",
    ),
)
