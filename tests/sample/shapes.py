"""Solid shapes as triangles: what the railcar and its surroundings are put together from.

Lengths are feet; x runs along the track, y across it (the viewer's side is negative), z upwards from the rail.
"""

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Numbers: TypeAlias = NDArray[np.float64]
Point: TypeAlias = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """What a surface looks like.

    Attributes:
        tone: how much light it throws back, 0 to 1.
        gloss: how much of the sky it mirrors, 0 to 1.
        picture: number of the picture laid over it (its tone times the surface's); None for a plain surface.
    """

    tone: float
    gloss: float = 0.0
    picture: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Mesh:
    """Triangles; every array has one row for each.

    Attributes:
        corners: three points.
        normals: the outward direction at each corner.
        places: where each corner lies on the picture, 0 to 1 from the top left.
        finishes: tone, gloss and the picture's number (-1 for none).
    """

    corners: Numbers
    normals: Numbers
    places: Numbers
    finishes: Numbers


def join(meshes: Iterable[Mesh]) -> Mesh:
    """Put shapes together into one."""
    parts = tuple(meshes)
    return Mesh(
        corners=np.concatenate([part.corners for part in parts]),
        normals=np.concatenate([part.normals for part in parts]),
        places=np.concatenate([part.places for part in parts]),
        finishes=np.concatenate([part.finishes for part in parts]),
    )


def moved(mesh: Mesh, *, by: Point = (0.0, 0.0, 0.0), turn: float = 0.0) -> Mesh:
    """Turn a shape about the upright axis (degrees), then shift it."""
    angle = np.radians(turn)
    matrix = np.array([[np.cos(angle), np.sin(angle), 0], [-np.sin(angle), np.cos(angle), 0], [0, 0, 1]])
    return Mesh(
        corners=mesh.corners @ matrix + np.array(by),
        normals=mesh.normals @ matrix,
        places=mesh.places,
        finishes=mesh.finishes,
    )


def sheet(points: Sequence[Point], finish: Finish) -> Mesh:
    """Make a flat sheet of three or four corners, anticlockwise seen from outside, from the top left."""
    spots = np.array(points, dtype=np.float64)
    places = np.array([(0, 0), (0, 1), (1, 1), (1, 0)], dtype=np.float64)
    rows = [(0, 1, 2), (0, 2, 3)][: len(points) - 2]
    corners = np.array([spots[list(row)] for row in rows])
    across = np.cross(spots[1] - spots[0], spots[2] - spots[0])
    normal = across / max(float(np.linalg.norm(across)), 1e-9)
    return Mesh(
        corners=corners,
        normals=np.broadcast_to(normal, corners.shape).copy(),
        places=np.array([places[list(row)] for row in rows]),
        finishes=_finishes(len(rows), finish),
    )


def _finishes(count: int, finish: Finish) -> Numbers:
    number = -1.0 if finish.picture is None else float(finish.picture)
    return np.tile(np.array([finish.tone, finish.gloss, number]), (count, 1))


def box(low: Point, high: Point, finish: Finish) -> Mesh:
    """Make a block between two opposite corners."""
    (a, b, c), (d, e, f) = low, high
    return join(
        sheet(points, finish)
        for points in (
            [(a, b, f), (a, b, c), (d, b, c), (d, b, f)],
            [(d, e, f), (d, e, c), (a, e, c), (a, e, f)],
            [(d, b, f), (d, b, c), (d, e, c), (d, e, f)],
            [(a, e, f), (a, e, c), (a, b, c), (a, b, f)],
            [(a, e, f), (a, b, f), (d, b, f), (d, e, f)],
            [(a, b, c), (a, e, c), (d, e, c), (d, b, c)],
        )
    )


def _strip(first: Numbers, second: Numbers, first_out: Numbers, second_out: Numbers, finish: Finish) -> Mesh:
    """Join two lines of points by a band of triangles."""
    a, b, c, d = first[:-1], first[1:], second[1:], second[:-1]
    na, nb, nc, nd = first_out[:-1], first_out[1:], second_out[1:], second_out[:-1]
    corners = np.concatenate([np.stack([a, b, c], 1), np.stack([a, c, d], 1)])
    normals = np.concatenate([np.stack([na, nb, nc], 1), np.stack([na, nc, nd], 1)])
    return Mesh(
        corners=corners,
        normals=normals,
        places=np.zeros((len(corners), 3, 2)),
        finishes=_finishes(len(corners), finish),
    )


def turned(profile: Sequence[tuple[float, float]], start: Point, along: Point, finish: Finish) -> Mesh:
    """Turn a profile in the lathe.

    Args:
        profile: pairs of distance along the axis and radius.
        start: where the axis begins.
        along: direction of the axis.
        finish: what the surface looks like.
    """
    axis = np.array(along) / np.linalg.norm(along)
    side = np.cross(axis, (0.0, 0.0, 1.0) if abs(axis[2]) < 0.9 else (1.0, 0.0, 0.0))
    side /= np.linalg.norm(side)
    other = np.cross(axis, side)
    angles = np.linspace(0, 2 * np.pi, 25)
    ring = np.outer(np.cos(angles), side) + np.outer(np.sin(angles), other)
    bands = []
    for (at, radius), (then, further) in itertools.pairwise(profile):
        slope = np.array([radius - further, then - at])
        slope = slope / max(float(np.linalg.norm(slope)), 1e-9)
        out = slope[0] * axis + slope[1] * ring
        first = np.array(start) + at * axis + radius * ring
        second = np.array(start) + then * axis + further * ring
        bands.append(_strip(first, second, out, out, finish))
    return join(bands)


def rod(start: Point, end: Point, radius: float, finish: Finish) -> Mesh:
    """Make a round bar with flat ends."""
    length = float(np.linalg.norm(np.subtract(end, start)))
    along: Point = (end[0] - start[0], end[1] - start[1], end[2] - start[2])
    return turned([(0, 0), (0, radius), (length, radius), (length, 0)], start, along, finish)


def ball(centre: Point, radii: Point, finish: Finish) -> Mesh:
    """Make an egg of three half-axes."""
    bands = []
    angles = np.linspace(0, 2 * np.pi, 25)
    steps = np.linspace(-np.pi / 2, np.pi / 2, 13)
    for low, high in itertools.pairwise(steps):
        rings = [
            np.stack([np.cos(t) * np.cos(angles), np.cos(t) * np.sin(angles), np.full_like(angles, np.sin(t))], 1)
            for t in (low, high)
        ]
        points = [np.array(centre) + ring * np.array(radii) for ring in rings]
        outs = [ring / np.array(radii) for ring in rings]
        outs = [out / np.linalg.norm(out, axis=1, keepdims=True) for out in outs]
        bands.append(_strip(points[0], points[1], outs[0], outs[1], finish))
    return join(bands)


def vault(edge: Sequence[tuple[float, float]], start: float, end: float, finish: Finish) -> Mesh:
    """Draw a line of (y, z) points out along the track, as a roof or a rail is."""
    points = np.array(edge, dtype=np.float64)
    tangent = np.gradient(points, axis=0)
    out = np.stack([np.zeros(len(points)), tangent[:, 1], -tangent[:, 0]], 1)
    out /= np.maximum(np.linalg.norm(out, axis=1, keepdims=True), 1e-9)
    first = np.column_stack([np.full(len(points), start), points])
    second = np.column_stack([np.full(len(points), end), points])
    return _strip(first, second, out, out, finish)
