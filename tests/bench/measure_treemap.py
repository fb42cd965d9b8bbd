"""The machine as one picture, the flags and what to look for next, on archives of a thousand and two thousand parts.

Time of the processor; what is worked out once while nothing changes is told apart from what each page takes.
"""

import time
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

from bench.figures import Figure
from bench.made_archives import make_archive, make_loaded

from provenance.records.days import Day
from provenance.reports.machine import compose_machine, view_of
from provenance.reports.machine_svg import Links, draw_machine
from provenance.rules.judging import judge_all
from provenance.web.app import create_app

_PICTURE = 1.0
_PAGE = 0.1
_TIMES = 7
_LINKS = Links(feature="/fittings/", component="/fittings/", part="/machine?of=")


def measure(folder: Path) -> Iterator[Figure]:
    """Draw the picture; then ask for each page of an archive of 10,000 sources and 20,000 claims."""
    yield from _picture()
    client = create_app(make_archive(folder / "archive", 2000)).test_client()
    pages = {"the first page": "/", "the machine": "/machine", "the flags": "/flags", "what to look for": "/next"}
    for name, address in pages.items():
        asked = partial(client.get, address)
        once = _timed(asked)
        yield Figure(name=f"{name}, 10,000 sources, for the first time", value=once, unit="CPU s")
        again = sorted(_timed(asked) for _ in range(_TIMES))[_TIMES // 2]
        yield Figure(name=f"{name}, 10,000 sources", value=again, unit="CPU s", promised=_PAGE)


def _picture() -> Iterator[Figure]:
    archive = make_loaded(1000)
    verdicts, view = judge_all(archive), view_of("grade", Day(2026, 11, 27))
    assert view is not None
    drawn: list[int] = []

    def draw() -> None:
        drawn.append(len(draw_machine(compose_machine(archive, verdicts), view, _LINKS).svg))

    taken = _timed(draw)
    yield Figure(name="1,000 components, 3,000 features drawn", value=taken, unit="CPU s", promised=_PICTURE)
    yield Figure(name="the picture of 3,000 features", value=drawn[0] / 1e6, unit="MB")


def _timed(what: Callable[[], object]) -> float:
    begun = time.process_time()
    what()
    return time.process_time() - begun
