"""The fixtures of the browser tests, for every file in this folder."""

import pytest
from web.browsing import chromium, page, prepared, seen, served

__all__ = ["chromium", "page", "prepared", "seen", "served"]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Leave what needs the whole sample to the long run: its pages are read first, which takes most of a minute."""
    for item in items:
        if "prepared" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.long)
