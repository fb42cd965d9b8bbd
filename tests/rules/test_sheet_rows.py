"""What can be told from a picture, and is still open."""

from collections.abc import Mapping, Sequence

import pytest
from builders import a_claim, a_component, a_feature, a_source, an_archive, an_item
from rules.signed import option_showing

from provenance.records.components import Feature, Sign
from provenance.records.sources import Source
from provenance.rules.grades import Grade
from provenance.rules.judging import judge_all
from provenance.rules.sheet_rows import RowKind, SheetRow, sheet_rows

LAMP = a_feature(
    "kind",
    name="Kind of lamp",
    options=(option_showing("electric", conduit="always"), option_showing("acetylene", conduit="never")),
)
HOOD = a_feature("hood", "presence", "presence", name="Hood")
BARE = a_feature("rim", name="Rim", options=())


def rows(
    *features: Feature, picture: Source | None = None, told: Mapping[str, Sequence[str]] | None = None
) -> tuple[SheetRow, ...]:
    component = a_component(
        "headlamp", *features, signs=(Sign(id="conduit", name="a conduit"), Sign(id="idle", name="a sign of nothing"))
    )
    view = picture or a_source("view")
    archive = an_archive(component, view)
    return sheet_rows(archive, view, ["headlamp"], judge_all(archive), told or {})


def keys(*features: Feature, picture: Source | None = None) -> list[str]:
    return [row.key for row in rows(*features, picture=picture)]


def test_signs_that_tell_something_come_before_the_features_and_others_do_not_come() -> None:
    found = rows(LAMP, HOOD)

    assert [(row.key, row.kind, row.name) for row in found] == [
        ("headlamp/sign:conduit", RowKind.SIGN, "a conduit"),
        ("headlamp/kind", RowKind.CHOICE, "Kind of lamp"),
        ("headlamp/hood", RowKind.PRESENCE, "Hood"),
    ]
    assert found[0].tells == ("headlamp/kind",)
    assert {row.component for row in found} == {"headlamp"}


@pytest.mark.parametrize(
    ("aspect", "process", "is_asked"),
    [
        ("form", "monochrome", True),
        ("material", "colour", False),
        ("finish", "monochrome", False),
        ("finish", None, False),
        ("finish", "colour", True),
    ],
)
def test_nothing_is_asked_that_a_photograph_cannot_show(aspect: str, process: str | None, *, is_asked: bool) -> None:
    asked = keys(a_feature("thing", "text", aspect), picture=a_source("view", process=process))

    assert bool(asked) is is_asked


@pytest.mark.parametrize(
    ("kind", "aspect", "is_measured"),
    [
        ("quantity", "dimension", True),
        ("quantity", "form", True),
        ("text", "quantity", True),
        ("text", "marking", False),
        ("choice", "form", False),
    ],
)
def test_a_figure_and_a_number_have_to_be_measured_or_counted(kind: str, aspect: str, *, is_measured: bool) -> None:
    (row,) = rows(a_feature("thing", kind, aspect, **({"options": ()} if kind == "choice" else {})))

    assert row.is_measured is is_measured


def test_a_find_that_nobody_tagged_is_taken_for_a_photograph() -> None:
    assert keys(BARE, a_feature("stuff", "text", "material"), picture=a_source("find", None)) == ["headlamp/rim"]


def test_a_row_that_was_looked_for_stays_while_its_feature_is_weak() -> None:
    (row,) = rows(HOOD, told={"headlamp/hood": ("c",)})

    assert row.is_weak
    assert row.was_looked_for
    assert row.claims == ("c",)


def test_a_strong_feature_is_asked_once_in_each_picture() -> None:
    piece = a_source("piece", "artefact")
    other = a_source("other", "photograph")
    claim = a_claim("present", an_item("piece", "shows"), an_item("other", "shows"), about="headlamp/hood")
    archive = an_archive(a_component("headlamp", HOOD), piece, other, a_source("view"), claim)
    verdicts = judge_all(archive)
    assert verdicts["headlamp/hood"].grade is Grade.ESTABLISHED

    fresh = sheet_rows(archive, archive.sources["view"], ["headlamp"], verdicts, {})
    again = sheet_rows(archive, archive.sources["other"], ["headlamp"], verdicts, {"headlamp/hood": ("c",)})

    assert [(row.key, row.is_weak) for row in fresh] == [("headlamp/hood", False)]
    assert again == ()


def test_while_nothing_can_be_judged_everything_is_open() -> None:
    archive = an_archive(a_component("headlamp", HOOD), a_source("view"), target=None)

    (row,) = sheet_rows(archive, archive.sources["view"], ["headlamp"], {}, {})

    assert row.grade is None
    assert row.is_weak


def test_a_sign_is_as_weak_as_the_weakest_feature_that_it_tells() -> None:
    second = a_feature(
        "second", options=(option_showing("one", conduit="always"), option_showing("other", conduit="never"))
    )
    claims = a_claim("electric", an_item("piece", "shows"), about="headlamp/kind")
    archive = an_archive(
        a_component("headlamp", LAMP, second, signs=(Sign(id="conduit", name="a conduit"),)),
        a_source("piece", "artefact"),
        a_source("view"),
        claims,
    )

    found = sheet_rows(archive, archive.sources["view"], ["headlamp"], judge_all(archive), {})

    assert found[0].tells == ("headlamp/kind", "headlamp/second")
    assert found[0].grade is Grade.UNSUPPORTED
