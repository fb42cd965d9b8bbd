"""Under which key a reading is kept, so that the same page is never read twice.

Whether a page has a text layer worth trusting is not known before it is looked at. So a reading is kept under a key
of the way in which it was made, and a page not yet read is looked up under each way that is possible for its kind:

    plain text      the format of readings alone; so are texts with times, under another key
    text layer      and the version of what reads text layers; neither languages nor recogniser matter to it
    recognised      and the recogniser's version, a digest of its data for the languages told, their order, the settings

A page of a given file goes one way only, for given versions, so that at most one of its keys is in use. On a machine
without the recogniser the last way is left out: whatever has a text layer is still found.
"""

import hashlib
import json
from dataclasses import asdict
from importlib.metadata import version

from provenance.errors import ToolMissingError
from provenance.pages.signatures import PICTURES
from provenance.reading.engine import data_digest, recogniser
from provenance.reading.languages import data_names
from provenance.reading.settings import READING_FORMAT, ReadingSettings
from provenance.records.readings import Origin
from provenance.records.recordings import SUBRIP, WEBVTT

_KEY_LENGTH = 16
_WAYS = {
    "application/pdf": (Origin.TEXT_LAYER, Origin.RECOGNISED),
    **dict.fromkeys(PICTURES, (Origin.RECOGNISED,)),
    "text/plain": (Origin.PLAIN_TEXT,),
    "text/markdown": (Origin.PLAIN_TEXT,),
    WEBVTT: (Origin.TIMED_TEXT,),
    SUBRIP: (Origin.TIMED_TEXT,),
}


def possible_keys(media_type: str, languages: tuple[str, ...], settings: ReadingSettings) -> tuple[str, ...]:
    """Give the keys under which a reading of a page may be kept, to be looked up in turn.

    Args:
        media_type: of the page's file.
        languages: BCP 47 tags that the recogniser is told; empty for its default.
        settings: of this run.

    Returns:
        Empty for a kind that is not read; without the key of recognition where the recogniser, or its data for these
        languages, are not installed.
    """
    keys = []
    for way in _WAYS.get(media_type, ()):
        try:
            keys.append(reading_key(way, languages, settings))
        except ToolMissingError:  # whoever reads such a page is told; looking up is no reason to stop
            continue
    return tuple(keys)


def reading_key(origin: Origin, languages: tuple[str, ...], settings: ReadingSettings) -> str:
    """Give the key under which a reading that was made this way is kept: 16 hexadecimal digits.

    Raises:
        ToolMissingError: a recognised page, and no recogniser or no data for its languages.
    """
    facts = {"format": READING_FORMAT, "way": origin.value, **_facts_of_way(origin, languages, settings)}
    return hashlib.sha256(json.dumps(facts, sort_keys=True).encode()).hexdigest()[:_KEY_LENGTH]


def _facts_of_way(origin: Origin, languages: tuple[str, ...], settings: ReadingSettings) -> dict[str, object]:
    if origin is Origin.TEXT_LAYER:
        return {"engine": f"pdfplumber {version('pdfplumber')}"}
    if origin is Origin.RECOGNISED:
        names = data_names(languages, recogniser().languages)
        return {
            "engine": recogniser().name,
            "languages": names,
            "data": data_digest(names),
            "settings": asdict(settings),
        }
    return {}
