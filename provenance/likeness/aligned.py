"""Light and dark of two pictures that were laid on one another, compared block by block.

Within a block only the pattern counts (the correlation about the block's own mean), so that fading, a hard print or
light from one side change nothing. Each block may be off by a little, for paper is never flat. What writing, stains or
other entries add is told apart from what is missing: of a picture that was written over, the one has something of its
own; of one form filled in twice, or two photographs of one place, both have.
"""

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from provenance.likeness.laid_on import Laid, Tones, frame_size, seen

Grid = npt.NDArray[np.float32]
Cells = npt.NDArray[np.bool_]

_BLOCK = 12  # pixels of the frame
_COARSE = 192  # the longer side of the frame, in which blocks may be off
_FINE = 384
_REACH = 2  # pixels of the coarse frame by which a block may be off
_COVERED_FINELY = 0.25  # the same, once ruled lines are out
_COVERED = 0.6  # of a block that lies in both pictures for it to count
_EVEN = 4.0  # grey levels of deviation: what varies less is even
_EVEN_SHARE, _NOISE = 0.2, 1.5  # in a faded picture, of what its busiest tenth of blocks varies; never below noise
_LIKE, _UNLIKE = 0.6, 0.4  # correlation
_OWN = 0.06  # of a block's area that is of one picture alone
_NEIGHBOURHOOD = 12.0
_RULED = 0.6  # what is left of a page without its ruled lines, where these are most of what can be seen
_RULE, _RULE_WIDTH = 64, 5  # pixels of the fine frame: the least length of a ruled line, and what is taken out with it


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Agreement:
    """How far light and dark agree.

    Attributes:
        told_by: the number of coarse blocks with something to see in both pictures.
        agreeing: the share of blocks with something to see in both that are alike, 0 to 1.
        correlation: the middle one of their correlations, -1 to 1.
        contrary: the share of blocks in which the one has something that the other lacks, or that in which the other
            has something that the one lacks: the lesser of the two, 0 to 1.
        between_rules: the share of blocks that are alike once ruled lines are out; 1 where few lines are ruled.
        like: which coarse blocks are alike.
        unlike: which coarse blocks have something to see and are not alike.
    """

    told_by: int
    agreeing: float
    correlation: float
    contrary: float
    between_rules: float
    like: Cells
    unlike: Cells


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class _Blocks:
    like: Grid
    inner: Grid
    outer: Grid
    inside: Cells
    shift: Grid

    @property
    def told(self) -> Cells:
        """Which blocks have something to see in both."""
        return np.asarray(self.inside & self._busy(self.inner) & self._busy(self.outer))

    @property
    def busy(self) -> Cells:
        """Which blocks have something to see in either."""
        return np.asarray(self.inside & (self._busy(self.inner) | self._busy(self.outer)))

    def _busy(self, varies: Grid) -> Cells:
        most = float(np.percentile(varies[self.inside], 90)) if self.inside.any() else 0.0
        return np.asarray(varies > min(_EVEN, max(_NOISE, _EVEN_SHARE * most)))


def compare(laid: Laid) -> Agreement:
    """Compare two pictures laid on one another, coarsely and then, each block shifted to where it fits, finely."""
    coarse = _by_block(seen(laid, frame_size(laid, _COARSE, _BLOCK)), _REACH)
    told_by = int(coarse.told.sum())
    agreeing, correlation = _share(coarse)
    contrary, between_rules = 0.0, 1.0
    if agreeing > 0.3:
        whole = _settled(seen(laid, _twice(coarse)), coarse)
        views = _without_rules(whole)
        fine = _by_block(views, 1, _COVERED_FINELY)
        finely, fine_correlation = _share(fine)
        agreeing, correlation = max(agreeing, finely), max(correlation, fine_correlation)
        contrary = _contrary(views, fine)
        if views[2].sum() < _RULED * whole[2].sum():
            between_rules = finely
    return Agreement(
        told_by=told_by, agreeing=agreeing, correlation=correlation, contrary=contrary, between_rules=between_rules,
        like=coarse.told & (coarse.like >= _LIKE), unlike=coarse.busy & (coarse.like < _UNLIKE),
    )  # fmt: skip


def _twice(coarse: _Blocks) -> tuple[int, int]:
    rows, columns = coarse.like.shape
    return columns * _BLOCK * _FINE // _COARSE, rows * _BLOCK * _FINE // _COARSE


def _share(blocks: _Blocks) -> tuple[float, float]:
    """The share of alike blocks, and the middle correlation, of those that have something to see in both."""
    like = blocks.like[blocks.told]
    return (float((like >= _LIKE).mean()), float(np.median(like))) if len(like) else (0.0, 0.0)


