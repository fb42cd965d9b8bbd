"""A page with a window onto a drawing, as any page of ours has it, and what is to be seen through that window."""

import io
from dataclasses import dataclass

from PIL import Image
from playwright.sync_api import Locator, Page, Route, expect
from web.browsing import Served

POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'"
BLOCK = 120  # pixels of the page to a block of the coded page
SIZE = 2400, 1200

_PAGE = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>A drawing</title>
<meta name="viewport" content="width=device-width, initial-scale=1"><link rel="icon" href="data:,">
<link rel="stylesheet" href="/static/style.css"><link rel="stylesheet" href="/static/zoom.css"></head>
<body><main><h1>A drawing</h1>
<figure class="zoom" data-info="/iiif/{source}/p1/info.json" {more}>
<img src="/iiif/{source}/p1/full/!1200,1200/0/default.jpg" alt="The drawing"></figure></main>
<script src="/static/zoom.js" defer></script></body></html>"""


@dataclass(frozen=True, slots=True)
class View:
    """Where the window stands: the point of the page at its upper left corner, and its pixels to one of the page."""

    x: float
    y: float
    scale: float

    def under(self, x: float, y: float) -> tuple[float, float]:
        """The point of the page under a point of the window."""
        return self.x + x / self.scale, self.y + y / self.scale


class Window:
    """The window onto a page."""

    def __init__(self, page: Page, served: Served, source: str = "coded", more: str = "") -> None:
        """Open a page with a window onto a source."""
        text = _PAGE.format(source=source, more=more)

        def give(route: Route) -> None:
            route.fulfill(body=text, content_type="text/html", headers={"Content-Security-Policy": POLICY})

        page.route("**/a-drawing", give)
        page.goto(f"{served.address}a-drawing")
        self.page = page
        self.figure = page.locator("figure.zoom")

    @property
    def frame(self) -> Locator:
        """The window itself."""
        return self.page.locator(".zoom-window")

    def view(self) -> View:
        """Where it stands."""
        return View(*map(float, (self.figure.get_attribute("data-view") or "").split()))

    def place(self, x: float, y: float) -> tuple[float, float]:
        """A point of the window as a point of the browser's."""
        inner = self.frame.evaluate(
            "each => { const f = each.getBoundingClientRect(); return [f.x + each.clientLeft, f.y + each.clientTop]; }"
        )
        return inner[0] + x, inner[1] + y

    def rounded(self, at: tuple[float, float]) -> tuple[float, float]:
        """The nearest point of the window that lies on a whole pixel of the browser's: a pointer points at no other."""
        corner = self.place(0, 0)
        return round(corner[0] + at[0]) - corner[0], round(corner[1] + at[1]) - corner[1]

    def wait_sharp(self) -> int:
        """Wait until all tiles that are wanted are there; how coarse they are."""
        self.page.wait_for_selector('figure.zoom[data-sharp]:not([data-sharp=""])')
        return int(self.figure.get_attribute("data-sharp") or 0)

    def wait_for(self, scale: float, *, within: float = 1e-6) -> View:
        """Wait until the window shows the page at a size, as it is told there too; where it stands then.

        Args:
            scale: pixels of the window to one of the page, to which what was done leads.
            within: by which share of that it may differ.
        """
        self.page.wait_for_function(
            "([scale, within]) => "
            "Math.abs(document.querySelector('figure.zoom').dataset.view.split(' ')[2] / scale - 1) <= within",
            arg=[scale, within],
        )
        view = self.view()
        expect(self.page.locator("output")).to_have_text(f"{round(view.scale * 100)} %")
        return view

    def colour_at(self, x: float, y: float) -> object:
        """The colour that is seen at a point of the window."""
        left, top = self.place(x, y)
        seen = self.page.screenshot(clip={"x": left - 1, "y": top - 1, "width": 3, "height": 3})
        return Image.open(io.BytesIO(seen)).convert("RGB").getpixel((1, 1))
