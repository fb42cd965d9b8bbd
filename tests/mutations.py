"""Are the tests of the judgement awake? One line of `rules/` is changed at a time, and a test has to fail.

    python tests/mutations.py [NAME...]

Works on a copy; exits 1 when a change goes unnoticed, and 2 when one no longer fits the source.
"""

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from checkout import copy_checkout

LONGEST_RUN = 300.0
_TESTS_FAILED = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Mutation:
    """One change of one line.

    Attributes:
        name: what the changed judgement does wrong, in words.
        file: the module under `provenance/rules`.
        old: text that stands exactly once in the module, within one line.
        new: what it becomes.
    """

    name: str
    file: str
    old: str
    new: str


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
        old='KnownBy.CAPTION: (Category.COVERED, "shows',
        new='KnownBy.CAPTION: (Category.ITSELF, "shows',
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
        old="takes_part = not left_out and not reach.circular and",
        new="takes_part = not left_out and",
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
        file="descent.py",
        old="if pair.ruling is not Ruling.DISTINCT:",
        new="if pair.ruling is Ruling.COPY:",
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
        file="feature_flags.py",
        old="settled = decision is not None and against <= aside",
        new="settled = decision is not None and bool(against & aside)",
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
)


class UnfitError(Exception):
    """A change no longer fits the source that it was written for."""


def apply(mutation: Mutation, source: str) -> str:
    """Make the change in the text of the module.

    Raises:
        UnfitError: the old text does not stand exactly once, spans lines, or what comes of it is no Python.
    """
    if "\n" in mutation.old + mutation.new:
        raise UnfitError(f"{mutation.name}: changes more than one line")
    if source.count(mutation.old) != 1:
        raise UnfitError(f"{mutation.name}: {mutation.old!r} stands {source.count(mutation.old)} times")
    changed = source.replace(mutation.old, mutation.new)
    try:
        compile(changed, mutation.file, "exec")
    except SyntaxError as error:
        raise UnfitError(f"{mutation.name}: {error}") from error
    return changed


def run_tests(copy: Path) -> int:
    """Run the tests of the rules in a copy of the checkout, on the package of that copy; pytest's exit code.

    Raises:
        UnfitError: the tests would run on another package, or do not end.
    """
    program = (
        "import pathlib, sys, provenance, pytest\n"
        f"assert pathlib.Path(provenance.__file__).is_relative_to({str(copy)!r}), provenance.__file__\n"
        "sys.exit(pytest.main(['tests/rules', '-x', '-q', '-p', 'no:cacheprovider', '--hypothesis-seed=0']))\n"
    )
    environment = {name: value for name, value in os.environ.items() if not name.startswith("COVERAGE_")}
    # Changed within one second and equally long, a module would be taken for its old bytecode.
    environment |= {"PYTHONPATH": str(copy), "PYTHONDONTWRITEBYTECODE": "1"}
    command = [sys.executable, "-c", program]
    try:
        ended = subprocess.run(
            command, cwd=copy, env=environment, capture_output=True, check=False, text=True, timeout=LONGEST_RUN
        )
    except subprocess.TimeoutExpired as error:
        raise UnfitError(f"the tests did not end within {LONGEST_RUN:.0f} s") from error
    if ended.returncode not in {0, _TESTS_FAILED}:
        raise UnfitError(f"pytest ended with {ended.returncode}:\n{ended.stdout}{ended.stderr}")
    return ended.returncode


def is_noticed(mutation: Mutation, copy: Path) -> bool:
    """Whether a test fails with the change made; the copy is as before afterwards."""
    module = copy / "provenance" / "rules" / mutation.file
    source = module.read_text(encoding="utf-8")
    module.write_text(apply(mutation, source), encoding="utf-8")
    try:
        return run_tests(copy) == _TESTS_FAILED
    finally:
        module.write_text(source, encoding="utf-8")


def survive(mutations: Sequence[Mutation]) -> tuple[str, ...]:
    """Make each change in turn and print what became of it; the names of those that no test noticed.

    Raises:
        UnfitError: a change no longer fits, or the tests fail without any.
    """
    unnoticed = []
    with tempfile.TemporaryDirectory() as folder:
        copy = copy_checkout(Path(folder).resolve() / "checkout")
        if run_tests(copy):
            raise UnfitError("the tests of the rules fail before anything is changed")
        for mutation in mutations:
            began = time.monotonic()
            noticed = is_noticed(mutation, copy)
            verdict = "noticed  " if noticed else "UNNOTICED"
            print(f"{verdict} {time.monotonic() - began:6.1f} s  {mutation.file:<18} {mutation.name}", flush=True)
            if not noticed:
                unnoticed.append(mutation.name)
    return tuple(unnoticed)


def main(names: Sequence[str]) -> int:
    """Make the changes named, or all of them; the exit code."""
    chosen = [mutation for mutation in MUTATIONS if not names or mutation.name in names]
    try:
        unnoticed = survive(chosen)
    except UnfitError as error:
        print(f"unfit: {error}", file=sys.stderr)
        return 2
    print(f"{len(chosen) - len(unnoticed)} of {len(chosen)} changes noticed")
    return 1 if unnoticed or not chosen else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
