"""Records by their names, where the answers have their ids; and explanations a sentence at a time."""

import pytest
from builders import BY, TODAY, a_claim, a_component, a_feature, a_source, an_archive

from provenance.records.decisions import Panel
from provenance.reports.feature_words import feature_name
from provenance.rules.resting import Resting
from provenance.web.naming import claim_name, named, resting_words
from provenance.web.wording import sentences

ARCHIVE = an_archive(
    a_component("headlamp", a_feature("rim", name="Rim round the glass"), name="Head lamp"),
    a_source("photo-9", title="No. 9 at the shed"),
    a_source("print", title="A second print"),
    a_claim("broad", "photo-9", about="headlamp/rim", claim_id="rim-broad"),
    panels={"welcome": Panel(id="welcome", title="Welcome aboard", by=BY, date=TODAY)},
)


def test_a_feature_is_called_by_its_component_and_its_own_name() -> None:
    assert feature_name("headlamp/rim", ARCHIVE) == "Head lamp: Rim round the glass"
    assert feature_name("headlamp/no-such", ARCHIVE) == "headlamp/no-such"
    assert claim_name("headlamp/rim: broad", ARCHIVE) == "Head lamp: Rim round the glass: “broad”"
    assert claim_name("No. 9: at the shed", ARCHIVE) == "No. 9: at the shed"


def test_ids_in_a_sentence_become_names_and_plain_words_stay() -> None:
    assert named("photo-9, page 1 supports it", ARCHIVE, "photo-9") == "this source, page 1 supports it"
    assert named("derives from photo-9 (print)", ARCHIVE) == "derives from “No. 9 at the shed” (print)"
    assert named("states something about headlamp/rim", ARCHIVE) == (
        "states something about “Head lamp: Rim round the glass”"
    )
    assert named("a head-on view of photo-90", ARCHIVE) == "a head-on view of photo-90"


@pytest.mark.parametrize(
    ("record", "how", "told"),
    [
        (
            "claims/rim-broad.yaml",
            "claims “broad” for headlamp/rim, and photo-9, page 1 supports it",
            ("Head lamp: Rim round the glass", "claims “broad”, and this source, page 1 supports it"),
        ),
        ("sources/print.yaml", "derives from photo-9 (print)", ("A second print", "derives from this source (print)")),
        ("components/headlamp.yaml", "is part of body", ("Head lamp", "is part of body")),
        (
            "panels/welcome.yaml",
            "states something about headlamp/rim",
            ("The panel “Welcome aboard”", "states something about “Head lamp: Rim round the glass”"),
        ),
        (
            "decisions/gone.yaml",
            "builds “broad”, on rim-broad",
            ("decisions/gone.yaml", "builds “broad”, on the claim of “broad”"),
        ),
        ("queries/odd.yaml", "doubted photo-9", ("A query", "doubted this source")),
    ],
)
def test_what_rests_on_a_source_is_told_by_name(record: str, how: str, told: tuple[str, str]) -> None:
    assert resting_words(Resting(record=record, how=how), ARCHIVE, "photo-9") == told


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("", []),
        ("One witness.", ["One witness."]),
        (
            "It shows No. 9 as built. Counted for it: a letter.",
            ["It shows No. 9 as built.", "Counted for it: a letter."],
        ),
        ("It stands. “link and pin” is another.", ["It stands.", "“link and pin” is another."]),
        ("“Seen. Twice” says so (by Ltd. Co). It holds.", ["“Seen. Twice” says so (by Ltd. Co).", "It holds."]),
        ("A bracket never closed (so. Be it", ["A bracket never closed (so. Be it"]),
    ],
)
def test_an_explanation_is_parted_into_its_sentences_and_joined_again_is_the_same(text: str, parts: list[str]) -> None:
    assert sentences(text) == parts
    assert " ".join(parts) == text
