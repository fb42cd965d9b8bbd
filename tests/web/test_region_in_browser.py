"""A part of a page is drawn on its picture: by mouse, pen or finger, by keys alone, or as four figures.

The picture is 400 by 200 pixels, so that one hundredth of the page is known on it. What is sent is a region of W3C
Media Fragments URI 1.0, 4.2.2, from the left upper corner.
"""

from collections.abc import Iterator
from pathlib import Path
from urllib.parse import parse_qs

import pytest
from flask import render_template_string
from playwright.sync_api import Browser, Page, Request, Route, expect
from web.browsing import Seen, Served, barriers, looked_at, overhang, serving
from web.small_archives import WORDS, a_small_archive

from provenance.errors import UsageRefusedError
from provenance.records.regions import parse_region
from provenance.web.app import create_app
from provenance.web.drawn_region import region_of

_FRAME = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>A region</title>
<meta name="viewport" content="width=device-width, initial-scale=1"><link rel="icon" href="data:,">
<link rel="stylesheet" href="/static/style.css"><link rel="stylesheet" href="/static/writing.css">
<link rel="stylesheet" href="/static/region.css"></head>
<body><main><h1>A region</h1><form class="write" method="post" action="/sent">
{% from "region.html" import region_field with context %}
{{ region_field("region", "Where on the page", picture, "The drawing", words=words, value=value, within=within) }}
<p><button>Write it down</button></p></form></main>
<script src="/static/region.js" defer></script></body></html>"""
POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; form-action 'self'"


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serving(a_small_archive(tmp_path_factory.mktemp("drawn"))) as served:
        yield served


class Sheet:
    """A page with the picture of a page to draw on, as any page of ours has it."""

    def __init__(self, page: Page, served: Served, **values: object) -> None:
        told = {"picture": "/cut-outs/page?source=drawing&page=1", "words": WORDS, "value": "", "within": "", **values}
        self.page, self.sent = page, list[dict[str, list[str]]]()
        body = _rendered(served.folder, told)
        page.route("**/a-region", lambda route: _give(route, body))
        page.route("**/sent", self._take)
        page.goto(f"{served.address}a-region")
        self.sheet = page.locator(".region-sheet")
        self.box = page.locator(".region-box")
        self.told = page.locator(".region-tools output")

    def _take(self, route: Route, request: Request) -> None:
        self.sent.append(parse_qs(request.post_data or "", keep_blank_values=True))
        _give(route, "<!DOCTYPE html><html lang='en'><title>Sent</title><h1>Sent</h1>")

    def at(self, across: float, down: float) -> tuple[float, float]:
        """A point of the page, in hundredths, as a point of the browser's window."""
        frame = self.sheet.bounding_box()
        assert frame is not None
        return frame["x"] + frame["width"] * across / 100, frame["y"] + frame["height"] * down / 100

    def under(self, x: float, y: float, right: float = 0, below: float = 0) -> tuple[float, float]:
        """The point of the page under a point of the window, and so many hundredths to the right of it and below."""
        frame = self.sheet.bounding_box()
        assert frame is not None
        return (x - frame["x"]) / frame["width"] * 100 + right, (y - frame["y"]) / frame["height"] * 100 + below

    def drag(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        """Draw with the mouse from a point of the page to another."""
        self.page.mouse.move(*self.at(*start))
        self.page.mouse.down()
        self.page.mouse.move(*self.at(*end), steps=3)
        self.page.mouse.up()

    def figures(self) -> list[float]:
        """What the four figures say."""
        typed = [self.page.locator(f"[name=region-{side}]").input_value() for side in "xywh"]
        return [float(each) for each in typed if each]

    def send(self) -> dict[str, list[str]]:
        """Send the form; what it carried."""
        self.page.get_by_role("button", name="Write it down").click()
        expect(self.page.get_by_role("heading", name="Sent")).to_be_visible()
        return self.sent[-1]


def _rendered(folder: Path, values: dict[str, object]) -> str:
    app = create_app(folder)
    with app.test_request_context("/a-region"):
        return render_template_string(_FRAME, **values)


def _give(route: Route, body: str) -> None:
    route.fulfill(body=body, content_type="text/html", headers={"Content-Security-Policy": POLICY})


@pytest.fixture
def sheet(chromium: Browser, server: Served, seen: Seen) -> Iterator[Sheet]:
    with looked_at(chromium, server, seen) as page:
        yield Sheet(page, server)


def near(figures: list[float], wanted: list[float]) -> bool:
    return len(figures) == 4 and all(abs(one - other) <= 0.5 for one, other in zip(figures, wanted, strict=True))


def test_a_region_is_drawn_moved_and_resized_with_the_mouse(sheet: Sheet) -> None:
    sheet.drag((10, 20), (40, 60))
    assert near(sheet.figures(), [10, 20, 30, 40])

    sheet.drag((25, 40), (35, 50))
    assert near(sheet.figures(), [20, 30, 30, 40])

    handle = sheet.page.locator('.region-handle[data-corner="se"]').bounding_box()
    assert handle is not None
    assert min(handle["width"], handle["height"]) >= 24  # WCAG 2.2, 2.5.8
    sheet.drag(sheet.under(handle["x"] + 12, handle["y"] + 12), sheet.under(handle["x"] + 12, handle["y"] + 12, 20, 0))
    assert near(sheet.figures(), [20, 30, 50, 40])
    sent = sheet.send()
    assert set(sent) == {"region"}
    assert str(parse_region(sent["region"][0])) == sent["region"][0]


def test_no_region_leaves_the_page(sheet: Sheet) -> None:
    sheet.drag((50, 50), (120, 130))
    assert near(sheet.figures(), [50, 50, 50, 50])

    sheet.drag((75, 75), (20, 99))
    assert near(sheet.figures(), [0, 50, 50, 50])

    sheet.sheet.focus()
    for _ in range(3):
        sheet.page.keyboard.press("ArrowLeft")
        sheet.page.keyboard.press("Shift+ArrowDown")
    assert near(sheet.figures(), [0, 50, 50, 50])
    parse_region(sheet.send()["region"][0])


def test_a_region_is_made_by_keys_alone_and_told_in_words(sheet: Sheet) -> None:
    keys = sheet.page.keyboard
    keys.press("Tab")
    expect(sheet.sheet).to_be_focused()
    expect(sheet.told).to_have_text("no region")

    keys.press("Enter")
    expect(sheet.told).to_have_text("from 35 % across, 40 % down, 30 % wide, 20 % high")
    for key in ("ArrowRight", "ArrowDown", "ArrowDown", "Shift+ArrowLeft", "Shift+ArrowUp", "Control+ArrowLeft"):
        keys.press(key)
    expect(sheet.told).to_have_text("from 35.9 % across, 42 % down, 29 % wide, 19 % high")
    assert sheet.told.evaluate("each => each.localName") == "output"  # whose role is `status`: it is read out
    assert sheet.figures() == [35.9, 42, 29, 19]

    keys.press("Delete")
    expect(sheet.told).to_have_text("no region")
    assert sheet.figures() == []
    keys.press("Enter")
    assert sheet.send() == {"region": ["percent:35,40,30,20"]}


def test_a_finger_draws_and_two_move_the_picture(chromium: Browser, server: Served, seen: Seen) -> None:
    phone = {"viewport": {"width": 360, "height": 640}, "has_touch": True, "is_mobile": True}
    with looked_at(chromium, server, seen, **phone) as page:
        sheet = Sheet(page, server)
        assert overhang(page) <= 0
        touch(sheet, [[(20, 20)], [(40, 40)], [(60, 70)]])
        assert near(sheet.figures(), [20, 20, 40, 50])

        before = sheet.figures()
        page.get_by_role("button", name="Four times").click()
        scrolled = sheet.page.locator(".region-view").evaluate("each => each.scrollLeft")
        touch(sheet, [[(40, 40), (50, 50)], [(38, 40), (48, 50)], [(36, 40), (46, 50)]])
        assert sheet.page.locator(".region-view").evaluate("each => each.scrollLeft") > scrolled
        assert sheet.figures() == before


def touch(sheet: Sheet, steps: list[list[tuple[float, float]]]) -> None:
    """Fingers go down at the first step, along the others, and up: as the browser itself is told by a screen."""
    screen = sheet.page.context.new_cdp_session(sheet.page)
    placed = [
        [{"x": x, "y": y, "id": finger} for finger, (x, y) in enumerate(sheet.at(*at) for at in step)] for step in steps
    ]
    for number, points in enumerate(placed):
        screen.send(
            "Input.dispatchTouchEvent", {"type": "touchMove" if number else "touchStart", "touchPoints": points}
        )
    screen.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def test_a_press_on_a_word_frames_it_and_shift_goes_on_to_another(sheet: Sheet) -> None:
    sheet.page.mouse.click(*sheet.at(20, 12))
    assert sheet.figures() == [10, 10, 20, 5]

    sheet.page.keyboard.down("Shift")
    sheet.page.mouse.click(*sheet.at(30, 42))
    assert sheet.figures() == [10, 10, 27, 35]  # from the first word to the fourth


def test_what_is_typed_is_drawn_and_what_cannot_be_is_said(sheet: Sheet) -> None:
    for side, figure in zip("xywh", ("10", "20", "30", "40"), strict=True):
        sheet.page.locator(f"[name=region-{side}]").fill(figure)
    expect(sheet.box).to_be_visible()
    frame, box = sheet.sheet.bounding_box(), sheet.box.bounding_box()
    assert frame is not None
    assert box is not None
    assert (box["x"] - frame["x"]) / frame["width"] == pytest.approx(0.1, abs=0.005)
    assert box["height"] / frame["height"] == pytest.approx(0.4, abs=0.005)

    sheet.page.locator("[name=region-x]").fill("80")
    expect(sheet.told).to_contain_text("more than 100 %")
    sheet.page.get_by_role("button", name="Write it down").click()
    assert sheet.sent == []  # the browser holds it back


def test_looking_closer_keeps_the_region_in_the_middle(sheet: Sheet) -> None:
    sheet.drag((80, 80), (90, 90))
    before = sheet.sheet.bounding_box()
    sheet.page.get_by_role("button", name="Four times").click()
    after, box = sheet.sheet.bounding_box(), sheet.box.bounding_box()
    view = sheet.page.locator(".region-view").bounding_box()
    assert before is not None
    assert after is not None
    assert box is not None
    assert view is not None

    assert after["width"] == pytest.approx(4 * before["width"], rel=0.01)
    assert box["x"] + box["width"] / 2 == pytest.approx(view["x"] + view["width"] / 2, abs=3)
    assert view["x"] <= box["x"] <= view["x"] + view["width"]
    assert view["y"] <= box["y"] <= view["y"] + view["height"]


def test_where_a_part_of_the_page_is_shown_the_region_is_told_of_the_whole_page(
    chromium: Browser, server: Served, seen: Seen
) -> None:
    with looked_at(chromium, server, seen) as page:
        sheet = Sheet(page, server, within="percent:50,0,50,100", value="percent:60,10,20,30")
        frame, box = sheet.sheet.bounding_box(), sheet.box.bounding_box()
        assert frame is not None
        assert box is not None
        assert (box["x"] - frame["x"]) / frame["width"] == pytest.approx(0.2, abs=0.005)

        sheet.drag((2, 80), (-30, 99))
        assert near(sheet.figures(), [50, 80, 1, 19])


def test_without_a_script_the_four_figures_are_the_region(chromium: Browser, server: Served, seen: Seen) -> None:
    with looked_at(chromium, server, seen, java_script_enabled=False) as page:
        sheet = Sheet(page, server, value="percent:12.5,40,30,8")
        expect(page.get_by_role("img", name="The drawing")).to_be_visible()
        page.get_by_label("% wide").fill("30.25")
        sent = {name: values[0] for name, values in sheet.send().items()}
        assert region_of(sent) == "percent:12.5,40,30.25,8"


def test_half_a_region_is_refused_with_what_is_missing() -> None:
    assert region_of({}) is None
    assert region_of({"region": "percent:1,2,3,4", "region-x": "9"}) == "percent:1,2,3,4"
    with pytest.raises(UsageRefusedError) as refused:
        region_of({"region-x": "12,5", "region-y": "3", "region-w": "4", "region-h": " "})
    assert "how high" in refused.value.what
    assert "how wide" not in refused.value.what


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_barrier_that_a_program_can_see(chromium: Browser, server: Served, seen: Seen, scheme: str) -> None:
    with looked_at(chromium, server, seen, color_scheme=scheme) as page:
        Sheet(page, server, value="percent:10,20,30,40")
        assert barriers(page) == []
