from dataclasses import replace

import pytest
from reports.pages import WIDTH

from provenance.reports.compared import Compared, Suspected, not_compared_json, suspected_json, suspected_lines

PRINT = Suspected(source="scan-1", other="postcard", method="picture", score=0.81, why="412 points of the two agree")


def test_where_nothing_looks_alike_nothing_is_said() -> None:
    assert suspected_lines(Compared(sources=3), WIDTH) == []
    assert suspected_json(Compared(sources=3)) == []


def test_twenty_pairs_are_named_and_the_others_are_counted() -> None:
    pairs = tuple(replace(PRINT, source=f"scan-{number}") for number in range(22))

    lines = suspected_lines(Compared(sources=22, suspected=pairs), WIDTH)

    assert [line.split()[2] for line in lines[:20]] == [f"scan-{number}" for number in range(20)]
    assert lines[20:] == [
        "… and 2 more pairs; `provenance copies` lists them all.",
        "22 pairs wait for a ruling; until then each counts as one witness: `provenance copies`.",
    ]


@pytest.mark.parametrize(("pages", "begins"), [(1, "One page that is held has"), (7, "7 pages that are held have")])
def test_what_nothing_could_be_compared_with_is_said(pages: int, begins: str) -> None:
    (line,) = suspected_lines(Compared(sources=1, unread=pages), 200)

    assert (
        line == f"{begins} not been read yet, so that nothing was compared with them: `provenance rebuild` reads them."
    )


@pytest.mark.parametrize(("pages", "begins"), [(1, "One page could"), (3, "3 pages could")])
def test_pages_that_could_not_be_looked_at_are_said(pages: int, begins: str) -> None:
    (line,) = suspected_lines(Compared(sources=1, failed=pages), 200)

    assert line.startswith(begins)
    assert line.endswith("until `provenance rebuild`.")
    assert not_compared_json(Compared(sources=1, failed=pages, unread=2)) == {"unread": 2, "failed": pages}
