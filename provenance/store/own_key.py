"""A secret of one person on one machine, by which derived data that they made themselves are told from planted ones.

It lies where the XDG Base Directory Specification keeps state: `$XDG_STATE_HOME/provenance`, else
`~/.local/state/provenance`; never in an archive, since an archive is handed on.
"""

import os
import secrets
import stat
from contextlib import suppress
from pathlib import Path

_NAME = "own.key"
_LENGTH = 32
_OTHERS = stat.S_IRWXG | stat.S_IRWXO


def state_folder() -> Path:
    """Where this person's own state lies on this machine.

    Raises:
        RuntimeError: the system knows no home folder for them.
    """
    stated = os.environ.get("XDG_STATE_HOME", "")
    # A path that is not absolute is invalid and ignored: XDG Base Directory Specification 0.8, "Basics".
    root = Path(stated) if Path(stated).is_absolute() else Path.home() / ".local" / "state"
    return root / "provenance"


def own_key() -> bytes | None:
    """The secret, made when it is first asked for: 32 random bytes that nobody else may read.

    Returns:
        None where it cannot be kept, or others could have read or put it there.
    """
    try:
        folder = state_folder()
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        with suppress(FileExistsError):
            _make(folder)
        return _read(folder / _NAME)
    except (OSError, RuntimeError):
        return None


def _make(folder: Path) -> None:
    """Write a new secret beside its place and name it in one step, so that nobody ever reads half of one."""
    if os.path.lexists(folder / _NAME):
        return
    unfinished = folder / f"{_NAME}.{secrets.token_hex(8)}"
    descriptor = os.open(unfinished, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_NOFOLLOW | os.O_CLOEXEC, 0o600)
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(secrets.token_bytes(_LENGTH))
            file.flush()
            os.fsync(file.fileno())
        os.link(unfinished, folder / _NAME)
    finally:
        unfinished.unlink()


def _read(path: Path) -> bytes | None:
    descriptor = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC)
    with os.fdopen(descriptor, "rb") as file:
        facts = os.fstat(descriptor)
        is_ours = stat.S_ISREG(facts.st_mode) and facts.st_uid == os.geteuid() and not facts.st_mode & _OTHERS
        key = file.read(_LENGTH + 1) if is_ours else b""
    return key if len(key) == _LENGTH else None
