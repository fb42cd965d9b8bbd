"""Evidence behind each fitting of a reproduced machine: kept, found again, weighed."""

from typing import Any

__version__ = "0.1.0"
__all__ = ["__version__", "open_archive"]


def __getattr__(name: str) -> Any:
    """Bring `open_archive` when it is first asked for, so that importing the package stays quick."""
    if name != "open_archive":
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from provenance.tasks.python_door import open_archive  # noqa: PLC0415  quick to import, see above

    return open_archive
