"""Make the sample's originals: `PYTHONPATH=tests python -m sample --faces FOLDER` from the repository's top.

The records beside them are written by hand. Where a file changes, its SHA-256 in the record has to follow.
"""

import argparse
import hashlib
from pathlib import Path

from sample.faces import Faces
from sample.originals import make_originals

_HERE = Path(__file__).resolve().parent


def main() -> None:
    """Write every original under sample_archive, and the true text of the handbook beside this module."""
    parser = argparse.ArgumentParser(description="Make the originals of the sample archive.")
    parser.add_argument("--faces", type=Path, required=True, help="folder in which the typefaces were installed")
    parser.add_argument("--to", type=Path, default=_HERE.parent.parent / "sample_archive", help="where to write")
    given = parser.parse_args()
    for name, content in make_originals(Faces(folder=given.faces)):
        digest = hashlib.sha256(content).hexdigest()
        placed = name.replace("SCAN", f"scan0042-{digest[:8]}")
        path = (_HERE if name.startswith("truth/") else given.to) / placed
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
        print(f"{digest} {len(content):>8} {placed}")


if __name__ == "__main__":
    main()
