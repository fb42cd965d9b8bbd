"""A hundred features whose items overlap densely: named, the same on every machine, to try the counting of lines on.

Eighty are graphs that are known in the literature on independent sets: each vertex an item, each edge an ancestor that
two items share. Twenty are what archives look like where much was copied. Categories and weights are drawn from the
table of weights by a seed made of the name.
"""

import random
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

import networkx as nx

from provenance.rules.independence import conflicts_of
from provenance.rules.tangents import Load

BASES = (16, 14, 14, 14, 12, 12, 11, 11, 11, 11, 9, 8, 5, 5, 4, 4, 4, 3, 2, 2, 2)
FACTORS = (1.0, 1.0, 1.0, 0.5, 0.25, 0.8, 0.6, 0.4)
CATEGORIES = 5


@dataclass(frozen=True, slots=True)
class HardCase:
    """The items of one value of a feature.

    Attributes:
        name: what it is.
        descents: of each item all that it goes back to.
        loads: of each item its category and its weight.
    """

    name: str
    descents: tuple[frozenset[str], ...]
    loads: tuple[Load, ...]

    @property
    def closed(self) -> tuple[int, ...]:
        """The conflicts, as the rules take them."""
        return conflicts_of(self.descents)


def hard_cases() -> tuple[HardCase, ...]:
    """All hundred, the graphs first."""
    graphs = [(name, _descents_of(make())) for name, make in _GRAPHS.items()]
    return tuple(_weighted(name, descents) for name, descents in (*graphs, *heavy_copying()))


def complement(closed: Sequence[int], weights: Sequence[int]) -> "nx.Graph[int]":
    """Who is independent of whom, with whole weights, as networkx takes it for its heaviest clique."""
    beside: nx.Graph[int] = nx.Graph()
    for number, weight in enumerate(weights):
        beside.add_node(number, weight=weight)
    pairs = combinations(range(len(closed)), 2)
    beside.add_edges_from((one, other) for one, other in pairs if not closed[one] >> other & 1)
    return beside


def _weighted(name: str, descents: Sequence[frozenset[str]]) -> HardCase:
    chance = random.Random(name)
    loads = [Load(chance.randrange(CATEGORIES), chance.choice(BASES) * chance.choice(FACTORS)) for _ in descents]
    return HardCase(name, tuple(descents), tuple(loads))


def _descents_of(graph: "nx.Graph[Any]") -> list[frozenset[str]]:
    """Give each vertex itself, and with each neighbour an ancestor in common."""
    number = {vertex: place for place, vertex in enumerate(graph)}
    descents = [{f"item {place}"} for place in range(len(number))]
    for one, other in graph.edges:
        if one != other:
            shared = "ancestor {} {}".format(*sorted((number[one], number[other])))
            descents[number[one]].add(shared)
            descents[number[other]].add(shared)
    return [frozenset(each) for each in descents]


def heavy_copying() -> Iterator[tuple[str, list[frozenset[str]]]]:
    """Forty items each, of which most go back to few originals: name and descents."""
    yield "one original and 39 copies", [frozenset({"original", f"copy {copy}"}) for copy in range(40)]
    yield "a chain of 40 copies", [frozenset(map(str, range(copy + 1))) for copy in range(40)]
    yield "ten chains of four copies", _chains(10, 4)
    yield "four chains of ten, each end quoted by the next", _linked_chains()
    yield "five copies each of eight originals, and a book on all", _copies_and_book()
    for cited, originals in ((2, 10), (3, 10), (2, 20), (3, 20), (4, 20), (3, 30)):
        for seed in (1, 2):
            yield f"40 books citing {cited} of {originals} originals, {seed}", _books(cited, originals, seed)
    yield "press bureau pictures of ten occasions, quoted in albums", _bureau(10, 7)
    yield "press bureau pictures of 20 occasions, quoted in albums", _bureau(20, 8)
    yield "40 sources with 60 pairs of likely copies not ruled on", _open_pairs()


def _chains(count: int, long: int) -> list[frozenset[str]]:
    return [frozenset(f"{chain}.{step}" for step in range(end + 1)) for chain in range(count) for end in range(long)]


def _linked_chains() -> list[frozenset[str]]:
    return [
        frozenset(f"{chain}.{step}" for step in range(end + 1)) | ({f"{chain - 1}.9"} if chain and end > 4 else set())
        for chain in range(4)
        for end in range(10)
    ]


def _copies_and_book() -> list[frozenset[str]]:
    copies = [frozenset({f"original {number % 8}", f"copy {number}"}) for number in range(39)]
    return [*copies, frozenset({"book", *(f"original {number}" for number in range(8))})]


