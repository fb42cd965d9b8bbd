"""What was typed into several fields of a page, put together as an option of a command takes it."""

import re
from collections.abc import Mapping

from provenance.errors import UsageRefusedError
from provenance.records.wording import quote

_KEY_INSIDE = re.compile(r",\s*[a-z_]+=")


def typed_pairs(option: str, fields: Mapping[str, str | None]) -> str | None:
    """Put fields together as `KEY=VALUE,…`; empty ones are left out.

    Args:
        option: that takes them, such as `--shows`, for messages.
        fields: what was typed, by key.

    Returns:
        What the option takes; None where every field is empty.

    Raises:
        UsageRefusedError: what was typed into a field would be read as another one.
    """
    filled = {key: value.strip() for key, value in fields.items() if value and value.strip()}
    for key, value in filled.items():
        if _KEY_INSIDE.search(value):
            raise UsageRefusedError(
                f"{option} {key}: {quote(value)} cannot be kept as it stands",
                "write it without a comma before a word that an equals sign follows",
            )
    return ",".join(f"{key}={value}" for key, value in filled.items()) or None
