"""How quick judgement is in one process: every verdict and flag of a loaded archive, and features of dense overlap.

Processor time, so that other work on the machine is not counted. In turns with ours, networkx's `max_weight_clique`
finds a heaviest set on the graph of who is independent of whom.
"""

import gc
import statistics
import time
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from functools import partial
from pathlib import Path

import networkx as nx
from bench.figures import Figure
from bench.hard_descents import HardCase, complement, hard_cases, heavy_copying
from bench.made_archives import CLAIMS_EACH, make_loaded
from bench.measure_growth import exponent

from provenance.records.archive import Archive
from provenance.records.days import Day
from provenance.rules.findings import Findings
from provenance.rules.flags import flags
from provenance.rules.independence import conflicts_of, count_lines
from provenance.rules.independent_sets import HeaviestSets
from provenance.rules.judging import judge_all
from provenance.rules.weightiest_set import weightiest_set
from provenance.rules.weights import STANDARD

SIZES = (1_000, 10_000, 100_000)
PROMISED_FOR = 10_000
AGREEMENTS = tuple(float(STANDARD[path]) for path in STANDARD if path.startswith("agreement."))
ALONE = (1.0,) * len(AGREEMENTS)
_TODAY = date(2026, 1, 10)
_HUNDREDTHS = 100


def measure(_folder: Path) -> Iterator[Figure]:
    """Time whole archives, then forty items of which most are copies, then the hundred hard cases."""
    took: dict[int, float] = {}
    for size in SIZES:
        took[size] = _whole(make_loaded(size // CLAIMS_EACH))
        promised = 3.0 if size == PROMISED_FOR else None
        yield Figure(name=f"verdicts and flags of {size:,} claims", value=took[size], unit="s", promised=promised)
    yield Figure(name="growth of verdicts and flags", value=exponent(took), unit="exponent", promised=1.1)
    cases = hard_cases()
    copied = {name for name, _ in heavy_copying()}
    spent = {case.name: processor_seconds(partial(_both, case), times=3) for case in cases}
    worst = max(copied, key=lambda name: spent[name])
    yield Figure(
        name=f"40 items, much copied, the worst ({worst})", value=1000 * spent[worst], unit="ms", promised=50.0
    )
    worst = max(spent, key=lambda name: spent[name])
    yield Figure(name=f"the worst of {len(cases)} hard cases ({worst})", value=spent[worst], unit="s", promised=1.0)
    yield Figure(name=f"the median of {len(cases)} hard cases", value=statistics.median(spent.values()), unit="s")
    yield from _beside_the_peer(cases)


def processor_seconds(work: Callable[[], object], *, times: int = 1) -> float:
    """The median processor time of some work."""
    spent = []
    for _ in range(times):
        gc.collect()
        began = time.process_time()
        work()
        spent.append(time.process_time() - began)
    return statistics.median(spent)


def _whole(archive: Archive) -> float:
    day = Day(_TODAY.year, _TODAY.month, _TODAY.day)
    return processor_seconds(lambda: flags(archive, Findings(), today=day, verdicts=judge_all(archive)), times=3)


def _both(case: HardCase) -> None:
    """All that is asked of the items of one value: the conflicts, the lines, the weightiest set."""
    closed = conflicts_of(case.descents)
    count_lines(closed)
    weightiest_set(case.loads, closed, AGREEMENTS)


def _beside_the_peer(cases: Sequence[HardCase]) -> Iterator[Figure]:
    """Time networkx beside the search for one heaviest set, and beside the whole choice among all that weigh the same.

    With full agreement the answers can be the same; but networkx gives any heaviest set, the choice the first in order.
    """
    any_set, first = [], []
    for case in cases:
        closed = case.closed
        graph = complement(closed, [round(_HUNDREDTHS * load.weight) for load in case.loads])
        theirs = processor_seconds(partial(nx.max_weight_clique, graph))
        any_set.append(theirs / processor_seconds(partial(_heaviest, case, closed)))
        first.append(theirs / processor_seconds(partial(weightiest_set, case.loads, closed, ALONE)))
    name = "times as long takes networkx for"
    yield Figure(
        name=f"{name} one heaviest set, median", value=statistics.median(any_set), unit="times", more_is_better=True
    )
    yield Figure(
        name=f"{name} one as ours for the first in order, median",
        value=statistics.median(first),
        unit="times",
        more_is_better=True,
    )


def _heaviest(case: HardCase, closed: Sequence[int]) -> None:
    HeaviestSets(closed, [load.weight for load in case.loads]).heaviest((1 << len(closed)) - 1)
