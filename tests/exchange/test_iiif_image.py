"""Pictures asked for by the IIIF Image API 3.0: https://iiif.io/api/image/3.0/ and its companion /compliance.

The sections stand beside the checks; the picture of the tables is 10,001 by 7,000 pixels.
"""

import re

import pytest

from provenance.exchange.iiif_image import MOST_SIDE, PictureRequest, RequestError, describe, read_request

WHOLE = 10_001, 7_000


def read(region: str = "full", size: str = "max", rotation: str = "0", named: str = "default.jpg") -> PictureRequest:
    return read_request(f"{region}/{size}/{rotation}/{named}", WHOLE)


@pytest.mark.parametrize(
    ("region", "box"),
    [
        ("full", (0, 0, 10_001, 7_000)),
        ("square", (1500, 0, 7_000, 7_000)),  # in the middle of the longer side (4.1)
        ("125,15,120,140", (125, 15, 120, 140)),
        ("pct:10,20,5.5,50", (1000, 1400, 550, 3500)),
        ("9900,6900,200,200", (9900, 6900, 101, 100)),  # cut off at the edge, not filled up (4.1)
        ("0,0,999999999,1", (0, 0, 10_001, 1)),
        ("pct:99,99,100,100", (9901, 6930, 100, 70)),
    ],
)
def test_a_region_is_read_as_section_4_1_has_it(region: str, box: tuple[int, int, int, int]) -> None:
    assert read(region).region == box


@pytest.mark.parametrize(
    "region",
    [
        "0,0,0,5",  # width or height of zero: 400 (4.1)
        "0,0,5,0",
        "10001,0,5,5",  # entirely beyond the picture: 400 (4.1)
        "0,7000,5,5",
        "pct:100,0,5,5",
        "pct:0,0,0,0",
        "-1,0,5,5",
        "0,0,5",
        "0,0,5,5,5",
        "0.5,0,5,5",
        "pct:1e1,0,5,5",
        "pct:nan,0,5,5",
        "0,0,9999999999,5",
        "٣,0,5,5",
        " full",
        "Full",
        "",
    ],
)
def test_a_region_that_means_nothing_is_refused_with_400(region: str) -> None:
    with pytest.raises(RequestError) as refused:
        read(region)

    assert refused.value.code == 400


@pytest.mark.parametrize(
    ("region", "size", "given"),
    [
        ("0,0,600,400", "max", (600, 400)),
        ("full", "max", (2048, round(7000 * 2048 / 10_001))),  # no more than maxWidth and maxHeight (4.2, 5.2)
        ("0,0,600,400", "150,", (150, 100)),
        ("0,0,600,400", ",100", (150, 100)),
        ("0,0,600,400", "pct:50", (300, 200)),
        ("0,0,600,400", "225,100", (225, 100)),  # may be distorted (4.2)
        ("0,0,600,400", "!225,100", (150, 100)),  # keeps its proportion (4.2)
        ("0,0,600,400", "!9000,9000", (600, 400)),  # and is never made larger (4.2)
        ("0,0,600,1", "3,", (3, 1)),
        ("0,0,600,400", "600,400", (600, 400)),
    ],
)
def test_a_size_is_read_as_section_4_2_has_it(region: str, size: str, given: tuple[int, int]) -> None:
    assert read(region, size).size == given


@pytest.mark.parametrize(
    "size",
    [
        "0,",
        ",0",
        "0,0",
        "!0,5",
        "!5,0",
        "601,",
        ",401",
        "601,400",
        "pct:101",
        "pct:0",
        "!5,",
        "!,5",
        ",",
        "!,",
        "full",
        "-5,",
        "5",
        "5,5,5",
        "pct:",
        "1e2,",
        "maximum",
    ],
)
def test_a_size_of_nothing_or_larger_than_the_region_is_refused_with_400(size: str) -> None:
    with pytest.raises(RequestError) as refused:
        read("0,0,600,400", size)

    assert refused.value.code == 400


def test_more_than_is_given_at_one_time_is_refused() -> None:
    with pytest.raises(RequestError) as refused:
        read("full", f"{MOST_SIDE + 1},")

    assert refused.value.code == 400


