"""A source: the book, drawing, photograph, piece or person's account that evidence is taken from."""

from dataclasses import dataclass

from provenance.records.dates import EdtfDate
from provenance.records.kinds import Access, Derivation, KnownBy, Publish, SourceKind
from provenance.records.regions import PageRange, Region


@dataclass(frozen=True, slots=True, kw_only=True)
class Withdrawal:
    """Why a record no longer takes part in judgement, though it stays in sight."""

    why: str
    by: str
    date: EdtfDate


@dataclass(frozen=True, slots=True, kw_only=True)
class OriginalFile:
    """One file as received.

    Attributes:
        path: relative to the archive, with `/`.
        received_as: the name under which it came; None when it is the name in `path`.
        sha256: 64 hexadecimal digits of the bytes as received.
        size: in bytes.
        media_type: such as `application/pdf`.
        pages: how many; None for what has none, such as a recording, or cannot be counted.
    """

    path: str
    received_as: str | None = None
    sha256: str
    size: int
    media_type: str
    pages: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Within:
    """Where a source is kept inside another: an album, a bundle, a record office's PDF. No descent."""

    source: str
    pages: PageRange | None = None
    region: Region | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DerivesFrom:
    """That a source was made from another one, and how."""

    source: str
    how: Derivation
    note: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shows:
    """An individual machine that a source shows or speaks of.

    Attributes:
        example: its number; None when it is not known which.
        component: the component that this entry is about; None for the machine.
    """

    example: str | None = None
    when: EdtfDate | None = None
    known_by: KnownBy | None = None
    component: str | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Acquired:
    """How a source came to the team; `giver` (`from` in the record) never leaves the archive."""

    date: EdtfDate | None = None
    giver: str | None = None
    note: str | None = None
    received_as: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Loan:
    """A source that is somebody else's and goes back."""

    owner: str
    due: EdtfDate | None = None
    returned: EdtfDate | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Permission:
    """A permission to publish."""

    giver: str | None = None
    date: EdtfDate | None = None
    scope: tuple[str, ...] = ()
    until: EdtfDate | None = None
    file: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rights:
    """Whose rights a source is under, and what may be done with it."""

    statement: str | None = None
    holder: str | None = None
    credit: str | None = None
    publish: Publish | None = None
    permission: Permission | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One source.

    Attributes:
        kind: None until somebody has tagged it.
        created: when the thing was made, not the scan.
        origin_stated: whether a secondary account says where its facts come from; an absent field is False.
        executed: False for an unbuilt design; None when unknown or not said.
        process: `monochrome` or `colour`, of pictures; None when not said.
        altered: `retouched`, `censored`, `reversed` or `coloured`; None when not.
        reliability: `A` to `F` of AJP-2.1; None when not judged.
        replaces: the earlier issue that this one replaces.
        access: absent in the record is `team`.
        tagged: whether somebody has looked at it; an absent `state` is tagged where there is a kind.
    """

    id: str
    title: str
    by: str
    date: EdtfDate
    kind: SourceKind | None = None
    created: EdtfDate | None = None
    creator: str | None = None
    occasion: str | None = None
    holder: str | None = None
    place: str | None = None
    reference: str | None = None
    language: tuple[str, ...] = ()
    acquired: tuple[Acquired, ...] = ()
    loan: Loan | None = None
    files: tuple[OriginalFile, ...] = ()
    within: Within | None = None
    derives_from: tuple[DerivesFrom, ...] = ()
    origin_stated: bool = False
    issue: str | None = None
    replaces: str | None = None
    executed: bool | None = None
    process: str | None = None
    altered: str | None = None
    reliability: str | None = None
    reliability_why: str | None = None
    shows: tuple[Shows, ...] = ()
    rights: Rights | None = None
    access: Access = Access.TEAM
    access_until: EdtfDate | None = None
    hazards: tuple[str, ...] = ()
    topics: tuple[str, ...] = ()
    tagged: bool = False
    withdrawn: Withdrawal | None = None
    note: str | None = None

    @property
    def pages(self) -> int | None:
        """How many pages all its files have together; None where a file's pages cannot be counted or it has no file."""
        counts = [file.pages for file in self.files]
        known = [count for count in counts if count is not None]
        return sum(known) if known and len(known) == len(counts) else None
