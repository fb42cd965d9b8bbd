import cv2
import numpy as np
import pytest
from likeness.transformations import TRANSFORMATIONS, Transformed
from PIL import Image, ImageDraw

from provenance.likeness.values import Form

SPOT, RADIUS = (231.0, 142.0), 14
LIGHT, DARK = 215, 25
REVERSED = {Form.NEGATIVE, Form.MIRRORED_NEGATIVE}


def _card() -> Image.Image:
    """A light card with one dark disc: what is where cannot be mistaken."""
    card = Image.new("L", (480, 320), LIGHT)
    reach = (SPOT[0] - RADIUS, SPOT[1] - RADIUS, SPOT[0] + RADIUS - 1, SPOT[1] + RADIUS - 1)
    ImageDraw.Draw(card).ellipse(reach, fill=DARK)
    return card


def _foretold(made: Transformed, spot: tuple[float, float]) -> tuple[float, float]:
    x, y, w = made.homography @ np.array([*spot, 1.0])
    return float(x / w), float(y / w)


def _seen(made: Transformed, near: tuple[float, float]) -> tuple[float, float]:
    """The middle of what is as dark as the disc, within 40 pixels of a place."""
    tones = cv2.GaussianBlur(np.asarray(made.picture, dtype=np.float32), (0, 0), 2.5)
    tones = 255 - tones if made.form in REVERSED else tones
    left, top = max(0, round(near[0]) - 40), max(0, round(near[1]) - 40)
    window = tones[top : top + 80, left : left + 80]
    weights = np.clip((window.min() + window.max()) / 2 - window, 0, None)
    rows, columns = np.mgrid[0 : window.shape[0], 0 : window.shape[1]] + 0.5
    return left + float((columns * weights).sum() / weights.sum()), top + float((rows * weights).sum() / weights.sum())


def _base() -> Image.Image:
    random = np.random.default_rng(5)
    small = Image.fromarray(random.integers(20, 235, (24, 36), dtype=np.uint8))
    return small.resize((540, 360), Image.Resampling.BICUBIC)


def test_there_are_twenty_two_ways_in_which_a_picture_comes_again() -> None:
    assert len(TRANSFORMATIONS) == 22


@pytest.mark.parametrize("name", [name for name in TRANSFORMATIONS if name != "handwriting over it"])
def test_a_mark_on_the_picture_is_where_the_known_geometry_wants_it(name: str) -> None:
    made = TRANSFORMATIONS[name](_card(), 3)

    foretold = _foretold(made, SPOT)

    assert _seen(made, foretold) == pytest.approx(foretold, abs=2.0)


def test_handwriting_leaves_the_picture_where_it_is() -> None:
    made = TRANSFORMATIONS["handwriting over it"](_base(), 3)

    assert made.homography.tolist() == np.eye(3).tolist()
    assert made.picture.size == _base().size


@pytest.mark.parametrize("name", TRANSFORMATIONS)
def test_the_same_seed_makes_the_same_picture(name: str) -> None:
    one, other = (TRANSFORMATIONS[name](_base(), 8) for _ in range(2))

    assert one.picture.tobytes() == other.picture.tobytes()
    assert one.homography.tolist() == other.homography.tolist()
    assert one.words == other.words


def test_the_form_says_what_was_mirrored_and_what_is_a_negative() -> None:
    forms = {name: TRANSFORMATIONS[name](_base(), 1).form for name in TRANSFORMATIONS}

    assert {name: form for name, form in forms.items() if form is not Form.PLAIN} == {
        "mirror": Form.MIRRORED,
        "negative": Form.NEGATIVE,
        "mirrored negative": Form.MIRRORED_NEGATIVE,
    }


@pytest.mark.parametrize("name", TRANSFORMATIONS)
def test_only_what_is_mirrored_turns_the_corners_the_other_way_round(name: str) -> None:
    made = TRANSFORMATIONS[name](_base(), 2)

    middle = np.linalg.det(made.homography)

    assert (middle < 0) == (made.form in {Form.MIRRORED, Form.MIRRORED_NEGATIVE})


@pytest.mark.parametrize(("name", "share"), [("crop keeping 90 %", 0.9), ("crop keeping 75 %", 0.75)])
def test_a_crop_keeps_so_much_of_the_area(name: str, share: float) -> None:
    base = _base()

    kept = TRANSFORMATIONS[name](base, 4).picture

    assert kept.width * kept.height == pytest.approx(share * base.width * base.height, rel=0.01)


def test_a_halftone_is_black_and_white_and_keeps_the_tones_from_afar() -> None:
    base = _base()
    made = TRANSFORMATIONS["halftone"](base, 6).picture

    close = np.asarray(made, dtype=np.float32)
    afar = cv2.resize(cv2.GaussianBlur(close, (0, 0), 6), base.size, interpolation=cv2.INTER_AREA)

    assert float(close.std()) > 1.3 * float(np.asarray(base, dtype=np.float32).std())
    assert float(np.corrcoef(afar.ravel(), np.asarray(base).ravel())[0, 1]) > 0.95


@pytest.mark.parametrize("name", ["inset on a page", "book print"])
def test_words_on_a_page_are_where_they_are_said_to_be_and_nowhere_on_the_picture(name: str) -> None:
    made = TRANSFORMATIONS[name](Image.new("L", (480, 320), 90), 9)

    ink = np.asarray(made.picture) < 140
    worded, pictured = np.zeros_like(ink), np.zeros(ink.shape, np.uint8)
    tall, wide = ink.shape
    for box in made.words:
        top, left = round(box.y * tall / 100), round(box.x * wide / 100)
        worded[top : round((box.y + box.h) * tall / 100) + 2, left : round((box.x + box.w) * wide / 100) + 2] = True
    corners = [_foretold(made, corner) for corner in ((0, 0), (480, 0), (480, 320), (0, 320))]
    cv2.fillConvexPoly(pictured, np.array(corners, dtype=np.int32), 1)
    beside = ink & (pictured == 0)
    beside[:, : wide // 12] = False  # the shadow of the fold
    on_picture = int((worded & (cv2.erode(pictured, np.ones((9, 9), np.uint8)) > 0)).sum())

    assert len(made.words) > 150
    assert on_picture == 0
    assert int((beside & worded).sum()) > 0.98 * int(beside.sum())
