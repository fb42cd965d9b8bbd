"""Components with their features, built from typed content that its schema has passed."""

from typing import Any

from provenance.records.components import CommonTo, Component, Feature, Mate, Option, OptionSign, Sign
from provenance.records.dates import parse_edtf
from provenance.records.examples import parse_examples
from provenance.records.kinds import Aspect, Changes, Expected, FeatureKind
from provenance.store.building_parts import build_date


def build_component(component_id: str, content: dict[str, Any]) -> Component:
    """Build a component from sound content."""
    get = content.get
    return Component(
        id=component_id,
        name=content["name"],
        by=content["by"],
        date=parse_edtf(content["date"]),
        part_of=get("part_of"),
        references=tuple(get("references", ())),
        also_called=tuple(get("also_called", ())),
        hazards=tuple(get("hazards", ())),
        made_as=get("made_as"),
        common_to=tuple(
            CommonTo(examples=parse_examples(entry["examples"]), source=entry["source"])
            for entry in get("common_to", ())
        ),
        needed_by=build_date(get("needed_by")),
        prominence=get("prominence"),
        features=tuple(_feature(feature) for feature in get("features", ())),
        signs=tuple(Sign(id=sign["id"], name=sign["name"]) for sign in get("signs", ())),
        note=get("note"),
    )


def _feature(content: dict[str, Any]) -> Feature:
    get = content.get
    return Feature(
        id=content["id"],
        name=content["name"],
        aspect=Aspect(content["aspect"]),
        kind=FeatureKind(content["kind"]),
        options=tuple(_option(option) for option in get("options", ())),
        same=tuple(tuple(wordings) for wordings in get("same", ())),
        changes=Changes(get("changes", Changes.AT_BUILD)),
        unit=get("unit"),
        needed=get("needed"),
        datum=get("datum"),
        mates=tuple(Mate(mate=mate["with"], rule=mate["rule"], within=mate.get("within")) for mate in get("mates", ())),
        note=get("note"),
    )


def _option(content: dict[str, Any]) -> Option:
    return Option(
        id=content["id"],
        name=content["name"],
        also=tuple(content.get("also", ())),
        signs=tuple(
            OptionSign(sign=sign["sign"], expect=Expected(sign["expect"]), source=sign.get("source"))
            for sign in content.get("signs", ())
        ),
    )