def _books(cited: int, originals: int, seed: int) -> list[frozenset[str]]:
    chance = random.Random(100 * cited + 10 * originals + seed)
    return [
        frozenset({f"book {number}", *(f"original {each}" for each in chance.sample(range(originals), cited))})
        for number in range(40)
    ]


def _bureau(occasions: int, seed: int) -> list[frozenset[str]]:
    """Two in three are pictures of an occasion; the others albums with two of them, signed by one of five witnesses."""
    chance = random.Random(seed)
    pictures = [{f"picture {number}", f"witness:bureau, {chance.randrange(occasions)}"} for number in range(27)]
    albums = [
        {f"album {number}", f"witness:{chance.randrange(5)}"}.union(*chance.sample(pictures, 2)) for number in range(13)
    ]
    return [frozenset(each) for each in (*pictures, *albums)]


def _open_pairs() -> list[frozenset[str]]:
    chance = random.Random(9)
    descents = [{f"source {number}"} for number in range(40)]
    for pair in range(60):
        for number in chance.sample(range(40), 2):
            descents[number].add(f"copy:{pair}")
    return [frozenset(each) for each in descents]


def _kneser(points: int, size: int) -> "nx.Graph[Any]":
    return _joined(list(combinations(range(points), size)), lambda one, other: not set(one) & set(other))


def _johnson(points: int, size: int) -> "nx.Graph[Any]":
    return _joined(list(combinations(range(points), size)), lambda one, other: len(set(one) & set(other)) == size - 1)


def _board(side: int, moves: Callable[[int, int], bool]) -> "nx.Graph[Any]":
    squares = [(row, column) for row in range(side) for column in range(side)]
    return _joined(squares, lambda one, other: moves(abs(one[0] - other[0]), abs(one[1] - other[1])))


def _words(length: int, closer_than: int) -> "nx.Graph[Any]":
    words = list(range(2**length))
    return _joined(words, lambda one, other: (one ^ other).bit_count() < closer_than)