def _means(picture: Tones) -> Grid:
    rows, columns = picture.shape[0] // _BLOCK, picture.shape[1] // _BLOCK
    return np.asarray(cv2.resize(picture, (columns, rows), interpolation=cv2.INTER_AREA), np.float32)


def _soft(picture: Tones, how_far: float) -> Tones:
    return np.asarray(cv2.GaussianBlur(picture, (0, 0), how_far), np.float32)


def _spread(grid: Grid) -> Tones:
    return np.repeat(np.repeat(grid, _BLOCK, axis=0), _BLOCK, axis=1)


def _by_block(views: tuple[Tones, Tones, Tones], reach: int, least: float = _COVERED) -> _Blocks:
    inner, outer, mask = views
    covered = _means(mask)
    area = np.maximum(covered, 1e-6)
    mean = np.asarray(_means(inner * mask) / area, np.float32)
    centred = (inner - _spread(mean)) * mask
    vary = _means(centred * centred) / area
    best, shift, own = np.full(area.shape, -1, np.float32), np.zeros((*area.shape, 2), np.float32), vary
    for down in range(-reach, reach + 1):
        for across in range(-reach, reach + 1):
            moved = np.roll(outer, (down, across), (0, 1))
            there = moved * mask
            vary_there = np.maximum(_means(there * moved) / area - (_means(there) / area) ** 2, 0)
            like = _means(centred * moved) / area / np.sqrt(np.maximum(vary * vary_there, 1e-3))
            better = like > best
            best[better], shift[better] = like[better], (down, across)
            own = vary_there if down == across == 0 else own
    return _Blocks(like=best, inner=np.sqrt(vary), outer=np.sqrt(own), inside=covered >= least, shift=shift)


def _settled(views: tuple[Tones, Tones, Tones], coarse: _Blocks) -> tuple[Tones, Tones, Tones]:
    """The outer of two fine views moved to where the coarse blocks fitted best, smoothly from block to block."""
    weight = np.where(coarse.told, np.maximum(coarse.like, 0) ** 2, 0).astype(np.float32)
    total = cv2.GaussianBlur(weight, (0, 0), 1.0)
    field = cv2.GaussianBlur(coarse.shift * weight[:, :, None], (0, 0), 1.0) / np.maximum(total, 1e-3)[:, :, None]
    height, width = views[0].shape
    moved = cv2.resize(np.where(total[:, :, None] < 0.05, 0, field), (width, height)) * (_FINE / _COARSE)
    down, across = np.mgrid[0:height, 0:width].astype(np.float32)
    outer = cv2.remap(
        views[1], across - moved[:, :, 1], down - moved[:, :, 0], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE
    )
    return views[0], np.asarray(outer, np.float32), views[2]


def _without_rules(views: tuple[Tones, Tones, Tones]) -> tuple[Tones, Tones, Tones]:
    """The views with ruled lines and other long straight edges taken out of what is compared.

    Two tables of like layout agree in their rules everywhere; what stands between the rules tells them apart.
    """
    mask = views[2].copy()
    for view in views[:2]:
        lines = cv2.HoughLinesP(_edges(view), 1, np.pi / 360, 60, minLineLength=_RULE, maxLineGap=4)
        for x1, y1, x2, y2 in np.asarray(lines if lines is not None else [], np.int32).reshape(-1, 4).tolist():
            cv2.line(mask, (x1, y1), (x2, y2), 0.0, _RULE_WIDTH)
    return views[0], views[1], mask


def _edges(view: Tones) -> npt.NDArray[np.uint8]:
    """Where light and dark change."""
    return np.asarray(cv2.Canny(np.asarray(np.clip(view + 128, 0, 255), np.uint8), 40, 80), np.uint8)


def _contrary(views: tuple[Tones, Tones, Tones], blocks: _Blocks) -> float:
    """The share of blocks in which the one has something of its own, or that of the other: the lesser of the two.

    A pixel that differs by more than the usual light and dark belongs to the picture in which it stands out.
    """
    sure = blocks.told & (blocks.like > (0.8 if (blocks.told & (blocks.like > 0.8)).sum() >= 8 else _LIKE))
    busy = blocks.busy
    if not sure.any():
        return 1.0
    gain = float(np.median(blocks.outer[sure] / blocks.inner[sure]))
    usual = float(np.median(blocks.outer[sure]))
    inner, outer = (view - _soft(view, _NEIGHBOURHOOD) for view in views[:2])
    inner = inner * gain
    differs = (np.abs(outer - inner) > usual) & (views[2] > 0)
    is_outer = np.abs(outer) > np.abs(inner)
    unlike = busy & (blocks.like < _UNLIKE)
    covered = _means(views[2])
    own = [
        ((_means((differs & whose).astype(np.float32)) > _OWN * covered) & unlike).sum()
        for whose in (is_outer, ~is_outer)
    ]
    return float(min(own) / busy.sum())
