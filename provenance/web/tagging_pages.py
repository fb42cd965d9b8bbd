"""Tagging a source: what it is, when and by whom it was made, what it speaks of and shows; as the command does."""

import re
from collections.abc import Callable, Mapping

from flask import Blueprint, Response, request

from provenance.records.kinds import Access, Derivation, Publish, SourceKind
from provenance.records.sources import Source
from provenance.reports.registers_sources import RELIABILITY
from provenance.reports.source_facts import shown_words
from provenance.reports.tried import Tried, change_sentences
from provenance.rules.cautions import REGISTER
from provenance.rules.rights_statements import STATEMENTS
from provenance.rules.source_words import kind_in_words
from provenance.tasks.looking_sheets import LookingSheets
from provenance.tasks.tagging import Tags, tag_source, try_tags
from provenance.tasks.typed_pairs import typed_pairs
from provenance.web.asking import current, not_found, shown
from provenance.web.looking_pages import KNOWN_BY
from provenance.web.typed import is_look, look_first, typed
from provenance.web.writing import Refused, before_them, carry_out

pages = Blueprint("tagging_pages", __name__)

MOST_LISTED = 1000
"""So many components and sources are offered while one types; of more than that any may be named all the same."""

_WORDS = (
    *("title", "kind", "created", "creator", "occasion", "holder", "place", "reference", "origin", "issue", "replaces"),
    *("executed", "process", "altered", "reliability", "reliability_why", "access", "access_until", "note"),
)
_SHOWS = ("example", "when", "known_by", "component", "note")
_DERIVES_FROM = ("source", "how", "note")
_RIGHTS = ("statement", "holder", "credit", "publish")
_BETWEEN = re.compile(r"[\s,;]+")
CHOICES = {
    "kind": [(kind.value, kind_in_words(kind)) for kind in SourceKind],
    "known_by": [(value.value, words) for value, words in KNOWN_BY],
    "derived": [(how.value, how.value.replace("-", " ")) for how in Derivation],
    "publish": [
        (Publish.ALLOWED.value, "it may be published"),
        (Publish.ASK.value, "permission has still to be asked for"),
        (Publish.REFUSED.value, "it may not be published"),
    ],
    "statement": list(STATEMENTS.items()),
    "access": [
        (Access.OPEN.value, "anybody"),
        (Access.TEAM.value, "the team alone"),
        (Access.CLOSED.value, "nobody else: held in confidence"),
    ],
    "origin": [("stated", "it says where its facts come from"), ("unstated", "it does not say")],
    "executed": [("built", "it was built"), ("unbuilt", "it was never built"), ("unknown", "nobody knows")],
    "process": [("monochrome", "monochrome"), ("colour", "colour")],
    "altered": [(each, each) for each in ("retouched", "censored", "reversed", "coloured")],
    "reliability": [(grade, f"{grade}, {words}") for grade, words in RELIABILITY.items()],
    "hazard": sorted({caution.hazard for caution in REGISTER}),
}
"""What may be chosen, and what people read."""


@pages.get("/sources/<source_id>/tag")
def show_form(source_id: str) -> str | Response:
    """What is said of a source so far, to be said better."""
    return _form(source_id, None, None)


@pages.post("/sources/<source_id>/tag")
def tag_it(source_id: str) -> Response:
    """Write down what is said of a source; or tell what that would change."""
    if is_look():
        return look_first(
            lambda writer: try_tags(writer.opened, source_id, _tags(source_id), None, verdicts=current().verdicts),
            lambda refused, tried: _form(source_id, refused, tried),
        )
    return carry_out(
        lambda writer: tag_source(writer.opened, source_id, _tags(source_id), None),
        again=lambda refused: _form(source_id, refused, None),
        to=lambda _: f"/sources/{source_id}",
    )


