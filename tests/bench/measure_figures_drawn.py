"""Figures of a dossier, with their words for who cannot see them: time of the processor, at their usual and worst."""

import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

from bench.figures import Figure
from builders import a_date, a_source, an_archive

from provenance.records.archive import Archive
from provenance.records.kinds import Condition, KnownBy
from provenance.reports.document import Picture
from provenance.reports.figures import descent_picture, measure_picture, sequence_picture
from provenance.reports.sequence import BatchRows, ExampleRow, Observation, SequenceFigure
from provenance.rules.grades import Category
from provenance.rules.quantity_values import MeasuredValue, Quantity
from provenance.tasks.descending import descent_of
from provenance.tasks.opening import Opened

_MOST = 0.3
_LONG = "a bracket of two flat bars, riveted, with the lamp iron bent to the near side"


def measure(folder: Path) -> Iterator[Figure]:
    """Draw each of the three figures."""
    family = descent_of(Opened(folder=folder, archive=_family(40), left_out=()), "s0")
    drawn: dict[str, Callable[[], Picture]] = {
        "60 machines drawn in order of production": lambda: sequence_picture(_machines(60, 1)),
        "400 machines, 10 sightings of each, drawn": lambda: sequence_picture(_machines(400, 10)),
        "20 figures of a measure drawn": lambda: measure_picture(_figures(20), {}),
        "2,000 figures of a measure drawn": lambda: measure_picture(_figures(2000), {}),
        "the descent of 40 sources drawn for a dossier": lambda: descent_picture(family),
    }
    for name, draw in drawn.items():
        begun = time.process_time()
        draw()
        yield Figure(name=name, value=time.process_time() - begun, unit="CPU s", promised=_MOST)


def _family(many: int) -> Archive:
    prints = (a_source(f"s{number}", of=[f"print:s{number // 3}"]) for number in range(1, many))
    return an_archive(a_source("s0", created="1930"), *prints)


def _machines(many: int, sightings: int) -> SequenceFigure:
    seen = Observation(
        values=(),
        shown="",
        against=False,
        when=a_date("1931"),
        known_by=KnownBy.NUMBER,
        sources=("photo",),
        direct=True,
        counts=True,
        why_not="",
    )
    rows = tuple(
        ExampleRow(
            example=str(number),
            is_target=number == many // 2,
            near_target=abs(number - many // 2) <= 1,
            observations=tuple(
                replace(seen, values=(f"{_LONG} {number}",), shown=f"“{_LONG} {number}, {each}”")
                for each in range(sightings)
            ),
            chance=None,
        )
        for number in range(many)
    )
    return SequenceFigure(
        feature="headlamp/type",
        name="Headlamp type",
        target=str(many // 2),
        batches=(BatchRows(batch="first", built=a_date("1930"), rows=rows),),
        earlier="",
        later="",
        said="",
    )


def _figures(many: int) -> Quantity:
    values = tuple(
        MeasuredValue(
            claim=f"c{number}",
            source=f"survey-{number}",
            written=f"{1000 + number} mm",
            value=1000.0 + number,
            half_width=2.0,
            standard=1.15,
            is_nominal=False,
            condition=Condition.SOUND,
            applies=Category.ITSELF,
            weight=10.0,
            counted=True,
        )
        for number in range(many)
    )
    return Quantity(
        unit="mm",
        nominal=None,
        nominal_written=None,
        mean=1000.0 + many / 2,
        expanded=3.0,
        chi_square=1.0,
        degrees=many - 1,
        birge=1.0,
        consistent=True,
        between=0.0,
        needed=2.0,
        values=values,
    )
