"""The sample archive with what a team enters beside it, so that every kind of page has something to show."""

import shutil
from pathlib import Path

SPOKEN = """WEBVTT

NOTE
by: pa
date: 2024-02-05

00:00:00.000 --> 00:00:01.000
<v Interviewer>Can you hear me?

00:00:01.000 --> 00:00:02.000
<v Edith Marrowby>I sold the tickets at Carrowsea.
"""

PANEL = """title: How the roof of No. 9 was aired
statements:
  - {text: "The ventilators were of the torpedo pattern.", features: [roof-ventilator/pattern]}
components: [roof-ventilator]
by: mh
date: 2024-06-02
"""


def a_sample_at_work(prepared: Path, scratch: Path) -> Path:
    """Copy the sample; what is said on its recording is written down, and a piece that was made has a photograph.

    Args:
        prepared: the sample with its pages read.
        scratch: a folder for the copy.

    Returns:
        The copy. A panel on the ventilators is in it too, which cannot be printed: for a picture of one a permission is
        wanted.
    """
    folder = Path(shutil.copytree(prepared, scratch / "archive"))
    transcript = folder / "transcripts" / "oral-marrowby-1969" / "t01.vtt"
    transcript.parent.mkdir()
    transcript.write_text(SPOKEN, encoding="utf-8")
    (folder / "panels/ventilators.yaml").write_text(PANEL, encoding="utf-8")
    photograph = "\n    photo: print-carrowsea-second"
    _change(folder / "decisions/end-window-opening.yaml", "fits: badly", f"fits: badly{photograph}")
    _change(folder / "sources/ventilator-no11.yaml", "publish: allowed", "publish: ask")
    return folder


def _change(record: Path, before: str, after: str) -> None:
    text = record.read_text(encoding="utf-8")
    assert text.count(before) == 1, record
    record.write_text(text.replace(before, after), encoding="utf-8")
