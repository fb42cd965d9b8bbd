"""A picture of solid shapes in sunlight: a plain depth-buffer renderer with shadows and a sky to mirror."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sample.shapes import Mesh, Numbers, Point

_NEAR = 0.5
_SHADOW_SIDE = 2400


@dataclass(frozen=True, slots=True, kw_only=True)
class Camera:
    """Where the photographer stood.

    Attributes:
        eye: the lens.
        target: what stands in the middle of the plate.
        view: width of the view in degrees.
        width: in pixels.
        height: in pixels.
    """

    eye: Point
    target: Point
    view: float
    width: int
    height: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Light:
    """The sun and the sky.

    Attributes:
        sun: direction towards the sun.
        strength: of the sun; 0 under a dull sky or indoors.
        sky: light from all round.
        centre: the middle of what throws shadows.
        reach: how far round it shadows are looked for, in feet.
    """

    sun: Point
    strength: float
    sky: float
    centre: Point = (0.0, 0.0, 4.0)
    reach: float = 34.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Overlay:
    """A picture laid over a surface: tones and how far it covers, both 0 to 1, both height by width."""

    tone: Numbers
    cover: Numbers


@dataclass(frozen=True, slots=True, kw_only=True)
class _Raster:
    depth: Numbers
    owner: NDArray[np.int64]
    first: Numbers
    second: Numbers


def _axes(forward: Numbers) -> Numbers:
    forward = forward / np.linalg.norm(forward)
    right = np.cross(forward, (0.0, 0.0, 1.0))
    right /= np.linalg.norm(right)
    return np.stack([right, np.cross(right, forward), forward])


def _seen(points: Numbers, camera: Camera) -> Numbers:
    """Turn points into pixels across, pixels down and 1/distance."""
    axes = _axes(np.subtract(camera.target, camera.eye))
    local = (points - np.array(camera.eye)) @ axes.T
    distance = np.where(local[..., 2] > _NEAR, local[..., 2], np.nan)
    scale = camera.width / 2 / np.tan(np.radians(camera.view / 2))
    across = camera.width / 2 + scale * local[..., 0] / distance
    down = camera.height / 2 - scale * local[..., 1] / distance
    return np.stack([across, down, 1 / distance], -1)


def _from_sun(points: Numbers, light: Light) -> Numbers:
    """Turn points into places on the shadow map and nearness to the sun."""
    axes = _axes(-np.array(light.sun))
    local = (points - np.array(light.centre)) @ axes.T
    flat = (local[..., :2] / light.reach + 1) / 2 * _SHADOW_SIDE
    return np.stack([flat[..., 0], flat[..., 1], 1000 - local[..., 2]], -1)


def _rasterise(spots: Numbers, mesh: Mesh, overlays: Sequence[Overlay], size: tuple[int, int]) -> _Raster:
    """Find which triangle is nearest at every pixel; spots hold pixels and a depth that grows with nearness."""
    width, height = size
    raster = _Raster(
        depth=np.full((height, width), -np.inf),
        owner=np.full((height, width), -1, dtype=np.int64),
        first=np.zeros((height, width)),
        second=np.zeros((height, width)),
    )
    for number in np.flatnonzero(~np.isnan(spots).any(axis=(1, 2))):
        _lay(raster, int(number), spots[number], mesh, overlays)
    return raster


def _lay(raster: _Raster, number: int, spot: Numbers, mesh: Mesh, overlays: Sequence[Overlay]) -> None:
    height, width = raster.depth.shape
    (ax, ay, az), (bx, by, bz), (cx, cy, cz) = spot
    area = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay)
    left, right = max(int(min(ax, bx, cx)), 0), min(int(max(ax, bx, cx)) + 2, width)
    top, bottom = max(int(min(ay, by, cy)), 0), min(int(max(ay, by, cy)) + 2, height)
    if abs(area) < 1e-9 or left >= right or top >= bottom:
        return
    across = np.arange(left, right) + 0.5
    down = (np.arange(top, bottom) + 0.5)[:, None]
    second = ((across - ax) * (cy - ay) - (cx - ax) * (down - ay)) / area
    third = ((bx - ax) * (down - ay) - (across - ax) * (by - ay)) / area
    first = 1 - second - third
    depth = first * az + second * bz + third * cz
    window = (slice(top, bottom), slice(left, right))
    inside = (first >= -1e-9) & (second >= -1e-9) & (third >= -1e-9) & (depth > raster.depth[window])
    picture = int(mesh.finishes[number, 2])
    if picture >= 0 and inside.any():
        shares = np.stack([first * az, second * bz, third * cz], -1) / depth[..., None]
        inside &= _sample(overlays[picture].cover, shares @ mesh.places[number]) > 0.5
    raster.depth[window][inside] = depth[inside]
    raster.owner[window][inside] = number
    raster.first[window][inside] = (first * az / depth)[inside]
    raster.second[window][inside] = (second * bz / depth)[inside]


def _sample(values: Numbers, places: Numbers) -> Numbers:
    rows = np.clip((places[..., 1] * values.shape[0]).astype(int), 0, values.shape[0] - 1)
    columns = np.clip((places[..., 0] * values.shape[1]).astype(int), 0, values.shape[1] - 1)
    sampled: Numbers = values[rows, columns]
    return sampled


def _lit(points: Numbers, light: Light, shadow: Numbers, normals: Numbers) -> Numbers:
    """Say how much of the sun reaches each point, softened at the edge of the shadow."""
    spots = _from_sun(points + normals * 0.06, light)
    total = np.zeros(len(points))
    for shift_x in (-1.5, 0, 1.5):
        for shift_y in (-1.5, 0, 1.5):
            rows = np.clip((spots[:, 1] + shift_y).astype(int), 0, _SHADOW_SIDE - 1)
            columns = np.clip((spots[:, 0] + shift_x).astype(int), 0, _SHADOW_SIDE - 1)
            total += spots[:, 2] > shadow[rows, columns] - 0.08
    beyond = ((spots[:, :2] < 2) | (spots[:, :2] > _SHADOW_SIDE - 3)).any(axis=1)
    return np.where(beyond, 1.0, total / 9)


def _shade(mesh: Mesh, raster: _Raster, camera: Camera, light: Light, overlays: Sequence[Overlay]) -> Numbers:
    """Work out the light from every covered pixel, in the order of the flattened mask."""
    mask = raster.owner >= 0
    owner = raster.owner[mask]
    shares = np.stack([raster.first[mask], raster.second[mask]], -1)
    shares = np.column_stack([shares, 1 - shares.sum(1)])
    points = np.einsum("pk,pkd->pd", shares, mesh.corners[owner])
    normals = np.einsum("pk,pkd->pd", shares, mesh.normals[owner])
    normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-9)
    towards = np.array(camera.eye) - points
    towards /= np.linalg.norm(towards, axis=1, keepdims=True)
    normals *= np.where(np.einsum("pd,pd->p", normals, towards) < 0, -1.0, 1.0)[:, None]
    tone = mesh.finishes[owner, 0].copy()
    places = np.einsum("pk,pkd->pd", shares, mesh.places[owner])
    for number, overlay in enumerate(overlays):
        chosen = mesh.finishes[owner, 2] == number
        tone[chosen] *= _sample(overlay.tone, places[chosen])
    shadow = _rasterise(_from_sun(mesh.corners, light), mesh, overlays, (_SHADOW_SIDE, _SHADOW_SIDE)).depth
    sun = np.array(light.sun) / np.linalg.norm(light.sun)
    facing = np.clip(normals @ sun, 0, None) * _lit(points, light, shadow, normals)
    half = towards + sun
    half /= np.linalg.norm(half, axis=1, keepdims=True)
    gloss = mesh.finishes[owner, 1]
    shine = gloss * np.clip(np.einsum("pd,pd->p", normals, half), 0, None) ** 60 * (facing > 0.02) * light.strength
    upward = 2 * np.einsum("pd,pd->p", normals, towards) * normals[:, 2] - towards[:, 2]
    mirrored = gloss * np.clip(0.25 + 0.6 * upward, 0.05, 0.85) * light.sky
    ambient = light.sky * (0.55 + 0.45 * normals[:, 2])
    shaded: Numbers = tone * (ambient + light.strength * facing) * (1 - 0.5 * gloss) + mirrored + 0.9 * shine
    return shaded


def render(mesh: Mesh, camera: Camera, light: Light, overlays: Sequence[Overlay], backdrop: Numbers) -> Numbers:
    """Take the picture.

    Args:
        mesh: everything that stands before the camera.
        camera: where it stands.
        light: sun and sky.
        overlays: pictures that surfaces refer to by number, from 0.
        backdrop: what shows where nothing stands, height by width.

    Returns:
        Light at each pixel; 1 is paper white, more is possible.
    """
    raster = _rasterise(_seen(mesh.corners, camera), mesh, overlays, (camera.width, camera.height))
    picture = backdrop.copy()
    mask = raster.owner >= 0
    distance = 1 / raster.depth[mask]
    haze = np.clip((distance - 60) / 500, 0, 0.6)
    picture[mask] = _shade(mesh, raster, camera, light, overlays) * (1 - haze) + backdrop[mask] * haze
    return picture
