"""Text of people's that cannot be read as what it should be."""

import unicodedata

_LONGEST_SHOWN = 60


class WordingError(ValueError):
    """Text that is not what is due in its place, or says what cannot be.

    Attributes:
        what: one sentence; what is wrong, with the offending text in it. Also the text of the exception.
        mend: one sentence; what to write instead.
    """

    def __init__(self, what: str, mend: str = "") -> None:
        """Name what is wrong, and the mend."""
        super().__init__(what)
        self.what = what
        self.mend = mend


def quote(text: str) -> str:
    """Quote a text in a message, on one line: control characters escaped, the end of a long one left out."""
    shown = text[:_LONGEST_SHOWN] + ("…" if len(text) > _LONGEST_SHOWN else "")
    return "`" + "".join(letter if letter.isprintable() else repr(letter)[1:-1] for letter in shown) + "`"


def fold_wording(text: str) -> str:
    """Bring wordings that differ only in Unicode form (NFKC), case and white space to one form."""
    return " ".join(unicodedata.normalize("NFKC", text).casefold().split())
