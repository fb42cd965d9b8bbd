"""Every reference from one record to another, held against the schemas, which say what is an id of what."""

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from builders import a_claim, a_component, a_decision, an_archive
from store.small_archive import lay_down

from provenance.records.archive import Archive
from provenance.rules.references import Reference, known_names, references_of
from provenance.store.loading import load
from provenance.store.record_kinds import RecordKind
from provenance.store.schema_files import follow, read_schema

_OF_A_RECORD = ("record-id", "feature-name", "person")
# Ids by which a record names a part of its own, or, of a claim, a sign of its component.
_OWN_PARTS = {
    "components features[].id",
    "components features[].options[].id",
    "components features[].options[].signs[].sign",
    "components signs[].id",
    "claims evidence[].seen.signs[]",
}
# A feature, a decision or a panel: the schema writes out the pattern of either.
_EITHER = {"queries about"}


def fields(schema: dict[str, Any], part: dict[str, Any], path: str = "") -> Iterator[tuple[str, str]]:
    """Every field of a schema, with the name of the definition that it goes by."""
    name = part.get("$ref", "").rpartition("/")[2]
    if name:
        yield path, name
    whole = follow(schema, part)
    for field, inner in whole.get("properties", {}).items():
        yield from fields(schema, inner, f"{path}.{field}" if path else field)
    if "items" in whole:
        yield from fields(schema, whole["items"], f"{path}[]")


def fields_that_name_records() -> set[str]:
    return {
        f"{kind.folder} {path}"
        for kind in RecordKind
        if kind is not RecordKind.ARCHIVE
        for path, name in fields(read_schema(kind), read_schema(kind))
        if name in _OF_A_RECORD
    }


def as_pattern(reference: Reference) -> str:
    return f"{reference.folder} " + re.sub(r"\[\d+\]", "[]", reference.field)


@pytest.fixture
def whole(tmp_path: Path) -> Archive:
    """An archive whose records use every field that there is."""
    return load(lay_down(tmp_path)).archive


def test_every_field_that_a_schema_calls_an_id_is_followed_and_no_other(whole: Archive) -> None:
    followed = {as_pattern(reference) for reference in references_of(whole)}

    assert followed == (fields_that_name_records() - _OWN_PARTS) | _EITHER


def test_a_person_is_looked_for_among_people_and_a_feature_among_features(whole: Archive) -> None:
    of_people = {as_pattern(each) for each in references_of(whole) if each.to == "people"}
    of_features = {as_pattern(each) for each in references_of(whole) if each.to == "features"}
    named = {
        name: {
            f"{kind.folder} {path}"
            for kind in RecordKind
            for path, ref in fields(read_schema(kind), read_schema(kind))
            if ref == name
        }
        for name in ("person", "feature-name")
    }

    assert of_people == named["person"]
    assert of_features == named["feature-name"]


def test_each_reference_stands_where_its_field_says(whole: Archive) -> None:
    found = {(each.file, each.field): (each.to, each.name) for each in references_of(whole)}

    assert found["claims/height-1.yaml", "evidence[1].source"] == ("sources", "tape")
    assert found["claims/height-1.yaml", "evidence[0].via"] == ("sources", "glass-plate")
    assert found["components/headlamp.yaml", "features[0].options[0].signs[0].source"] == ("sources", "parts-list")
    assert found["components/headlamp.yaml", "features[2].mates[0].with"] == ("features", "front-end/hole")
    assert found["decisions/height.yaml", "set_aside[0].claim"] == ("claims", "height-2")
    assert found["panels/light.yaml", "statements[0].features[0]"] == ("features", "headlamp/kind")
    assert found["copies/album--works-photo.yaml", "between[1]"] == ("sources", "works-photo")
    assert found["sources/works-photo.yaml", "topics[1]"] == ("components", "front-end")


def test_judgement_can_do_without_people_places_and_topics_but_not_without_evidence(whole: Archive) -> None:
    needed = {as_pattern(each) for each in references_of(whole) if each.needed}

    assert needed == {
        "claims about",
        "claims evidence[].source",
        "claims evidence[].via",
        "components common_to[].source",
        "components features[].options[].signs[].source",
        "copies between[]",
        "decisions about",
        "decisions basis[]",
        "decisions set_aside[].claim",
        "decisions replaces",
        "sources derives_from[].source",
        "sources replaces",
    }


def test_references_come_by_folder_and_then_by_id() -> None:
    archive = an_archive(a_claim("oil", "b"), a_claim("oil", "a", claim_id="a"), a_decision())

    places = [(each.folder, each.id) for each in references_of(archive)]

    assert list(dict.fromkeys(places)) == sorted(set(places))
    assert max(Counter((each.file, each.field) for each in references_of(archive)).values()) == 1


@pytest.mark.parametrize(
    ("to", "name", "files"),
    [
        ("sources", "handbook", {"sources/handbook.yaml"}),
        ("features", "headlamp/type", {"components/headlamp.yaml"}),
        (
            "features, decisions or panels",
            "headlamp/type",
            {"components/headlamp.yaml", "decisions/headlamp/type.yaml", "panels/headlamp/type.yaml"},
        ),
    ],
)
def test_a_reference_leads_to_the_files_in_which_its_name_may_stand(to: str, name: str, files: set[str]) -> None:
    assert Reference("claims", "one", "about", to, name).leads_to == files


def test_what_can_be_named_is_what_there_is() -> None:
    archive = an_archive(a_component(), a_claim("oil", "drawing", claim_id="oil"), a_decision("lamp"))

    known = known_names(archive)

    assert known == {
        "sources": {"drawing"},
        "components": {"headlamp"},
        "features": {"headlamp/type"},
        "claims": {"oil"},
        "decisions": {"lamp"},
        "people": {"mh"},
        "features, decisions or panels": {"headlamp/type", "lamp"},
    }
