"""What is said of text that is no figure to be read: what is wrong, and what to write instead."""

import re

from provenance.records.figures import NUMBER
from provenance.records.measure_errors import MeasureError
from provenance.records.series import refuse_gauge_alone, refuse_number_alone, refuse_thread_alone
from provenance.records.units import Unit, unknown_unit
from provenance.records.wording import quote

_FIGURE = r"[0-9]+(?:[.,][0-9]+)?(?:\s[0-9]+/[0-9]+|/[0-9]+)?"
_UNCERTAIN = "write the figure alone, and how far it may be off as `uncertainty`, such as `uncertainty: 1/4 in`"
_GAUGE = re.compile(
    r"(?:no\.?\s?)?(?P<number>[0-9]+(?:/0)?)\s?(?:gauge|gage|ga\.?|g\.?)|gauge\s(?:no\.?\s?)?(?P<after>[0-9]+)",
    re.IGNORECASE,
)
_NUMBERED = re.compile(r"(?:no\.?|nos\.?|number|#)\s?(?P<number>[0-9]+)(?:\s(?:screw|wire|bolt)s?)?", re.IGNORECASE)
_THREAD = re.compile(r"(?P<size>(?:[0-9]+[ -])?[0-9]+/[0-9]+)\s?(?:in|\")?\s?[-x]\s?(?P<tpi>[0-9]{1,3})(?:\stpi)?")
_METRIC_THREAD = re.compile(r"m\s?[0-9]+(?:\.[0-9]+)?(?:\s?x\s?[0-9.]+)?", re.IGNORECASE)
_RANGE = re.compile(rf"(?:from\s|between\s)?{_FIGURE}[^0-9]*?\s?(?:-|to|\.\.+|or|and)\s?{_FIGURE}.*", re.IGNORECASE)
_SEVERAL = re.compile(rf"{_FIGURE}[^0-9]*?\s?(?:x|by)\s?{_FIGURE}.*", re.IGNORECASE)
_ABOUT = re.compile(
    r"(?:about|abt|approx|approximately|circa|c|ca|nearly|roughly|say|some|around|est|estimated|almost)\b.*"
    r"|[~≈≃].*|.*\b(?:approx|approximately|or so|about|circa|est|estimated)\.?",
    re.IGNORECASE,
)
_LIMIT = re.compile(
    r"(?:max|min|maximum|minimum|over|under|at\sleast|at\smost|up\sto|not\s(?:less|more)\sthan|[<>≤≥])\b.*|[<>≤≥].*"
    r"|.*\s(?:max|min|maximum|minimum)\.?",
    re.IGNORECASE,
)
_DRAUGHTSMAN = re.compile(r".*\b(?:bare|full|scant|barely|good)\.?", re.IGNORECASE)
_STARTS = re.compile(rf"{NUMBER}\s?(?P<unit>[^0-9].*)", re.VERBOSE)
_DOUBTFUL = re.compile(r".*\?|.*\[.*", re.DOTALL)


def refuse_bare(text: str, written: str, unit: Unit | None) -> MeasureError:
    """The refusal of a figure without a unit, with the feature's own as the example."""
    if "/" in text and (unit is None or unit.dimension == "length"):
        return refuse_thread_alone(text, "", written)
    example = f"{text} {unit.id}" if unit is not None else f"{text} mm` or `{text} in"
    return MeasureError(f"{quote(written)} has no unit", f"write the unit of the source, such as `{example}`")


def refuse_text(text: str, written: str, unit: Unit | None) -> MeasureError:
    """The refusal of text that none of the ways of reading a figure fits."""
    if not text:
        return MeasureError("there is no figure", "write a figure with its unit, such as `1029 mm`")
    ambiguous = _ambiguous(text, written)
    if ambiguous is not None:
        return ambiguous
    if "±" in text or "+/-" in text or "+-" in text:
        return MeasureError(f"{quote(written)} holds more than a figure", _UNCERTAIN)
    for pattern, what, mend in _REASONS:
        if pattern.fullmatch(text):
            return MeasureError(f"{quote(written)} {what}", mend)
    return _unknown_unit(text, written, unit)


_REASONS: tuple[tuple[re.Pattern[str], str, str], ...] = (
    (_ABOUT, "is a figure with a doubt", _UNCERTAIN),
    (
        _DRAUGHTSMAN,
        "is a draughtsman's word for a little less or more",
        "write the figure alone, with `uncertainty`, such as `uncertainty: 1/64 in`; the word belongs in `quote`",
    ),
    (
        _LIMIT,
        "is a limit, and no figure",
        "write the figure that was made or measured; a limit of a drawing stands in `quote` and `reasoning`",
    ),
    (
        _RANGE,
        "is a range",
        "write its middle, and half of its width as `uncertainty`: of 10 to 12 mm `11 mm` and `uncertainty: 1 mm`",
    ),
    (_SEVERAL, "holds several figures", "each is a feature of its own: write one claim for each"),
    (
        _DOUBTFUL,
        "is a figure that could not be read for certain",
        "write the figure that is most likely, and `legibility: doubtful` at the evidence",
    ),
    (
        _METRIC_THREAD,
        "is a metric thread, whose sizes are not known here",
        "write the diameter over the thread with its unit, such as `6 mm`",
    ),
)


def _ambiguous(text: str, written: str) -> MeasureError | None:
    gauge = _GAUGE.fullmatch(text)
    if gauge is not None:
        return refuse_gauge_alone(gauge["number"] or gauge["after"], written)
    numbered = _NUMBERED.fullmatch(text)
    if numbered is not None:
        return refuse_number_alone(numbered["number"], written)
    thread = _THREAD.fullmatch(text)
    if thread is not None:
        return refuse_thread_alone(thread["size"], thread["tpi"], written)
    return None


def _unknown_unit(text: str, written: str, unit: Unit | None) -> MeasureError:
    example = f"`1029 {unit.id}`" if unit is not None else "`1029 mm` or `3 ft 4 1/2 in`"
    found = _STARTS.fullmatch(text)
    if found is None:
        return MeasureError(f"{quote(written)} is no figure that can be read", f"write it such as {example}")
    error = unknown_unit(found["unit"])
    return MeasureError(f"{quote(written)} is no figure that can be read: {error.what}", error.mend)
