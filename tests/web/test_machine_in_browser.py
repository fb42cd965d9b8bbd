"""The picture of the machine in a real browser, in light and dark, with and without scripts."""

import pytest
from playwright.sync_api import Browser
from web.browsing import Seen, Served, looked_at


@pytest.mark.long
@pytest.mark.parametrize("scheme", ["dark", "light"])
def test_the_picture_takes_its_ink_from_light_and_dark(
    chromium: Browser, served: Served, seen: Seen, scheme: str
) -> None:
    with looked_at(chromium, served, seen, color_scheme=scheme) as page:
        page.goto("/machine")
        shades = page.evaluate(
            "['svg.machine text', '.plate', 'body'].map(each => {"
            "const style = getComputedStyle(document.querySelector(each));"
            "return each === 'body' ? style.color : style.fill; })"
        )
        lightness = [sum(int(part) for part in shade[4:-1].split(",")) / 3 for shade in shades]

        assert shades[0] == shades[2]
        assert (lightness[0] > 150, lightness[1] > 150) == ((True, False) if scheme == "dark" else (False, True))


@pytest.mark.long
def test_without_scripts_every_cell_is_a_link_and_nothing_is_missing(
    chromium: Browser, served: Served, seen: Seen
) -> None:
    with looked_at(chromium, served, seen, java_script_enabled=False) as page:
        page.goto("/machine?by=needed")

        assert page.locator("#told").is_hidden()
        assert page.locator("svg.machine a").count() >= 42
        assert page.locator("svg.machine a[tabindex]").count() == 0
