"""Descents of 40, 100 and 300 sources: gathered, and drawn, by the time of the processor."""

import random
import time
from collections.abc import Iterator
from pathlib import Path

from bench.figures import Figure
from builders import a_source, an_archive

from provenance.records.archive import Archive
from provenance.reports.descended_svg import descended_svg
from provenance.tasks.descending import descent_of
from provenance.tasks.opening import Opened

_HANDS = 6


def measure(folder: Path) -> Iterator[Figure]:
    """Ask about the negative behind them all, and draw the answer."""
    for many in (40, 100, 300):
        opened = Opened(folder=folder, archive=_prints_of_one_negative(many), left_out=())
        begun = time.process_time()
        answer = descent_of(opened, "s0")
        gathered = time.process_time()
        descended_svg(answer)
        yield Figure(name=f"the descent of {many} sources, gathered", value=gathered - begun, unit="CPU s")
        yield Figure(name=f"the descent of {many} sources, drawn", value=time.process_time() - gathered, unit="CPU s")


def _prints_of_one_negative(many: int) -> Archive:
    """Prints of prints through at most six hands; one in twelve says something that a further one says."""
    chance = random.Random(1934)
    hands = [0]
    sources = [a_source("s0", created="1930")]
    for number in range(1, many):
        parent = chance.choice([each for each in range(number) if hands[each] < _HANDS][-60:])
        hands.append(hands[parent] + 1)
        of = [f"print:s{parent}"]
        second = chance.randrange(number)
        if second != parent and chance.random() < 1 / 12:
            of.append(f"cites:s{second}")
            hands[number] = max(hands[number], hands[second] + 1)
        sources.append(a_source(f"s{number}", of=of, created=str(1930 + number // 10)))
    return an_archive(*sources)
