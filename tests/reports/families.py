"""Answers of `descent` about made archives, as the task composes them."""

from dataclasses import replace
from pathlib import Path

from builders import a_claim, a_component, a_date, a_feature, a_pair, a_source, an_archive, an_item

from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair
from provenance.records.sources import OriginalFile, Within
from provenance.reports.descended import Descended
from provenance.reports.standing import LeftOut
from provenance.tasks.descending import descent_of
from provenance.tasks.opening import Opened

A_FILE = OriginalFile(path="originals/x/x.jpg", sha256="0" * 64, size=1, media_type="image/jpeg")


def answer(archive: Archive, about: str, left_out: tuple[LeftOut, ...] = ()) -> Descended:
    """What the task answers about an archive that lies nowhere."""
    return descent_of(Opened(folder=Path(), archive=archive, left_out=left_out), about)


def ruled(one: str, other: str, ruling: str = "copy", why: str | None = "the same scratch") -> CopyPair:
    """A pair on which Mary Holt ruled on 3 October 2020."""
    return replace(
        a_pair(one, other, ruling), why_ruled=why, ruled_by="mh", ruled_date=a_date("2020-10-03"), why="alike by eye"
    )


def a_whole_family(words: str = "as it was") -> Archive:
    """A negative with prints and more, in which everything that can be said of a descent is said.

    Args:
        words: what stands wherever people may write what they like.
    """
    crop = a_source("part", of=["crop:print", "crop:negative"], created="1960", title=words)
    noted = tuple(replace(each, note=words) for each in crop.derives_from)
    return an_archive(
        a_source("negative", created="1934-07-21", title=words, files=(A_FILE,), creator=words, occasion=words),
        a_source("print", of=["print:negative"], created="1950~", within=Within(source="album")),
        replace(crop, derives_from=noted),
        a_source("round", "drawing", of=["redrawn:part", "redrawn:turn"], created="1970"),
        a_source("turn", "drawing", of=["redrawn:round"], created="1971"),
        a_source("tracing", "drawing", of=["redrawn:turn"], created="1972"),
        a_source("album", None, title=words),
        a_source("card", title=words),
        a_source("poster", "artwork"),
        a_source("twin", creator=words, occasion=words),
        ruled("negative", "print", why=words),
        replace(a_pair("card", "print"), why=words),
        ruled("poster", "print", why=words),
        ruled("negative", "twin", "distinct", why=words),
        a_component("headlamp", a_feature("type", "text", name=words), hazards=("asbestos",)),
        a_claim(words or "broad", an_item("tracing", page=3), an_item("part", "shows"), claim_id="gas"),
    )
