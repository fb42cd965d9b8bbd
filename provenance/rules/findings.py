"""What disk knows and judgement is told.

Pages not read, recordings not transcribed, words read doubtfully, files not as they were received.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class UnreadPage:
    """A page that could not be read, or only in part.

    Attributes:
        page: counted from 1, running on over the files of the source; None for the source as a whole.
        why: in words.
        is_in_part: whether something of it was read.
    """

    source: str
    page: int | None
    why: str
    is_in_part: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Untranscribed:
    """A recording of which nobody has written down what is said.

    Attributes:
        recording: the name of its file.
        transcript: where the transcript is looked for, relative to the archive.
    """

    source: str
    recording: str
    transcript: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DoubtfulWords:
    """The words of one page that the reader was not sure of; pages count from 1."""

    source: str
    page: int
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FixityFault:
    """A file that is not as it was received: its path in the archive, and what is wrong, in words."""

    source: str
    path: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Findings:
    """What was looked for on disk and found; None for what was not looked for, empty for what was not found."""

    unread: tuple[UnreadPage, ...] | None = None
    untranscribed: tuple[Untranscribed, ...] | None = None
    doubtful: tuple[DoubtfulWords, ...] | None = None
    fixity: tuple[FixityFault, ...] | None = None

    @property
    def not_looked_for(self) -> tuple[str, ...]:
        """One sentence for each thing that was not looked for; never to be passed over in silence."""
        looked = (
            (self.unread, "Pages that could not be read were not looked for."),
            (self.untranscribed, "Recordings without a transcript were not looked for."),
            (self.doubtful, "Words read doubtfully were not looked for."),
            (self.fixity, "Files that are not as they were received were not looked for."),
        )
        return tuple(sentence for found, sentence in looked if found is None)
