"""How well a value is supported, and how near a piece of evidence comes to the machine represented."""

from enum import StrEnum


class Grade(StrEnum):
    """How well a value is supported, as people read it."""

    ESTABLISHED = "established"
    PROBABLE = "probable"
    POSSIBLE = "possible"
    UNCORROBORATED = "uncorroborated"
    INFERRED = "inferred"
    CONTESTED = "contested"
    UNSUPPORTED = "unsupported"
    OUTWEIGHED = "outweighed"


STRENGTH = (
    Grade.UNSUPPORTED,
    Grade.CONTESTED,
    Grade.INFERRED,
    Grade.UNCORROBORATED,
    Grade.POSSIBLE,
    Grade.PROBABLE,
    Grade.ESTABLISHED,
)
"""The grades of a best value from the weakest; a grade is lifted where it comes to stand further on."""


class Category(StrEnum):
    """How near an item comes to the machine that is represented, the nearest first."""

    ITSELF = "itself"
    COVERED = "covered"
    SAME_BATCH = "same-batch"
    SAME_TYPE = "same-type"
    RELATED_TYPE = "related-type"
    OTHER_TIME = "other-time"
    UNKNOWN = "unknown"

    @property
    def words(self) -> str:
        """The category in the people's words."""
        return _CATEGORY_WORDS[self]


_CATEGORY_WORDS = {
    Category.ITSELF: "this machine",
    Category.COVERED: "said of a group with it",
    Category.SAME_BATCH: "a sister of its batch",
    Category.SAME_TYPE: "another of the type",
    Category.RELATED_TYPE: "a related type",
    Category.OTHER_TIME: "another time",
    Category.UNKNOWN: "not known which machine",
}
