"""The fixtures of the browser tests, for every file in this folder."""

from web.browsing import chromium, page, prepared, seen, served

__all__ = ["chromium", "page", "prepared", "seen", "served"]