def _keller(length: int) -> "nx.Graph[Any]":
    """O. H. Keller's graph turned round: words of 0 to 3 do not join that differ twice, once of them by 2."""
    words = [tuple(number // 4**place % 4 for place in range(length)) for number in range(4**length)]

    def joins(one: tuple[int, ...], other: tuple[int, ...]) -> bool:
        apart = [(a - b) % 4 for a, b in zip(one, other, strict=True) if a != b]
        return not (len(apart) > 1 and 2 in apart)

    return _joined(words, joins)


def _paley(prime: int) -> "nx.Graph[Any]":
    squares = {number * number % prime for number in range(1, prime)}
    return _joined(list(range(prime)), lambda one, other: (other - one) % prime in squares)


def _joined(vertices: Sequence[object], joins: Callable[..., bool]) -> "nx.Graph[Any]":
    graph: nx.Graph[object] = nx.Graph()
    graph.add_nodes_from(vertices)
    graph.add_edges_from((one, other) for one, other in combinations(vertices, 2) if joins(one, other))
    return graph


def _random(size: int, hundredths: int) -> "nx.Graph[Any]":
    chance = random.Random(100 * size + hundredths)
    return _joined(list(range(size)), lambda _one, _other: chance.randrange(100) < hundredths)


def _near(size: int, hundredths: int) -> "nx.Graph[Any]":
    chance = random.Random(size)
    spots = [(chance.random(), chance.random()) for _ in range(size)]
    return _joined(
        list(range(size)),
        lambda one, other: (
            sum((a - b) ** 2 for a, b in zip(spots[one], spots[other], strict=True)) ** 0.5 * 100 < hundredths
        ),
    )


_GRAPHS: Mapping[str, Callable[[], "nx.Graph[Any]"]] = {
    "Petersen": nx.petersen_graph,
    "Heawood": nx.heawood_graph,
    "Tutte": nx.tutte_graph,
    "icosahedron": nx.icosahedral_graph,
    "dodecahedron": nx.dodecahedral_graph,
    "truncated cube": nx.truncated_cube_graph,
    "Desargues": nx.desargues_graph,
    "Pappus": nx.pappus_graph,
    "Moebius-Kantor": nx.moebius_kantor_graph,
    "Chvatal": nx.chvatal_graph,
    "Frucht": nx.frucht_graph,
    "Hoffman-Singleton": nx.hoffman_singleton_graph,
    "karate club": nx.karate_club_graph,
    "Florentine families": nx.florentine_families_graph,
    "Southern women": nx.davis_southern_women_graph,
    "Les Miserables": nx.les_miserables_graph,
    "Mycielski 5": lambda: nx.mycielski_graph(5),
    "Mycielski 6": lambda: nx.mycielski_graph(6),
    "cube of five": lambda: nx.hypercube_graph(5),
    "cube of six": lambda: nx.hypercube_graph(6),
    "Kneser 7, 2": lambda: _kneser(7, 2),
    "Kneser 7, 3": lambda: _kneser(7, 3),
    "Kneser 8, 3": lambda: _kneser(8, 3),
    "Johnson 8, 2": lambda: _johnson(8, 2),
    "Johnson 8, 3": lambda: _johnson(8, 3),
    "Johnson 11, 2": lambda: _johnson(11, 2),
    "Paley 29": lambda: _paley(29),
    "Paley 37": lambda: _paley(37),
    "Paley 41": lambda: _paley(41),
    "Paley 53": lambda: _paley(53),
    "Paley 61": lambda: _paley(61),
    "queens on 6": lambda: _board(6, lambda down, over: down == over or not down or not over),
    "queens on 7": lambda: _board(7, lambda down, over: down == over or not down or not over),
    "queens on 8": lambda: _board(8, lambda down, over: down == over or not down or not over),
    "rooks on 6": lambda: _board(6, lambda down, over: not down or not over),
    "rooks on 8": lambda: _board(8, lambda down, over: not down or not over),
    "kings on 7": lambda: _board(7, lambda down, over: max(down, over) == 1),
    "knights on 7": lambda: _board(7, lambda down, over: {down, over} == {1, 2}),
    "bishops on 7": lambda: _board(7, lambda down, over: down == over),
    "grid of 7": lambda: _board(7, lambda down, over: down + over == 1),
    "words of 5, closer than 3": lambda: _words(5, 3),
    "words of 6, closer than 3": lambda: _words(6, 3),
    "words of 6, closer than 4": lambda: _words(6, 4),
    "Keller 2": lambda: _keller(2),
    "Keller 3": lambda: _keller(3),
    "ring of 41": lambda: nx.cycle_graph(41),
    "ring of 41, turned round": lambda: nx.complement(nx.cycle_graph(41)),
    "chain of 60": lambda: nx.path_graph(60),
    "circulant 45, 1 2 4 8": lambda: nx.circulant_graph(45, [1, 2, 4, 8]),
    "circulant 51, 1 3 9": lambda: nx.circulant_graph(51, [1, 3, 9]),
    "circulant 60, 1 to 5": lambda: nx.circulant_graph(60, [1, 2, 3, 4, 5]),
    "Harary 4, 45": lambda: nx.hkn_harary_graph(4, 45),
    "Harary 9, 50": lambda: nx.hkn_harary_graph(9, 50),
    "random cubic, 60": lambda: nx.random_regular_graph(3, 60, seed=1),
    "random of degree 6, 50": lambda: nx.random_regular_graph(6, 50, seed=2),
    "random by attachment, 60": lambda: nx.barabasi_albert_graph(60, 3, seed=3),
    "small world, 60": lambda: nx.watts_strogatz_graph(60, 6, 0.2, seed=4),
    "random near, 60": lambda: _near(60, 20),
    "binary tree of 63": lambda: nx.balanced_tree(2, 5),
    "Turan 45, 9": lambda: nx.turan_graph(45, 9),
    "windmill of 12 fours": lambda: nx.windmill_graph(12, 4),
    "Petersen 20, 3": lambda: _generalised_petersen(20, 3),
    "lines of the dodecahedron": lambda: nx.line_graph(nx.dodecahedral_graph()),
    "triangles in strips": lambda: nx.triangular_lattice_graph(7, 10),
    "random 30, 10 in 100": lambda: _random(30, 10),
    "random 30, 50 in 100": lambda: _random(30, 50),
    "random 30, 90 in 100": lambda: _random(30, 90),
    "random 40, 10 in 100": lambda: _random(40, 10),
    "random 40, 30 in 100": lambda: _random(40, 30),
    "random 40, 50 in 100": lambda: _random(40, 50),
    "random 40, 90 in 100": lambda: _random(40, 90),
    "random 50, 10 in 100": lambda: _random(50, 10),
    "random 50, 30 in 100": lambda: _random(50, 30),
    "random 50, 50 in 100": lambda: _random(50, 50),
    "random 60, 5 in 100": lambda: _random(60, 5),
    "random 60, 10 in 100": lambda: _random(60, 10),
    "random 60, 20 in 100": lambda: _random(60, 20),
    "random 60, 50 in 100": lambda: _random(60, 50),
    "random 60, 70 in 100": lambda: _random(60, 70),
    "random 60, 90 in 100": lambda: _random(60, 90),
}


def _generalised_petersen(size: int, step: int) -> "nx.Graph[Any]":
    graph: nx.Graph[object] = nx.Graph()
    for number in range(size):
        inner, outer = ("inner", number), ("outer", number)
        graph.add_edge(inner, outer)
        graph.add_edge(outer, ("outer", (number + 1) % size))
        graph.add_edge(inner, ("inner", (number + step) % size))
    return graph
