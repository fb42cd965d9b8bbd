"""Name what a mistyped name may have meant."""

from collections.abc import Iterable
from difflib import get_close_matches


def nearest_mend(name: str, known: Iterable[str], listing: str) -> str:
    """A mend for an unknown name: the nearest known ones, else where to look them up.

    Args:
        name: as typed.
        known: the names that there are.
        listing: what to do where none is near, such as "look in the folder `components`".
    """
    near = get_close_matches(name, list(known), n=3, cutoff=0.5)
    return f"did you mean {' or '.join(f'`{match}`' for match in near)}?" if near else listing
