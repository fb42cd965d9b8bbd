"""Rights statements in words: the twelve of rightsstatements.org, version 1.0.

The codes and labels are written from memory of the published vocabulary (https://rightsstatements.org/page/1.0/), and
so is the form of a statement's address (http://rightsstatements.org/vocab/InC/1.0/), which people paste for its code.
What is none of them, such as the code of a licence, is printed as it is written.
"""

import re

STATEMENTS = {
    "CNE": "Copyright Not Evaluated",
    "InC": "In Copyright",
    "InC-EDU": "In Copyright - Educational Use Permitted",
    "InC-NC": "In Copyright - Non-Commercial Use Permitted",
    "InC-OW-EU": "In Copyright - EU Orphan Work",
    "InC-RUU": "In Copyright - Rights-holder(s) Unlocatable or Unidentifiable",
    "NKC": "No Known Copyright",
    "NoC-CR": "No Copyright - Contractual Restrictions",
    "NoC-NC": "No Copyright - Non-Commercial Use Only",
    "NoC-OKLR": "No Copyright - Other Known Legal Restrictions",
    "NoC-US": "No Copyright - United States",
    "UND": "Copyright Undetermined",
}
"""Each code with its label."""


_ADDRESS = re.compile(r"https?://rightsstatements\.org/(?:vocab|page)/([A-Za-z-]+)/1\.0/?")


def statement_words(statement: str) -> str:
    """A rights statement as it is printed: for a code or an address its label with the code, else as written."""
    address = _ADDRESS.fullmatch(statement)
    code = address[1] if address else statement
    label = STATEMENTS.get(code)
    return f"{label} ({code})" if label else statement
