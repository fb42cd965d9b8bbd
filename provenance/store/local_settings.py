"""The settings of one person on one machine: `.provenance.local.yaml`, git-ignored."""

from collections.abc import Mapping
from pathlib import Path

from provenance.errors import UsageRefusedError
from provenance.store.yaml_text import Document, read_yaml

LOCAL_SETTINGS = ".provenance.local.yaml"


def read_local_settings(folder: Path) -> Mapping[str, str]:
    """Read the settings that are plain text, such as `by`; empty where there is no such file.

    Raises:
        UsageRefusedError: the file is no sound YAML.
    """
    path = folder / LOCAL_SETTINGS
    if not path.is_file():
        return {}
    document = read_yaml(path.read_bytes(), LOCAL_SETTINGS)
    if not isinstance(document, Document):
        raise UsageRefusedError(f"{document[0].place}: {document[0].what}", document[0].mend)
    return {key: value for key, value in document.content.items() if isinstance(value, str)}