def _form(source_id: str, refused: Refused | None, tried: Tried | None) -> str | Response:
    before, now = before_them([f"sources/{source_id}.yaml"])
    source = now.archive.sources.get(source_id)
    if source is None:
        return not_found(f"There is no source {source_id}", "look for it among the sources")
    archive = now.archive
    sheets = now.remembered("looking", lambda: LookingSheets(now.opened, now.readings, now.verdicts))
    return shown(
        "tag.html",
        source=source,
        there=_there(source),
        before=before,
        refused=refused,
        tried=tried,
        sentences=change_sentences,
        choices=CHOICES,
        examples=(*archive.production.order, *(each.name for each in archive.related)),
        components=[(each.id, each.name) for each in archive.components.values()][:MOST_LISTED],
        suggested=[
            (name, archive.components[name].name, each.why)
            for name, each in sheets.suggestions(source).items()
            if name not in source.topics
        ],
        called=lambda name: archive.components[name].name if name in archive.components else name,
        titled=lambda name: archive.sources[name].title if name in archive.sources else name,
        sources=[(each.id, each.title) for each in archive.sources.values() if each.id != source_id][:MOST_LISTED],
        makers=sorted({*archive.person_ids, *(each.creator for each in archive.sources.values() if each.creator)})[
            :MOST_LISTED
        ],
        shows=shown_words(archive, source),
    )


def _there(source: Source) -> dict[str, str]:
    """What stands in the record, by the names of the fields; empty for what is not said."""
    rights = source.rights
    words: dict[str, object] = {name: getattr(source, name, None) for name in _WORDS}
    words |= {
        "origin": "stated" if source.origin_stated else None,
        "executed": {True: "built", False: "unbuilt"}.get(source.executed) if source.executed is not None else None,
        "access": source.access if source.access is not Access.TEAM else None,
        **{f"rights_{key}": getattr(rights, key) if rights else None for key in _RIGHTS},
    }
    return {name.replace("_", "-"): str(value) if value is not None else "" for name, value in words.items()}


def _tags(source_id: str) -> Tags:
    source = current().archive.sources.get(source_id)
    there = _there(source) if source is not None else {}
    return Tags(
        words={name: _said_anew(name.replace("_", "-"), there) for name in _WORDS},
        lists={
            "language": _several("language", _BETWEEN.split),
            "topics": [_component_called(each) for each in _several("component", str.splitlines)],
            "hazards": _several("hazard", _BETWEEN.split),
        },
        shows=_together("--shows", "shows", _SHOWS),
        derives_from=_together("--derives-from", "derives-from", _DERIVES_FROM),
        rights=typed_pairs("--rights", {key: _said_anew(f"rights-{key}", there) for key in _RIGHTS}),
    )


def _said_anew(name: str, there: Mapping[str, str]) -> str | None:
    """What was typed into a field; None where it is left as it came.

    A field of one line keeps no ends of lines (HTML, 4.10.5.1.2).
    """
    given, before = typed(name), there.get(name, "")
    is_as_it_came = given in {before.strip(), "".join(before.splitlines()).strip()}
    return None if is_as_it_came or not given else given


def _together(option: str, name: str, keys: tuple[str, ...]) -> tuple[str, ...]:
    fields = {key: typed(f"{name}-{key.replace('_', '-')}") for key in keys}
    if name == "shows" and fields["component"]:
        fields["component"] = _component_called(fields["component"])
    given = typed_pairs(option, fields)
    return (given,) if given else ()


def _several(name: str, split: Callable[[str], list[str]]) -> list[str]:
    """What stands in all fields of a name, without what is empty, each once."""
    found = [each.strip() for given in request.form.getlist(name) for each in split(given)]
    return list(dict.fromkeys(each for each in found if each))


def _component_called(given: str) -> str:
    """The id of a component that was typed by its name; what is no name stays, to be refused by the task."""
    named = [each.id for each in current().archive.components.values() if each.name.casefold() == given.casefold()]
    return named[0] if len(named) == 1 else given
