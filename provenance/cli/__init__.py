"""The command line: thin; it reads options, calls one task, prints its report, and sets the exit code."""

from provenance.cli.asking import evidence, flags, search
from provenance.cli.keeping import check, ingest, new, rebuild, upgrade
from provenance.cli.shell import main

for _command in (new, ingest, search, evidence, flags, check, rebuild, upgrade):
    main.add_command(_command)

__all__ = ["main"]
