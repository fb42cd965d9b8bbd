"""The JSON answers: what programs outside go by is only ever added to.

The fields stand here by hand, as they were promised; a field that is gone from a schema makes a test fail even where
the code and the schema were changed together.
"""

from collections.abc import Iterator
from typing import Any

import pytest
from answers import ANSWERS
from jsonschema import Draft202012Validator

from provenance.errors import Severity
from provenance.reports.ingested import IngestState
from provenance.rules.flags import Level
from provenance.search.entries import What
from provenance.store.schema_files import read_schema

_EVERY = "answer archive left_out left_out[].file left_out[].why"
_FEATURE = (
    "feature name kind grade value quantity posterior lines rests_on lines_if_ruled_out change_over explanation "
    "decision flags candidates"
)
_ITEM = "claim source at stance how applies weight counted quote"
_CAUTIONS = "cautions " + " ".join(
    f"cautions[].{field}" for field in ("hazard", "text", "consult", "rules", "jurisdiction")
)


_SIDE = "grade lines posterior value"
_TRIED = (
    "changes changes[].feature changes[].before changes[].after changes[].decisions changes[].made changes[].panels "
    + " ".join(f"changes[].{side}.{field}" for side in ("before", "after") for field in _SIDE.split())
)


def each_of(place: str, fields: str) -> str:
    return " ".join(f"{place}{field}" for field in fields.split())


PROMISED = {
    "add": f"{_EVERY} record written said rows " + each_of("rows[].", "row number name component state why"),
    "claim": f"{_EVERY} record written said {_TRIED}",
    "appendix": f"{_EVERY} record output draft style sources written said",
    "check": f"{_EVERY} problems records files_checked "
    + each_of("problems[].", "file line field rule what mend severity"),
    "copies": f"{_EVERY} {_CAUTIONS} open copy distinct pairs "
    + each_of(
        "pairs[].",
        "between ruling method score why would_change if_ruled sources places by date how why_ruled ruled_by "
        "ruled_date note",
    )
    + " "
    + each_of("pairs[].if_ruled[].", f"ruling later earlier how on_record {_TRIED}")
    + " "
    + each_of("pairs[].sources[].", "source title kind created")
    + " "
    + each_of("pairs[].places[].", "page region time"),
    "copies-confirm": f"{_EVERY} record written said {_TRIED}",
    "copies-show": f"{_EVERY} {_CAUTIONS} between ruling why picture text unread output "
    + " ".join(each_of(f"{part}.", "likeness score why places") for part in ("picture", "text"))
    + " text.passages text.errors "
    + each_of("text.errors[].", "written usual"),
    "copies-rule-out": f"{_EVERY} record written said {_TRIED}",
    "decide": f"{_EVERY} record written said",
    "descent": f"{_EVERY} {_CAUTIONS} about nodes edges pairs origins holds circles features evidence said "
    + each_of("nodes[].", "source title kind created files withdrawn kept_in")
    + " "
    + each_of("edges[].", "from to how note pair ruling ruled_by ruled_date why alike")
    + " "
    + each_of("pairs[].", "between how pair ruling ruled_by ruled_date why alike")
    + " "
    + each_of("origins[].", "origin sources others")
    + " "
    + each_of("features[].", "feature name value lines claims sources")
    + " "
    + each_of("evidence.", "feature name value lines claims sources bottleneck overlaps"),
    "error": "answer what mend",
    "evidence": f"{_EVERY} target target.example target.as_at target.why {_CAUTIONS} features "
    + each_of("features[].", _FEATURE)
    + " "
    + each_of("features[].candidates[].", "value grade posterior lines weight_for weight_against items")
    + " "
    + each_of("features[].candidates[].items[].", _ITEM),
    "finds": f"{_EVERY} finds "
    + each_of(
        "finds[].",
        "source title files pages reading_confidence suggested_components suspected_copies dates examples",
    )
    + " "
    + each_of("finds[].suggested_components[].", "component why score")
    + " "
    + each_of("finds[].suspected_copies[].", "source kind score why"),
    "flags": f"{_EVERY} {_CAUTIONS} flags "
    + each_of("flags[].", "flag severity about sentence mend claims sources needed_by"),
    "ingest": f"{_EVERY} files written " + each_of("files[].", "path source state pages read why"),
    "look-next": f"{_EVERY} features leads "
    + each_of("features[].", "feature grade would_lift needed_by")
    + " "
    + each_of("leads[].", "lead covers score cost"),
    "made": f"{_EVERY} record written said",
    "new": f"{_EVERY} folder written",
    "query": f"{_EVERY} record written said",
    "rebuild": f"{_EVERY} pages_read indexed pruned unread " + each_of("unread[].", "source page why"),
    "search": f"{_EVERY} query total hits "
    + each_of("hits[].", "source title page score snippet regions original components"),
    "register": f"{_EVERY} which output rows held_privately draft written said",
    "rename": f"{_EVERY} record written said",
    "tag": f"{_EVERY} record written said {_TRIED}",
    "withdraw": f"{_EVERY} record written said",
    "signs": f"{_EVERY} {_CAUTIONS} feature name options chances_known signs decides_most pictures said "
    + each_of("options[].", "option name chance")
    + " "
    + each_of("signs[].", "sign name bits options if_seen if_not_seen reported")
    + " "
    + each_of("signs[].options[].", "option expect listed sources")
    + " "
    + " ".join(each_of(f"signs[].{side}.", "chance option posterior") for side in ("if_seen", "if_not_seen"))
    + " "
    + each_of("signs[].reported[].", "claim feature source at seen")
    + " "
    + each_of("pictures[].", "source title applies shows tagged"),
    "split": f"{_EVERY} record written said",
    "upgrade": f"{_EVERY} before after written",
    "used": f"{_EVERY} of rests rests[].record rests[].how",
}