@pytest.mark.parametrize(
    ("rotation", "named", "code"),
    [
        ("90", "default.jpg", 501),  # known to the standard, not offered (4.3, 7.3)
        ("!0", "default.jpg", 501),
        ("22.5", "default.jpg", 501),
        ("361", "default.jpg", 400),
        ("left", "default.jpg", 400),
        ("0", "gray.jpg", 501),  # (4.4)
        ("0", "default.tif", 501),  # (4.5)
        ("0", "native.jpg", 400),
        ("0", "default.svg", 400),
        ("0", "default", 400),
        ("0", "default.jpg.png", 400),
    ],
)
def test_what_is_not_offered_is_told_from_what_means_nothing(rotation: str, named: str, code: int) -> None:
    with pytest.raises(RequestError) as refused:
        read("full", "max", rotation, named)

    assert refused.value.code == code


@pytest.mark.parametrize(("size", "code"), [("^max", 501), ("^20000,", 400), ("^200,", 501), ("^", 400), ("^^5,", 400)])
def test_nothing_is_shown_larger_than_it_is(size: str, code: int) -> None:
    with pytest.raises(RequestError) as refused:
        read("full", size)

    assert refused.value.code == code


@pytest.mark.parametrize("asked", ["", "full", "full/max/0", "full/max/0/default.jpg/", "full/max/0/default.jpg/x"])
def test_an_address_has_four_parts(asked: str) -> None:
    with pytest.raises(RequestError):
        read_request(asked, WHOLE)


def test_both_forms_can_be_asked_for() -> None:
    assert [read(named=f"default.{form}").form for form in ("jpg", "png")] == ["jpg", "png"]


def test_the_description_has_what_section_5_requires() -> None:
    described = describe("http://127.0.0.1:8000/iiif/handbook/p1-ab", WHOLE, tile=512, levels=6, is_lossless=False)

    # 5.2 technical properties: those that are required, with their fixed values.
    assert described["@context"] == "http://iiif.io/api/image/3/context.json"
    assert described["id"] == "http://127.0.0.1:8000/iiif/handbook/p1-ab"
    assert (described["type"], described["protocol"]) == ("ImageService3", "http://iiif.io/api/image")
    assert described["profile"] in {"level0", "level1", "level2"}
    assert (described["width"], described["height"]) == WHOLE
    assert described["maxWidth"] == described["maxHeight"] == 2048


def test_every_size_and_tile_that_is_named_is_given() -> None:
    """5.3 and 5.4: at any level of compliance, what the description lists has to be given."""
    described = describe("http://127.0.0.1/iiif/a/p1", WHOLE, tile=512, levels=6, is_lossless=True)

    assert [each["width"] for each in described["sizes"]] == [313, 626, 1251]
    for each in described["sizes"]:
        wanted = each["width"], each["height"]
        assert read("full", f"{wanted[0]},{wanted[1]}").size == wanted
    (tiles,) = described["tiles"]
    assert tiles == {"width": 512, "height": 512, "scaleFactors": [1, 2, 4, 8, 16, 32]}
    for factor in tiles["scaleFactors"]:
        side = 512 * factor
        for left, top in ((0, 0), (WHOLE[0] // side * side, WHOLE[1] // side * side)):
            wide, high = min(side, WHOLE[0] - left), min(side, WHOLE[1] - top)
            size = -(-wide // factor), -(-high // factor)
            found = read(f"{left},{top},{wide},{high}", f"{size[0]},{size[1]}")
            assert (found.region, found.size) == ((left, top, wide, high), size)


def test_only_features_of_the_standard_are_named_as_extra() -> None:
    """5.7 and the companion on compliance, sections 3.1 to 3.3 and 4, by name."""
    known = (
        "baseUriRedirect canonicalLinkHeader cors jsonldMediaType mirroring profileLinkHeader regionByPct regionByPx "
        "regionSquare rotationArbitrary rotationBy90s sizeByConfinedWh sizeByH sizeByPct sizeByW sizeByWh sizeUpscaling"
    )

    described = describe("http://127.0.0.1/iiif/a/p1", WHOLE, tile=512, levels=6, is_lossless=True)

    assert set(described["extraFeatures"]) <= set(known.split())
    assert "cors" not in described["extraFeatures"]
    assert described["extraFormats"] == described["preferredFormats"] == ["png"]
    assert "preferredFormats" not in describe("http://x/a", WHOLE, tile=512, levels=6, is_lossless=False)
    assert all(re.fullmatch(r"@?[a-zA-Z]+", name) for name in described)
