"""Pages by the addresses of the IIIF Image API 3.0 (https://iiif.io/api/image/3.0/): the sections stand beside."""

import io
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from pages.coded_pages import colour_of, is_near
from PIL import Image
from web.tiled_archive import an_archive

from provenance.store.tiles_store import TILES
from provenance.web.app import create_app

BLOCK = 120  # pixels to a block of the coded page: 20 by 10 of them


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return an_archive(tmp_path_factory.mktemp("tiles"))


@pytest.fixture(scope="module")
def client(archive: Path) -> FlaskClient:
    return create_app(archive).test_client()


def asked(client: FlaskClient, address: str) -> Any:
    return client.get(address, base_url="http://127.0.0.1:8000", follow_redirects=True)


def picture_of(answer: Any) -> Image.Image:
    assert answer.status_code == 200, answer.text
    return Image.open(io.BytesIO(answer.data)).convert("RGB")


def test_every_tile_of_the_description_is_given_with_the_right_pixels(client: FlaskClient) -> None:
    described = asked(client, "/iiif/coded/p1/info.json").get_json()

    assert (described["width"], described["height"]) == (2400, 1200)
    (tiles,) = described["tiles"]
    assert tiles["scaleFactors"] == [1, 2, 4, 8]
    seen = 0
    for factor in tiles["scaleFactors"]:
        side = tiles["width"] * factor
        for top in range(0, 1200, side):
            for left in range(0, 2400, side):
                wide, high = min(side, 2400 - left), min(side, 1200 - top)
                size = -(-wide // factor), -(-high // factor)
                # The address is the one that the description itself gives (section 5.2, `id`).
                address = f"{described['id']}/{left},{top},{wide},{high}/{size[0]},{size[1]}/0/default.jpg"
                tile = picture_of(client.get(address))
                assert tile.size == size
                middle = left + wide // 2, top + high // 2
                shown = tile.getpixel(((middle[0] - left) // factor, (middle[1] - top) // factor))
                if all(20 < place % BLOCK < BLOCK - 20 for place in middle):  # not where two blocks meet
                    seen += 1
                    assert is_near(shown, colour_of(middle[0] // BLOCK, middle[1] // BLOCK), by=8), address
    assert seen >= 8


def test_the_base_address_leads_on_to_the_description(client: FlaskClient) -> None:
    """Section 2: a 303 to the description where the base address is asked for."""
    answer = client.get("/iiif/coded/p1", base_url="http://127.0.0.1:8000")

    assert answer.status_code == 303
    assert asked(client, answer.headers["Location"]).get_json()["type"] == "ImageService3"


def test_the_description_says_of_which_kind_it_is(client: FlaskClient) -> None:
    """Section 5.1: JSON-LD, with its profile."""
    answer = asked(client, "/iiif/coded/p1/info.json")

    assert answer.content_type == 'application/ld+json;profile="http://iiif.io/api/image/3/context.json"'
    assert answer.get_json()["id"] == f"http://127.0.0.1:8000{answer.request.path.removesuffix('/info.json')}"


def test_the_whole_page_is_given_within_what_is_given_at_one_time(client: FlaskClient) -> None:
    whole = picture_of(asked(client, "/iiif/coded/p1/full/max/0/default.jpg"))

    assert whole.size == (2048, 1024)
    assert is_near(whole.getpixel((2000, 1000)), colour_of(19, 9))


@pytest.mark.parametrize("form", ["jpg", "png"])
def test_any_part_is_given_at_any_smaller_size(client: FlaskClient, form: str) -> None:
    answer = asked(client, f"/iiif/coded/p1/1210,610,100,100/50,/0/default.{form}")

    assert answer.content_type == f"image/{form.replace('jpg', 'jpeg')}"
    part = picture_of(answer)
    assert part.size == (50, 50)
    assert is_near(part.getpixel((25, 25)), colour_of(10, 5), by=8)


@pytest.mark.parametrize("left", [0, 130, 512])
def test_a_part_as_large_as_a_tile_is_taken_for_one_only_where_it_is_one(client: FlaskClient, left: int) -> None:
    part = picture_of(asked(client, f"/iiif/coded/p1/{left},0,512,512/512,512/0/default.jpg"))

    across = (left + 300) // BLOCK
    x = int((across + 0.5) * BLOCK) - left
    assert is_near(part.getpixel((x, 60)), colour_of(across, 0), by=8)


def test_a_part_beyond_the_edge_is_cut_off_there(client: FlaskClient) -> None:
    """Section 4.1: cropped at the edge, rather than filled up."""
    assert picture_of(asked(client, "/iiif/coded/p1/2380,1180,900,900/max/0/default.png")).size == (20, 20)


def test_of_a_source_within_another_its_own_part_alone_is_shown(client: FlaskClient) -> None:
    described = asked(client, "/iiif/part/p1/info.json").get_json()

    shown = picture_of(asked(client, "/iiif/part/p1/full/max/0/default.png"))

    assert (described["width"], described["height"]) == (1200, 600)
    assert shown.size == (1200, 600)
    assert is_near(shown.getpixel((60, 60)), colour_of(10, 0), by=8)
    assert is_near(shown.getpixel((1140, 540)), colour_of(19, 4), by=8)
    beyond = asked(client, "/iiif/part/p1/-120,0,120,120/max/0/default.png")
    assert beyond.status_code == 400


@pytest.mark.parametrize(
    ("rest", "code"),
    [
        ("0,0,0,5/max/0/default.jpg", 400),
        ("2400,0,5,5/max/0/default.jpg", 400),
        ("full/0,/0/default.jpg", 400),
        ("full/max/0/default.svg", 400),
        ("full/max/90/default.jpg", 501),
        ("full/^max/0/default.jpg", 501),
        ("x", 400),
        ("..%2f..%2farchive.yaml", 400),
    ],
)
def test_nonsense_is_refused_in_plain_words(client: FlaskClient, rest: str, code: int) -> None:
    answer = asked(client, f"/iiif/coded/p1/{rest}")

    assert answer.status_code == code
    assert answer.content_type == "text/plain; charset=utf-8"
    assert len(answer.text) > 10


@pytest.mark.parametrize(
    ("page", "words"),
    [
        ("talk/p1", "it is a recording"),
        ("handbook/p1", "it is a text"),
        ("photograph/p1", "no file of the source is held"),
        ("coded/p2", "the source has no page 2"),
        ("nosuch/p1", "there is no source nosuch"),
        ("coded/p0", "name it as `p1`"),
        ("coded/originals", "name it as `p1`"),
        ("broken/p1", "damaged or cut-short"),
    ],
)
def test_where_there_is_no_picture_it_is_said_why(client: FlaskClient, page: str, words: str) -> None:
    for rest in ("info.json", "full/max/0/default.jpg"):
        answer = asked(client, f"/iiif/{page}/{rest}")

        assert answer.status_code == 404
        assert words in answer.text


@pytest.mark.parametrize("source", ["..", "%2e%2e", "..%2f..%2fetc", "coded%2f..%2fcoded", "archive.yaml", "%00"])
def test_nothing_but_a_registered_source_is_opened(client: FlaskClient, source: str) -> None:
    assert asked(client, f"/iiif/{source}/p1/full/max/0/default.jpg").status_code in {400, 404}


def test_what_never_changes_is_kept_by_the_browser_and_what_leads_to_it_is_asked_for_again(client: FlaskClient) -> None:
    first = client.get("/iiif/coded/p1/info.json", base_url="http://127.0.0.1:8000")
    last = asked(client, "/iiif/coded/p1/full/100,/0/default.jpg")

    assert first.status_code == 302
    assert first.headers["Cache-Control"] == "private, no-cache"
    assert last.headers["Cache-Control"] == "private, max-age=31536000, immutable"
    assert last.headers["Content-Security-Policy"].startswith("default-src 'none'")
    assert last.headers["Cross-Origin-Resource-Policy"] == "same-origin"


def test_an_address_of_other_pixels_leads_on_to_those_of_now(client: FlaskClient) -> None:
    now = client.get("/iiif/coded/p1/info.json").headers["Location"]
    other = now.replace("p1-", "p1-0123456789abcdef-", 1).partition("/info")[0][:-17]

    answer = client.get(f"{other}/info.json")

    assert (answer.status_code, answer.headers["Location"]) == (302, now)


def test_tiles_that_were_damaged_or_thrown_away_are_made_anew(client: FlaskClient, archive: Path) -> None:
    address = "/iiif/coded/p1/0,0,512,512/512,512/0/default.jpg"
    before = asked(client, address).data
    files = sorted((archive / TILES).rglob("*l0b*.tiles"))
    for file in files:
        whole = file.read_bytes()
        middle = len(whole) // 2
        file.write_bytes(whole[:middle] + bytes(len(whole) - middle))

    damaged = [asked(client, f"/iiif/coded/p1/{left},512,512,512/512,/0/default.jpg") for left in range(0, 2048, 512)]
    for file in files:
        file.unlink()
    gone = asked(client, address)

    assert files
    assert {answer.status_code for answer in damaged} == {200}
    assert gone.data == before
