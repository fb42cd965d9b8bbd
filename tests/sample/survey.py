"""The survey of the body of No. 11: three pages written on a computer, and the field sheet as a scan."""

from PIL import ImageFont

from sample.faces import Faces
from sample.pdf_writing import Page, Words

_A4 = (595.0, 842.0)
_LEFT = 72.0

_FIRST = (
    ("h", "Survey of the body of rail car No. 11"),
    ("i", "Lower Orlaby Farm, 10 and 11 August 2019. Rail Car Nine Group, report 4."),
    ("h2", "1. What was found"),
    (
        "p",
        (
            "The body stands on railway sleepers behind the cattle shed and was used as a hen house until about "
            "1990. The number 11 is stamped "
            "on the end of the leading headstock and on the inside of both door posts. Floor, seats and glass are "
            "gone. The roof is under a "
            "sheet of corrugated iron that was nailed on before 1950, and what lies below it is in good order."
        ),
    ),
    (
        "p",
        (
            "The frame and the wheels are not there. Heights from the rail cannot be measured directly; they were "
            "taken from the underside of "
            "the headstock, whose height above the rail is known from the works drawing of the underframe."
        ),
    ),
    ("h2", "2. How it was measured"),
    (
        "p",
        (
            "Steel tape, each figure taken three times by two people, mean rounded to the nearest sixteenth of an "
            "inch. The body was levelled "
            "with jacks first. The field sheet is the last page of this report."
        ),
    ),
)
_SECOND = (
    ("h2", "3. Measurements"),
    ("p", "All are taken on the leading end, looking at the car. Heights are given above the top of the rail."),
    ("t", ("Part", "What was measured", "Result")),
    ("t", ("H-205", "Lamp bracket, centre of lamp", "3 ft 4 1/2 in")),
    ("t", ("H-205", "Lamp bracket, from centre line of car", "2 ft 0 in")),
    ("t", ("H-224", "Conduit, outside diameter", "1 1/16 in")),
    ("t", ("H-225", "Clips, distance apart", "1 ft 6 in")),
    ("t", ("H-231", "Ventilator, length over all", "1 ft 7 1/4 in")),
    ("t", ("H-241", "End window, width of opening", "1 ft 7 3/4 in")),
    ("h2", "4. Ventilators"),
    (
        "p",
        (
            "Four ventilators of the torpedo pattern were found in place below the iron sheet. One was taken off "
            "with the owner's leave and is "
            "in the Group's store. The other three were covered again."
        ),
    ),
)
_THIRD = (
    ("h2", "5. What this does and does not show"),
    (
        "p",
        (
            "No. 11 was built in the same batch as No. 9 and within the same three months. What is found here was "
            "fitted to No. 11; that No. 9 "
            "had the same is likely but is not shown by this survey."
        ),
    ),
    (
        "p",
        (
            "The body had been painted at least four times on the farm. No paint that could be railway paint was "
            "found on the panels that were "
            "scraped. No trace of the floor covering was found."
        ),
    ),
    ("h2", "6. Thanks"),
    (
        "p",
        (
            "The Group thanks the owner, who has kept the sheet on the roof for thirty years and asks only that the "
            "hens "
            "be left in peace."
        ),
    ),
)


def _widths(faces: Faces) -> ImageFont.FreeTypeFont:
    return faces.find("plain", 105)


def _wrapped(text: str, face: ImageFont.FreeTypeFont, room: float) -> list[str]:
    rows = [""]
    for word in text.split():
        longer = f"{rows[-1]} {word}".strip()
        if rows[-1] and face.getlength(longer) / 10 > room:
            rows.append(word)
        else:
            rows[-1] = longer
    return rows


def _page(blocks: tuple[tuple[str, str | tuple[str, ...]], ...], number: int, faces: Faces) -> Page:
    face, up = _widths(faces), 760.0
    words: list[Words] = []
    rules: list[tuple[float, float, float, float]] = []
    for kind, text in blocks:
        if isinstance(text, tuple):
            head = text[0] == "Part"
            words += [
                Words(left=left, up=up, text=cell, face=int(head))
                for left, cell in zip((_LEFT, 150, 400), text, strict=True)
            ]
            rules.append((_LEFT, up - 5, 523, up - 5))
            up -= 19
            continue
        size = {"h": 18.0, "h2": 13.0}.get(kind, 10.5)
        up -= 14 if kind == "h2" else 0
        for row in _wrapped(text, face, 451 * 10.5 / size):
            words.append(Words(left=_LEFT, up=up, text=row, face={"h": 1, "h2": 1, "i": 3}.get(kind, 0), size=size))
            up -= size * 1.4
        up -= 8
    words.append(Words(left=290, up=40, text=str(number), size=9))
    return Page(size=_A4, words=tuple(words), rules=tuple(rules))


def survey_pages(faces: Faces, field_sheet: bytes) -> tuple[Page, ...]:
    """Lay out the report; the field sheet is JPEG bytes and becomes the fourth page."""
    made = tuple(_page(blocks, number, faces) for number, blocks in enumerate((_FIRST, _SECOND, _THIRD), 1))
    return (*made, Page(size=_A4, scan=field_sheet))


FIELD_SHEET = (
    "FIELD SHEET 2.        BODY OF CAR 11.     10 Aug 2019",
    "",
    "Tape no. 3, checked against steel rule, no error.",
    "",
    "Lamp bracket to underside of headstock:",
    "     first    2 ft 1 1/2 in",
    "     second   2 ft 1 7/16 in",
    "     third    2 ft 1 1/2 in",
    "",
    "Headstock above rail (drawing):  1 ft 3 in",
    "Sum:  3 ft 4 1/2 in",
    "",
    "Ventilators: 4, torpedo, all in place.",
    "Number 11 on headstock, stamped, 1 1/4 in high.",
    "",
    "M. Haldersby, T. Wenlark",
)
