"""The region that a form carries: as one value, or as the four figures of a page whose script does not run."""

from collections.abc import Mapping

from provenance.errors import UsageRefusedError

_SIDES = {"x": "how far from the left", "y": "how far from the top", "w": "how wide", "h": "how high"}


def region_of(form: Mapping[str, str], name: str = "region") -> str | None:
    """The region as it is written in a record, such as `percent:12.5,40,30,8`; None where none was given.

    Whether it is one is left to whoever writes it down.

    Args:
        form: what was sent: `name`, or `name-x`, `name-y`, `name-w` and `name-h`.
        name: of the field.

    Raises:
        UsageRefusedError: some of the four figures are missing.
    """
    whole = form.get(name, "").strip()
    if whole:
        return whole
    four = {side: form.get(f"{name}-{side}", "").strip().replace(",", ".") for side in _SIDES}
    if not any(four.values()):
        return None
    missing = [words for side, words in _SIDES.items() if not four[side]]
    if missing:
        raise UsageRefusedError(
            f"the {name} is half given: it does not say {' and '.join(missing)}",
            "give all four figures, or none of them",
        )
    return "percent:" + ",".join(four.values())
