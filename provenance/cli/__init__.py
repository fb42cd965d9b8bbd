"""The command line: thin; it reads options, calls one task, prints its report, and sets the exit code."""

from provenance.cli.adding import add
from provenance.cli.amending import rename, withdraw
from provenance.cli.asking import evidence, flags, search
from provenance.cli.completing import HOW_TO
from provenance.cli.copying import copies
from provenance.cli.deciding import decide, made, query, used
from provenance.cli.descending import descent
from provenance.cli.finding import finds, split
from provenance.cli.keeping import check, ingest, new, rebuild, upgrade
from provenance.cli.looking import signs
from provenance.cli.looking_next import look_next
from provenance.cli.printing import appendix
from provenance.cli.recording import claim, tag
from provenance.cli.registers import register
from provenance.cli.serving import serve
from provenance.cli.shell import main

for _command in (
    new,
    add,
    ingest,
    finds,
    split,
    tag,
    claim,
    search,
    evidence,
    serve,
    flags,
    look_next,
    signs,
    descent,
    copies,
    decide,
    made,
    query,
    used,
    appendix,
    register,
    withdraw,
    rename,
    check,
    rebuild,
    upgrade,
):
    main.add_command(_command)
main.epilog = HOW_TO

__all__ = ["main"]
