"""Sources as items of CSL-JSON.

The lists of types and variables are those of the Citation Style Language 1.0.2 as its schema has them (csl-types.rnc
and csl-variables.rnc of github.com/citation-style-language/schema), which come with citeproc-py.
"""

import json
import re
from pathlib import Path

import citeproc
import pytest
from builders import an_archive
from public_archives import DAY, an_open_source

from provenance.exchange.csl_json import TYPES, csl_item, csl_items
from provenance.records.kinds import Access, SourceKind
from provenance.records.regions import PageRange
from provenance.records.sources import Source, Within
from provenance.reports.date_words import date_words
from provenance.rules.public_view import public_view

SCHEMAS = Path(citeproc.DATA_PATH) / "schema" / "schemas" / "styles"


def _listed(file: str, *sections: str) -> set[str]:
    """The words in quotation marks of a RELAX NG schema; of the sections named, or of all."""
    text = (SCHEMAS / file).read_text(encoding="utf-8")
    parts = [text] if not sections else [text.split(f"{each} =")[1].split("\n  \n")[0] for each in sections]
    return {word for part in parts for word in re.findall(r'^\s*\|? ?"([\w-]+)"$', part, re.MULTILINE)}


VARIABLES = _listed("csl-variables.rnc")
NAMES = _listed("csl-variables.rnc", "variables.names")
DATES = _listed("csl-variables.rnc", "variables.dates")


def _item(source: Source, *others: Source) -> dict[str, object]:
    return csl_item(public_view(an_archive(source, *others), DAY), source.id, date_words)


def test_the_lists_of_the_standard_were_read() -> None:
    """Some that everybody knows, and how many there are of the types in version 1.0.2."""
    assert {"author", "issued", "archive_location", "container-title"} <= VARIABLES
    assert {"author", "editor"} <= NAMES
    assert "title" not in NAMES | DATES
    assert len(_listed("csl-types.rnc")) == 45


def test_every_kind_of_source_has_a_type_of_the_standard() -> None:
    assert set(TYPES) == set(SourceKind)
    assert set(TYPES.values()) <= _listed("csl-types.rnc")


@pytest.mark.parametrize("kind", [*SourceKind, None])
def test_every_field_is_a_variable_of_the_standard_and_has_the_form_that_it_asks_for(kind: SourceKind | None) -> None:
    whole = an_open_source(
        "a",
        kind,
        title="Title",
        creator="Ada Penrith",
        created="1934~",
        holder="Orrin Library",
        reference="MS 4",
        issue="C",
        language=("en", "de"),
        within=Within(source="b", pages=PageRange(3, 7)),
    )

    item = _item(whole, an_open_source("b", "book", title="Album"))

    assert json.loads(json.dumps(item)) == item
    assert set(item) - {"id", "type"} <= VARIABLES
    for name in set(item) & NAMES:
        assert item[name] == [{"literal": "Ada Penrith"}]
    for name in set(item) & DATES:
        assert item[name] == {"literal": "about 1934"}
    assert all(isinstance(item[name], str) for name in set(item) - NAMES - DATES)


def test_a_drawing_carries_what_its_record_says_and_no_more() -> None:
    drawing = an_open_source(
        "a", "drawing", title="Headlamp", creator="Tamlin Works", created="1933-05", issue="C", holder="Orrin Library"
    )

    assert _item(drawing) == {
        "id": "a",
        "type": "graphic",
        "title": "Headlamp",
        "author": [{"literal": "Tamlin Works"}],
        "issued": {"literal": "May 1933"},
        "genre": "Drawing",
        "version": "C",
        "archive": "Orrin Library",
    }


def test_an_anonymous_photograph_without_a_date_has_neither_an_author_nor_a_date() -> None:
    item = _item(an_open_source("a", creator="unknown", title="At Orrin"))

    assert item == {"id": "a", "type": "graphic", "title": "At Orrin", "genre": "Photograph"}


@pytest.mark.parametrize(
    ("kind", "variable"), [("manual", "edition"), ("book", "edition"), ("newspaper", "issue"), ("drawing", "version")]
)
def test_an_issue_goes_where_the_standard_has_a_place_for_it(kind: str, variable: str) -> None:
    assert _item(an_open_source("a", kind, issue="2"))[variable] == "2"


def test_what_is_kept_in_an_album_is_held_where_the_album_is() -> None:
    album = an_open_source("album", "book", title="Album of lamps", holder="Orrin Library", reference="MS 4")
    leaf = an_open_source("a", within=Within(source="album", pages=PageRange(3, 3)))

    item = _item(leaf, album)

    assert (item["container-title"], item["page"]) == ("Album of lamps", "3")
    assert (item["archive"], item["archive_location"]) == ("Orrin Library", "MS 4")


def test_an_album_that_is_withheld_is_not_named() -> None:
    album = an_open_source("album", "book", title="Album of lamps", holder="Orrin Library", access=Access.CLOSED)
    leaf = an_open_source("a", within=Within(source="album", pages=PageRange(3, 7)))

    item = _item(leaf, album)

    assert {"container-title", "page", "archive"}.isdisjoint(item)


def test_only_what_may_be_shown_becomes_an_item() -> None:
    view = public_view(an_archive(an_open_source("b"), an_open_source("a", access=Access.TEAM)), DAY)

    assert list(csl_items(view, date_words)) == ["b"]


def test_texts_stand_as_they_came() -> None:
    title = "<b>*x*</b> & \u202e\x1b[31m"

    assert _item(an_open_source("a", title=title))["title"] == title
