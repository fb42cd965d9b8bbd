"""Sizes of a series as people write them: `16 SWG`, `3/0 S.W.G.`, `2 BA`, `1/4 in BSF`, `1/4-20 BSW`."""

import re
from fractions import Fraction

from provenance.records.gauges import GAUGES
from provenance.records.measure_errors import AmbiguousMeasureError, MeasureError
from provenance.records.sizes import Size, Thread
from provenance.records.threads import THREADS
from provenance.records.wording import quote

_NAMES = {
    "swg": "SWG",
    "isw": "SWG",
    "isw gauge": "SWG",
    "standard wire gauge": "SWG",
    "imperial standard wire gauge": "SWG",
    "bwg": "BWG",
    "birmingham wire gauge": "BWG",
    "awg": "AWG",
    "ba": "BA",
    "bsw": "BSW",
    "whit": "BSW",
    "whitworth": "BSW",
    "bsf": "BSF",
    "bsc": "BSC",
    "cei": "BSC",
}
_NO_TABLE = frozenset({"bsp", "gas", "unc", "unf", "unef", "npt", "bspt", "sae", "ansi", "me"})
_SERIES = "|".join(sorted((*_NAMES, *_NO_TABLE), key=lambda name: (-len(name), name)))
_SIZE = r"(?P<size>(?:[0-9]+[ .-])?[0-9]+/[0-9]+|[0-9]+)"
_BY_FRACTION = ("BSW", "BSF", "BSC")
_BEHIND = re.compile(
    rf"""(?:no\s?)?{_SIZE}\s?(?P<inch>inch|ins|in|")?
    (?:\s?(?:x|-|,)\s?(?P<tpi>[0-9]+(?:\.[0-9]+)?)\s?(?:tpi|threads\sper\sinch)?)?
    \s?(?P<series>{_SERIES})(?:\s(?:threads?|screws?|bolts?|wire|sheet))?""",
    re.VERBOSE,
)
_BEFORE = re.compile(rf'(?P<series>{_SERIES})\s?(?:no\s?)?{_SIZE}\s?(?P<inch>inch|ins|in|")?(?P<tpi>(?!))?')
_DOTS = re.compile(r"(?<=[a-z])\.")


def find_size(text: str, written: str) -> Size | None:
    """The size of a series that a text names; None where it names none.

    Args:
        text: in plain letters.
        written: the same as written, for messages.

    Raises:
        MeasureError: a series that has no such size, or whose sizes are not known here.
    """
    folded = _DOTS.sub("", text.casefold())
    found = _BEHIND.fullmatch(folded) or _BEFORE.fullmatch(folded)
    if found is None:
        return None
    if found["series"] in _NO_TABLE:
        raise MeasureError(
            f"the sizes of {found['series'].upper()} are not known here: {quote(written)}",
            "measure the diameter over the threads and write it with its unit, such as `13.2 mm`",
        )
    series = _NAMES[found["series"]]
    size = _gauge(series, found) if series in GAUGES else _thread(series, found, written)
    if size is None:
        first, *_, last = (GAUGES.get(series) or THREADS[series]).values()
        mend = f"write one of its sizes, which go from `{first.written}` to `{last.written}`"
        raise MeasureError(f"{quote(written)} is no size of {series}", mend)
    return size


def _gauge(series: str, found: re.Match[str]) -> Size | None:
    return None if found["inch"] or found["tpi"] else GAUGES[series].get(_gauge_name(found["size"]))


def _thread(series: str, found: re.Match[str], written: str) -> Thread | None:
    thread = THREADS[series].get(_size_name(found["size"]))
    if thread is None or ((found["inch"] or found["tpi"]) and series not in _BY_FRACTION):
        return None
    if found["tpi"] and thread.pitch * Fraction(found["tpi"]) != 1:
        what = f"{thread.written} has {float(1 / thread.pitch):g} threads to the inch"
        raise MeasureError(f"{quote(written)} contradicts itself: {what}", f"write `{thread.written}` or the diameter")
    return thread


def _gauge_name(size: str) -> str:
    """As the tables name it: `3/0` for `000`, `0` for `1/0`."""
    if len(size) > 1 and set(size) == {"0"}:
        return f"{len(size)}/0"
    return "0" if size == "1/0" else size


def _size_name(size: str) -> str:
    """As the tables name it: `1 1/8` for `1.1/8`, `1-1/8` and `9/8`."""
    whole, _, part = re.sub("[ .-]", " ", size).rpartition(" ")
    top, _, bottom = part.partition("/")
    if not bottom or not int(bottom):
        return size
    value = int(whole or 0) + Fraction(int(top), int(bottom))
    return " ".join(str(piece) for piece in (value // 1, value % 1) if piece)


def gauges_with(number: str) -> tuple[str, ...]:
    """The sizes of that number in all gauges that have it: `16 SWG`, `16 BWG`, `16 AWG`; none where none has."""
    name = _gauge_name(number)
    return tuple(sizes[name].written for sizes in GAUGES.values() if name in sizes)


def refuse_number_alone(number: str, written: str) -> MeasureError:
    """The refusal of a number of a series that is not named: `No. 8`."""
    names = (f"{number} BA", *gauges_with(number)) if number in THREADS["BA"] else gauges_with(number)
    note = "of a wood screw write the diameter, such as `4 mm`"
    if not names:
        return MeasureError(f"{quote(written)} is no size that is known here", "write the diameter, such as `4 mm`")
    return AmbiguousMeasureError(f"{quote(written)} does not say of which series", choices=names, note=note)


def refuse_gauge_alone(number: str, written: str, *, may_be_grams: bool = False) -> MeasureError:
    """The refusal of a gauge whose series is not named."""
    choices = gauges_with(number)
    if not choices:
        return MeasureError(f"{quote(written)} is no gauge that is known", "write the thickness, such as `1.6 mm`")
    grams = (f"{number} gram",) if may_be_grams else ()
    return AmbiguousMeasureError(f"{quote(written)} does not say of which gauge", choices=(*choices, *grams))


def refuse_thread_alone(size: str, tpi: str, written: str) -> MeasureError:
    """The refusal of a diameter that may be a thread, with the threads by inch where they are given, else empty."""
    size = size.lstrip("+- ")
    name = _size_name(size)
    threads = [THREADS[series][name] for series in _BY_FRACTION if name in THREADS[series]]
    fitting = [thread for thread in threads if tpi and thread.pitch * int(tpi) == 1] or threads
    if not fitting:
        return MeasureError(f"{quote(written)} has no unit", f"write it with its unit, such as `{size} in`")
    return AmbiguousMeasureError(
        f"{quote(written)} does not say whether a thread is meant, and which",
        choices=(f"{size} in", *(thread.written for thread in fitting)),
    )
