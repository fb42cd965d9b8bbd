"""What tasks say in the words of the commands and of the records, said in the words of a page.

Tasks name options (`--applies-to`), fields of records (`evidence[0].at.region`), commands and ids. Whoever is at a page
sees fields with labels, buttons, names and titles instead.
"""

import re
from collections.abc import Mapping

from provenance.records.archive import Archive
from provenance.records.kinds import How
from provenance.reports.date_words import date_words
from provenance.web.naming import named

Labels = Mapping[str, str]
"""What fields and values are called on a page, by what the commands and the records call them."""

HOW: Mapping[str, str] = {
    How.MEASURED: "measured on the thing itself",
    How.SHOWS: "shown by a picture or a piece",
    How.STATES: "stated in words or figures",
    How.IMPLIES: "only implied",
    How.ANALOGY: "by analogy with something else",
}
"""How a source says something, as people choose it and are told of it."""

_EVERYWHERE: Labels = {
    "applies_to": "What it covers",
    "basis": "What it rests on",
    "how": "How it says so",
    "why": "Why",
}
"""Of fields that are named on the page after a form, too."""

# Not behind a letter or a figure: the two ids in the name of a pair of copies are joined by two hyphens.
_OPTION = re.compile(r"(?<![a-z0-9])(?P<mark>`)?--(?P<name>[a-z][a-z-]*)(?: [A-Z…][A-Z…,=]*)?(?(mark)(?P<more>[^`]*)`)")
_COMMANDS = (
    (re.compile(r"`provenance add [^`]*`"), "“Add to the records”"),
    (re.compile(r"`provenance tag [^`]*--transcript[^`]*`"), "“Correct the reading”, on the page of that page"),
    (re.compile(r"`provenance tag [^`]*`"), "“Tag it”, on the page of the source"),
    (re.compile(r"`provenance copies [^`]*`"), "“Seen before?”"),
    (re.compile(r"`provenance ingest[^`]*`"), "“Receive finds”"),
    (re.compile(r"`provenance evidence ([^`]*)`"), r"the page of \1"),
)
_TAKEN = re.compile(r"(?<=^Taken as )`(?P<how>[a-z]+)`")
_NOTHING = re.compile(r"there is no (?P<what>[a-z][a-z, ]*) ``")
_FLAG = re.compile(r" ?\([a-z]+(?:-[a-z]+)+; mend: (?P<mend>.*?)\.?\)$")
_BUILT_BEFORE = re.compile(r"(?<=which was in force) \(build “[^”]*”\)")
_DECIDED = re.compile(r"(?<=ecided on it: )[^;]+|(?<=ade already, after )[^;]+|(?<=It replaces )[a-z0-9-]+")
_ID = re.compile(r"[a-z0-9][a-z0-9-]*")
_MARKED = re.compile(r"`(?P<word>[^`]*)`")
_STEP = r"[a-z][a-z_]*(?:\[[0-9]+\])?"
_PLACE = re.compile(rf"(?P<begin>^|; )(?:[a-z]+/[a-z0-9-]+\.yaml: )?(?P<path>{_STEP}(?:\.{_STEP})*): ")
_NO_VALUE = re.compile(r"^[a-z]+/[a-z0-9-]+\.yaml: there is no value for (?P<name>[a-z_]+)$")
_NO_ID = re.compile(r"(?P<begin>^`[^`]*` is no )id(?=: )")
_MISSING = re.compile(r"(?P<label>“[^”]*”): `[a-z_]+` is missing")
_LINE_TO_ADD = re.compile(r"add `[a-z_]+: …`: ")
_LINE = re.compile(r"`[a-z_]+: (?P<value>[^`]+)`")


def page_words(text: str, archive: Archive, labels: Labels) -> str:
    """A sentence of a task, with the fields, places and names of the pages.

    Args:
        text: as the task says it.
        archive: where the names of records are.
        labels: of the page on which it is said.
    """
    for command, words in _COMMANDS:
        text = command.sub(words, text)
    text = _OPTION.sub(lambda found: _field(found["name"], (found["more"] or "").strip(), labels), text)
    text = _TAKEN.sub(lambda found: f"“{HOW.get(found['how'], found['how'])}”", text)
    text = _NOTHING.sub(r"it is not said which \g<what> is meant", text)
    text = _FLAG.sub(lambda found: f" What to do: {found['mend']}.", text)
    text = _BUILT_BEFORE.sub("", text)
    text = _DECIDED.sub(lambda found: _decisions_called(found[0], archive), text)
    text = named(text, archive).replace("the claim the claim of", "the claim of")
    text = _MARKED.sub(lambda found: _quoted(found["word"], labels), text)
    return f"T{text[1:]}" if text.startswith(("the claim of", "the decision of")) else text


def refusal_words(text: str, archive: Archive, labels: Labels) -> str:
    """Why nothing was written, or the mend of that, in the same words; fields of records by their labels too.

    Args:
        text: what is wrong, or the mend of it, as the task says it.
        archive: where the names of records are.
        labels: of the page on which it is said.
    """
    text = _LINE_TO_ADD.sub("", text)
    text = _LINE.sub(r"`\g<value>`", text)
    text = _PLACE.sub(lambda found: found["begin"] + _place_called(found["path"], labels), text)
    text = _NO_VALUE.sub(lambda found: f"“{_label(found['name'], labels)}” is not filled in", text)
    text = text.replace(" (component/feature)", "").replace("give another id", f"give another {_short_name(labels)}")
    text = _NO_ID.sub(lambda found: found["begin"] + _short_name(labels), text)
    if text.startswith("did you mean"):
        text = _MARKED.sub(lambda found: f"`{_component_called(found['word'], archive)}`", text)
    return page_words(_MISSING.sub(r"\g<label> is not filled in", text), archive, labels)


def _short_name(labels: Labels) -> str:
    return f"“{labels['id']}”" if "id" in labels else "short name"


def _component_called(word: str, archive: Archive) -> str:
    return archive.components[word].name if word in archive.components else word


def _field(name: str, value: str, labels: Labels) -> str:
    label = f"“{_label(name, labels)}”"
    return f"“{value}” under {label}" if value else label


def _label(name: str, labels: Labels) -> str:
    known = name.replace("-", "_")
    return labels.get(known) or _EVERYWHERE.get(known) or known.replace("_", " ")


def _place_called(path: str, labels: Labels) -> str:
    """The label of a field of a record, and a colon; empty for one of several whole entries, which has no label."""
    if path.endswith("]"):
        return ""
    steps = [step.partition("[")[0] for step in path.split(".")]
    whole = "_".join(steps[-2:])
    return f"“{_label(whole if whole in labels else steps[-1], labels)}”: "


def _quoted(word: str, labels: Labels) -> str:
    """A word that stood marked as it is typed: by its label where it has one, else in quotation marks, once."""
    word = labels.get(word, word)
    return word if word.startswith("“") else f"“{word}”"


def _decisions_called(text: str, archive: Archive) -> str:
    def called(found: re.Match[str]) -> str:
        decision = archive.decisions.get(found[0])
        if decision is None:
            return found[0]
        return f"the decision of {date_words(decision.date)} to build “{decision.build}”"

    return _ID.sub(called, text)
