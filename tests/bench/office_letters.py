"""Letters of an office of our own invention: one head, one opening and one close, each with a matter of its own."""

import random
from collections.abc import Sequence

HEAD = (
    "Harrowdale Light Railway Company. Locomotive, Carriage and Wagon Department, Station Road, Harrowdale. "
    "All communications to be addressed to the Superintendent and not to individual officers. In your reply quote"
)
OPENING = (
    "Dear Sirs, I beg to acknowledge the receipt of your esteemed letter, the contents of which have been laid before "
    "the committee and have had our careful attention. I am desired to say that"
)
CLOSE = (
    "Trusting that this will be found in order, and assuring you of our best attention at all times, I have the honour "
    "to be, Sirs, your obedient servant, for and on behalf of the Superintendent."
)


def office_letters(bodies: Sequence[str], draw: random.Random, words: int = 110) -> list[str]:
    """One letter for each body, of which so many words are taken, under a number of its own."""
    letters = []
    for body in bodies:
        taken = body.split()
        start = draw.randrange(len(taken) - words + 1)
        number = f"{draw.randint(100, 9999)}/{draw.randint(1, 31)}/{draw.randint(1, 12)}"
        letters.append(f"{HEAD} {number}. {OPENING} {' '.join(taken[start : start + words])} {CLOSE}")
    return letters
