"""How quickly the pairs of likely copies are listed, with what each ruling on them would change.

Processor time of one process, on a loaded archive: judging everything once is a good second of it. Dates are spread
over twenty years, so that of most pairs it is known which would be the copy, and both rulings have to be tried.
"""

import random
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

from bench.figures import Figure
from bench.made_archives import CLAIMS_EACH, SEED, make_loaded
from bench.measure_judgement import processor_seconds

from provenance.records.archive import Archive
from provenance.records.dates import parse_edtf
from provenance.records.decisions import PICTURE, CopyPair, FoundBy
from provenance.tasks.listing_copies import list_copies
from provenance.tasks.opening import Opened

CLAIMS = 10_000
PAIRS = 1_000
_PROMISED = 5.0


def measure(_folder: Path) -> Iterator[Figure]:
    """Time a thousand open pairs of any two sources, then of sources that are cited for one feature."""
    chance = random.Random(SEED)
    made = make_loaded(CLAIMS // CLAIMS_EACH)
    dated = {
        name: replace(source, created=parse_edtf(str(1925 + chance.randrange(20))))
        for name, source in made.sources.items()
    }
    archive = replace(made, sources=dated)
    names = chance.sample(sorted(dated), 2 * PAIRS)
    apart = [sorted(names[place : place + 2]) for place in range(0, 2 * PAIRS, 2)]
    cited = _cited_together(archive, chance)
    for what, pairs, promised in (("any", apart, _PROMISED), ("cited together", cited, None)):
        told = _listing(replace(archive, copies=dict(_pair(*each) for each in pairs)))
        name = f"{PAIRS:,} open pairs on {CLAIMS:,} claims, {what}"
        yield Figure(name=name, value=processor_seconds(told), unit="s", promised=promised)


def _cited_together(archive: Archive, chance: random.Random) -> list[list[str]]:
    """Pairs of sources that claims about one feature cite."""
    cited = [
        sorted({item.source for claim in claims for item in claim.evidence})
        for claims in archive.claims_by_feature.values()
    ]
    several = [sources for sources in cited if len(sources) > 1]
    return [sorted(chance.sample(chance.choice(several), 2)) for _ in range(PAIRS)]


def _pair(one: str, other: str) -> tuple[str, CopyPair]:
    found_by, date = FoundBy(method=PICTURE), parse_edtf("2020-01-01")
    pair = CopyPair(id=f"{one}--{other}", between=(one, other), by="mh", date=date, found_by=found_by)
    return pair.id, pair


def _listing(archive: Archive) -> Callable[[], object]:
    return lambda: list_copies(Opened(folder=Path(), archive=archive, left_out=()))
