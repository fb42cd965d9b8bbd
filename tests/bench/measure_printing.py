"""Documents printed: a dossier of eight pages, and a register of ten thousand rows; time, and memory of all processes.

The memory of a program is what its processes take together at the worst moment, looked at fifty times a second: the
pages that each holds alone and its share of those that it holds with others (Pss of smaps_rollup, proc(5)).
"""

import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from bench.figures import Figure, seconds

_ROWS = 10_000
_BETWEEN_LOOKS = 0.02
_SOUND = Path(__file__).parents[1] / "archives" / "sound"
_PRELUDE = """
import sys
from pathlib import Path
from provenance.reports.document import *
from provenance.tasks.opening import open_folder
from provenance.tasks.printing_documents import printed
opened = open_folder(Path(sys.argv[2]))
"""
_DOSSIER = """
said = words("The headlamp bracket was riveted to the cab front, as the letter says and the drawing shows. " * 5)
drawing = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="160mm" height="60mm" viewBox="0 0 160 60">'
    '<rect x="1" y="1" width="158" height="58" fill="none" stroke="black"/>'
    '<text x="8" y="20" font-size="5">the bracket</text></svg>'
)
picture = Picture(data=drawing.encode(), media_type="image/svg+xml", says="the bracket", width=160, height=60)
columns = tuple(Column(heading=each) for each in ("Source", "What it says", "Weight"))
rows = tuple((f"source {n}", "3 ft 4 1/2 in", str(n)) for n in range(20))
blocks = [Heading(text="The headlamp bracket", level=1)]
for number in range(8):
    blocks += [
        Heading(text=f"Feature {number}", level=2),
        Paragraph(words=said),
        Boxed(name="Lead", text="Old paint."),
        Quotation(text="We beg to say\\nthat it is of brass."),
        Figure(picture=picture, caption=words("It.")),
        Table(caption="Weights", columns=columns, rows=rows),
    ]
document = Document(title="Dossier", running="Dossier of the headlamp bracket", blocks=tuple(blocks))
"""
_REGISTER = """
headings = ("Number", "Title", "Kind", "Made", "Holder", "Reference", "Rights")
held = "Example Works Record Office"
rows = tuple(
    (str(n), f"Works drawing of the headlamp bracket, sheet {n}", "drawing", "June 1933", held, f"EX/{n % 400}/{n}",
     "In copyright; permission asked for")
    for n in range(ROWS)
)
table = Table(caption="All sources", columns=tuple(Column(heading=each) for each in headings), rows=rows)
blocks = (Heading(text="Register of sources", level=1), table)
document = Document(title="Register", running="Register of sources", blocks=blocks, lying=True)
"""
_WRITE = "Path(sys.argv[1]).write_bytes(printed(opened, document, 'pdf'))\n"


def measure(folder: Path) -> Iterator[Figure]:
    """Print each in a Python of its own, started anew; then the register once more, to compare its bytes."""
    dossier = _PRELUDE + _DOSSIER + _WRITE
    spent = seconds(lambda: _print(dossier, folder / "dossier.pdf"), times=3)
    yield Figure(name="a dossier of eight pages, PDF", value=spent, unit="s", promised=1.0)
    yield Figure(name="a dossier, pages", value=_pages(folder / "dossier.pdf"), unit="pages")
    peak = _peak(dossier, folder / "dossier.pdf")
    yield Figure(name="a dossier, all processes together", value=peak, unit="MB", promised=150.0)
    register = _PRELUDE + _REGISTER.replace("ROWS", str(_ROWS)) + _WRITE
    spent = seconds(lambda: _print(register, folder / "register.pdf"))
    yield Figure(name="a register of 10,000 rows of 7, PDF", value=spent, unit="s", promised=30.0)
    yield Figure(name="a register, pages", value=_pages(folder / "register.pdf"), unit="pages")
    size = (folder / "register.pdf").stat().st_size / 1e6
    yield Figure(name="a register, size of the file", value=size, unit="MB")
    peak = _peak(register, folder / "again.pdf")
    yield Figure(name="a register, all processes together", value=peak, unit="MB", promised=500.0)
    same = (folder / "register.pdf").read_bytes() == (folder / "again.pdf").read_bytes()
    yield Figure(name="a register, the same bytes twice", value=same, unit="share", promised=1.0, more_is_better=True)


def _command(program: str, output: Path) -> list[str]:
    return [sys.executable, "-c", program, str(output), str(_SOUND)]


def _print(program: str, output: Path) -> None:
    subprocess.run(_command(program, output), cwd=output.parent, check=True)


def _peak(program: str, output: Path) -> float:
    running = subprocess.Popen(_command(program, output), cwd=output.parent)
    most = 0.0
    while running.poll() is None:
        most = max(most, sum(map(_held, _family(running.pid))))
        time.sleep(_BETWEEN_LOOKS)
    if running.returncode:
        raise subprocess.CalledProcessError(running.returncode, running.args)
    return most


def _family(process: int) -> Iterator[int]:
    yield process
    for path in Path(f"/proc/{process}/task").glob("*/children"):
        try:
            children = path.read_text().split()
        except OSError:  # it has just ended
            continue
        for child in children:
            yield from _family(int(child))


def _held(process: int) -> float:
    """What a process holds, in MB; nothing where it has just ended."""
    try:
        lines = Path(f"/proc/{process}/smaps_rollup").read_text().splitlines()
    except OSError:
        return 0.0
    return sum(int(line.split()[1]) for line in lines if line.startswith("Pss:")) * 1024 / 1e6


def _pages(path: Path) -> int:
    import pypdfium2  # noqa: PLC0415  # so that no memory of it is counted in the programs that are started

    with pypdfium2.PdfDocument(path) as pdf:
        return len(pdf)