def groups(schema: dict[str, Any], place: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every group of fields in a schema, with the place where it stands."""
    if "properties" in schema:
        yield place, schema
    for field, inner in schema.get("properties", {}).items():
        yield from groups(inner, f"{place}.{field}" if place else field)
    if "items" in schema:
        yield from groups(schema["items"], f"{place}[]")


def required_fields(name: str) -> set[str]:
    return {
        f"{place}.{field}" if place else field
        for place, group in groups(read_schema(f"answers/{name}"))
        for field in group["required"]
    }


def test_every_answer_has_a_schema_and_every_schema_a_promise() -> None:
    assert set(ANSWERS) == set(PROMISED)


@pytest.mark.parametrize("name", ANSWERS)
def test_every_field_that_was_promised_is_there_in_every_answer(name: str) -> None:
    assert set(PROMISED[name].split()) - required_fields(name) == set()


@pytest.mark.parametrize("name", ANSWERS)
def test_a_schema_is_sound_by_its_own_standard_and_says_which_answer_it_is_of(name: str) -> None:
    schema = read_schema(f"answers/{name}")

    Draft202012Validator.check_schema(schema)

    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["$id"] == f"urn:provenance:schema:answers:{name}:1"
    assert schema["properties"]["answer"]["const"] == name


@pytest.mark.parametrize("name", ANSWERS)
def test_every_group_of_fields_is_closed_and_every_field_is_described(name: str) -> None:
    for place, group in groups(read_schema(f"answers/{name}")):
        assert group["additionalProperties"] is False, place
        # Of a place in a source only what is said is told.
        optional = set(group["properties"]) if place.endswith(".at") else set()
        assert set(group["required"]) == set(group["properties"]) - optional, place
        assert all(field.get("description") or "const" in field for field in group["properties"].values()), place


def test_the_defined_words_of_the_answers_are_those_of_the_package() -> None:
    def words(name: str, holder: str, field: str) -> list[str]:
        listed = read_schema(f"answers/{name}")["properties"][holder]["items"]["properties"][field]["enum"]
        assert isinstance(listed, list)
        return listed

    assert words("check", "problems", "severity") == [severity.value for severity in Severity]
    assert words("flags", "flags", "severity") == [level.value for level in Level]
    assert words("ingest", "files", "state") == [state.value for state in IngestState]
    assert words("search", "hits", "what") == [what.value for what in What]
