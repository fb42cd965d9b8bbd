"""Entering what a source says: the same record as the command writes, and what it would change is told before."""

import re
import shutil
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest
import yaml
from cli.command_line import ask
from web.claiming_archive import a_claiming_archive
from web.writing_client import Desk, Form, state_of_records

PAGE = "/sources/drawing/pages/1/claim"
WHOLE = "percent:5,5,50,20"  # both words of the first line


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(a_claiming_archive(tmp_path))


@pytest.fixture(scope="module")
def still(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A desk at which nothing is written, whatever is tried."""
    desk = Desk(a_claiming_archive(tmp_path_factory.mktemp("still")))
    before = state_of_records(desk.folder)
    yield desk
    assert state_of_records(desk.folder) == before


def the_form(desk: Desk, address: str = PAGE) -> Form:
    return desk.open(address, address.partition("?")[0])


TWINS: dict[str, tuple[str, dict[str, str | list[str]], list[str]]] = {
    "a choice, quoted from a page": (
        PAGE,
        {"feature": "headlamp/kind", "value": "electric", "quote": "Bracket H-204", "applies-to": "all"},
        [
            "headlamp/kind",
            "electric",
            "--source",
            "drawing",
            "--page",
            "1",
            "--quote",
            "Bracket H-204",
            "--applies-to",
            "all",
        ],
    ),
    "a region and no words, for a batch, against": (
        PAGE,
        {
            "feature": "headlamp/hood",
            "value": "present",
            "region": WHOLE,
            "applies-to": "batch=second",
            "stance": "contradicts",
            "legibility": "doubtful",
            "page-label": "iv",
            "how": "implies",
        },
        [
            "headlamp/hood",
            "present",
            "--source",
            "drawing",
            "--page",
            "1",
            "--region",
            WHOLE,
            "--page-label",
            "iv",
            "--applies-to",
            "batch=second",
            "--stance",
            "contradicts",
            "--legibility",
            "doubtful",
            "--how",
            "implies",
        ],
    ),
    "a figure with its give or take": (
        PAGE,
        {
            "feature": "bracket/height",
            "value": "3 ft 4 1/2 in",
            "uncertainty": "1/8 in",
            "applies-to-words": "2, 5..8",
            "applies-to": "all",
            "reasoning": "the second figure is clearer",
            "note": "compare it with the piece",
        },
        [
            "bracket/height",
            "3 ft 4 1/2 in",
            "--source",
            "drawing",
            "--page",
            "1",
            "--uncertainty",
            "1/8 in",
            "--applies-to",
            "2, 5..8",
            "--reasoning",
            "the second figure is clearer",
            "--note",
            "compare it with the piece",
        ],
    ),
    "a text of a worn piece": (
        "/sources/piece/claim",
        {"feature": "bracket/steel", "value": "M.S.", "condition": "worn"},
        ["bracket/steel", "M.S.", "--source", "piece", "--condition", "worn"],
    ),
    "a sign in a photograph of a machine known by its number": (
        "/sources/sight/claim",
        {
            "feature": "headlamp/kind",
            "value": "electric",
            "sign-conduit": "seen",
            "seen": "6",
            "seen-known-by": "likeness",
            "seen-when": "about June 1932",
            "seen-why": "its dents, and the lamp",
            "seen-signs": ["conduit"],
        },
        [
            "headlamp/kind",
            "electric",
            "--source",
            "sight",
            "--sign",
            "conduit=seen",
            "--seen",
            "example=6,when=about June 1932,known_by=likeness,why=its dents, and the lamp,signs=conduit",
        ],
    ),
    "a recollection at its time": (
        "/sources/tape/claim",
        {
            "feature": "headlamp/hood",
            "value": "absent",
            "time": "00:00:00.000/00:00:01.000",
            "who": "the guard",
            "applies-to": "9",
        },
        [
            "headlamp/hood",
            "absent",
            "--source",
            "tape",
            "--time",
            "00:00:00.000/00:00:01.000",
            "--who",
            "the guard",
            "--applies-to",
            "9",
        ],
    ),
    "a recollection that finds its time by its words": (
        "/sources/tape/claim",
        {"feature": "headlamp/hood", "value": "absent", "quote": "I gave it two pulls", "applies-to": "9"},
        ["headlamp/hood", "absent", "--source", "tape", "--quote", "I gave it two pulls", "--applies-to", "9"],
    ),
    "a statement by way of a parent": (
        "/sources/tracing/claim",
        {"feature": "bracket/steel", "value": "mild steel", "via": "drawing", "applies-to": "all"},
        ["bracket/steel", "mild steel", "--source", "tracing", "--via", "drawing", "--applies-to", "all"],
    ),
    "more for a claim that is there": (
        PAGE,
        {"feature": "headlamp/kind", "value": "acetylene", "applies-to": "all"},
        ["headlamp/kind", "acetylene", "--source", "drawing", "--page", "1", "--applies-to", "all"],
    ),
    "a page that is named on the form": (
        "/sources/drawing/claim",
        {"feature": "headlamp/kind", "value": "electric", "page": "1", "applies-to": "all"},
        ["headlamp/kind", "electric", "--source", "drawing", "--page", "1", "--applies-to", "all"],
    ),
}


@pytest.mark.parametrize("case", TWINS)
def test_the_page_writes_the_record_that_the_command_writes(desk: Desk, tmp_path: Path, case: str) -> None:
    address, fields, words = TWINS[case]
    twin = Path(shutil.copytree(desk.folder, tmp_path / "twin"))

    answer = desk.send(the_form(desk, address), fields)

    assert answer.status_code == 303, answer.text
    done = ask(twin, "claim", *words, "--by", "mh")
    assert done["written"] != []
    assert state_of_records(desk.folder) == state_of_records(twin)


def test_every_field_of_the_form_is_one_of_the_command(still: Desk) -> None:
    form = the_form(still, "/sources/sight/claim?feature=headlamp/kind")

    assert {"sign-conduit", "seen", "condition", "uncertainty"} & set(form.fields) == {"sign-conduit", "seen"}
    assert set(the_form(still, f"{PAGE}?feature=bracket/height").fields) >= {"uncertainty", "value", "region-x"}


def test_a_choice_is_made_among_the_names_of_its_options(still: Desk) -> None:
    form = the_form(still, f"{PAGE}?feature=headlamp/kind")

    assert form.choices["value"] == ["acetylene", "electric"]
    assert the_form(still, f"{PAGE}?feature=headlamp/hood").choices["value"] == ["present", "absent"]
    page = still.client.get(f"{PAGE}?feature=headlamp/kind").text
    assert "acetylene lamp (gas lamp)" in page


def test_without_a_script_the_feature_is_asked_about_and_what_was_typed_stays(still: Desk) -> None:
    answer = still.send(the_form(still), feature="Headlamp: Kind of lamp", value="gas lamp", quote="rail", ask="1")

    again = still.form_of(answer, PAGE)
    assert answer.status_code == 200
    assert again.fields["value"] == ["acetylene"]  # which is also called so
    assert again.fields["quote"] == ["rail"]
    odd = still.form_of(still.send(the_form(still), feature="headlamp/kind", value="candle", ask="1"), PAGE)
    assert odd.fields["value"] == ["candle"]


def test_without_a_script_the_words_under_the_region_are_taken_by_a_button(still: Desk) -> None:
    fields = {"region-x": "5", "region-y": "5", "region-w": "50", "region-h": "20", "quote": "other words"}

    answer = still.send(the_form(still), fields, words="1")

    again = still.form_of(answer, PAGE)
    assert again.fields["quote"] == ["Bracket H-204"]
    assert again.fields["region-w"] == ["50"]
    refused = still.send(the_form(still), {"region-x": "5"}, words="1")
    assert "half given" in refused.text
    assert still.form_of(refused, PAGE).fields["region-x"] == ["5"]


def test_what_it_would_change_is_told_and_nothing_is_written(desk: Desk) -> None:
    before = state_of_records(desk.folder)
    fields = {"feature": "headlamp/kind", "value": "electric", "applies-to": "all", "quote": "rail"}

    answer = desk.send(the_form(desk), fields, look="1")

    assert answer.status_code == 200
    assert state_of_records(desk.folder) == before
    again = desk.form_of(answer, PAGE)
    typed = {**fields, "feature": "Headlamp: Kind of lamp"}  # the same, by its name
    assert {name: again.fields[name] for name in typed} == {name: [value] for name, value in typed.items()}
    words = (
        "headlamp/kind",
        "electric",
        "--source",
        "drawing",
        "--page",
        "1",
        "--applies-to",
        "all",
        "--quote",
        "rail",
    )
    (change,) = ask(desk.folder, "claim", *words, "--try", "--by", "mh")["changes"]
    told = answer.text[answer.text.index('id="tried"') :]
    assert f"grade-{change['before']['grade']}" in told
    assert f"grade-{change['after']['grade']}" in told
    assert 'href="/fittings/headlamp/kind"' in told
    assert desk.send(again).status_code == 303


def test_a_part_of_the_page_tells_the_same_while_somebody_types(still: Desk) -> None:
    fields = {"feature": "headlamp/kind", "value": "electric", "applies-to": "all"}
    form = the_form(still)
    whole = still.send(form, fields, look="1").text
    form.action = "/sources/drawing/claim/tried"

    part = still.send(form, fields).text

    assert part.strip() in whole
    assert "would-change" in part
    assert "would-change" not in still.send(form, feature="headlamp/kind").text


def test_a_figure_is_read_back_and_one_that_may_be_two_is_refused_with_the_choices(still: Desk) -> None:
    form = the_form(still)

    read = still.send(form, feature="bracket/height", value="3 ft 4 1/2 in", applies_to="all", look="1").text
    odd = still.send(form, feature="bracket/height", value="16 gauge", applies_to="all", look="1").text

    assert "Understood as 3 ft 4 1/2 in, that is 1028.7 mm, give or take 0.4 mm (1/64 in)" in read
    assert "16 SWG" in odd
    assert "Understood as" not in odd
    assert still.send(form, feature="bracket/height", value="16 gauge", applies_to="all").status_code == 400


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"applies-to": "", "value": "electric"}, "not said which examples this covers"),
        ({"quote": "nothing of the kind"}, "the quotation does not stand"),
        ({"feature": "headlamp/colour"}, "there is no feature"),
        ({"region": "percent:90,0,20,20"}, "beyond the page"),
        ({"region-x": "5"}, "half given"),
        ({"how": "guessed"}, "guessed"),
        ({"sign-bell": "seen"}, "no sign of headlamp"),
        ({"seen": "6", "seen-why": "its dents, signs=conduit"}, "cannot be kept as it stands"),
    ],
)
def test_what_is_refused_is_said_with_what_was_typed(still: Desk, fields: dict[str, str], said: str) -> None:
    before = state_of_records(still.folder)
    typed = {"feature": "headlamp/kind", "value": "electric", "applies-to": "all", "note": "typed with care", **fields}

    answer = still.send(the_form(still), typed)

    assert answer.status_code in {400, 404}
    assert said in unescape(answer.text).casefold()
    assert still.form_of(answer, PAGE).fields["note"] == ["typed with care"]
    assert state_of_records(still.folder) == before


def test_options_are_named_as_the_fields_are(still: Desk) -> None:
    answer = still.send(the_form(still), feature="headlamp/kind", value="electric", page="x")
    whole = still.send(
        the_form(still, "/sources/drawing/claim"), feature="headlamp/kind", value="electric", page="x", applies_to="all"
    )

    assert "such as “all” under “What it covers”, “9” under “What it covers”, " in answer.text
    assert "“Page” “x” is no number" in whole.text


def test_the_page_that_was_claimed_from_shows_the_new_place_and_leads_to_the_next_claim(desk: Desk) -> None:
    fields = {"feature": "headlamp/kind", "value": "electric", "quote": "above rail", "applies-to-words": "5..8"}
    answer = desk.send(the_form(desk), fields)

    shown = desk.client.get(answer.location)
    assert answer.location.startswith("/sources/drawing/pages/1?region=percent:10,40,27,5&")
    assert '<rect class="asked" x="100.00" y="400.00" width="270.00" height="50.00"/>' in shown.text
    assert "claims/headlamp-kind-electric.yaml" in shown.text
    following = f"{PAGE}?after=headlamp-kind-electric"
    assert f'href="{following}"' in shown.text
    assert the_form(desk, following).fields["applies-to-words"] == ["5..8"]


def test_of_two_places_on_one_page_the_new_one_is_shown(desk: Desk) -> None:
    fields = {"feature": "headlamp/kind", "value": "electric", "applies-to": "all"}
    desk.send(the_form(desk), fields, quote="above rail")

    answer = desk.send(the_form(desk), fields, quote="Bracket H-204")

    assert answer.location.startswith("/sources/drawing/pages/1?region=percent:10,10,34,5&")


def test_what_machine_was_seen_is_kept_for_the_next_claim_of_a_photograph(desk: Desk) -> None:
    address = "/sources/sight/claim"
    answer = desk.send(the_form(desk, address), TWINS["a sign in a photograph of a machine known by its number"][1])

    following = answer.location.replace("/sources/sight?", f"{address}?")
    kept = the_form(desk, following).fields
    assert kept["seen"] == ["6"]
    assert kept["seen-known-by"] == ["likeness"]
    assert kept["seen-when"] == ["1932-06~"]
    assert kept["applies-to"] == ["6"]


def test_what_was_claimed_from_the_page_already_stands_beside_it(desk: Desk) -> None:
    fields = {"feature": "headlamp/kind", "value": "electric", "quote": "Bracket H-204", "applies-to": "all"}
    desk.send(the_form(desk), fields)

    page = desk.client.get(PAGE).text

    beside = page[page.index('class="claimed"') :]
    assert "Headlamp: Kind of lamp" in beside
    assert "electric lamp" in beside
    assert "/sources/drawing/pages/1?region=percent:10,10,34,5" in beside
    assert '<rect x="10.00%" y="10.00%" width="34.00%" height="5.00%"/>' in page
    assert "Nothing yet" in desk.client.get("/sources/tape/claim").text


def test_a_claim_that_changed_after_its_effect_was_shown_is_not_written_over(desk: Desk) -> None:
    fields = {"feature": "headlamp/kind", "value": "acetylene", "applies-to": "all"}
    looked = desk.form_of(desk.send(the_form(desk), fields, look="1"), PAGE)
    file = desk.folder / "claims" / "headlamp-kind-acetylene.yaml"
    file.write_text(file.read_text(encoding="utf-8") + "note: looked at again\n", encoding="utf-8")

    refused = desk.send(looked)

    assert refused.status_code == 409
    assert "<mark>note: looked at again</mark>" in refused.text
    assert desk.form_of(refused, PAGE).fields["value"] == ["acetylene"]


def test_what_it_would_change_is_told_of_the_records_as_they_are_at_that_moment(desk: Desk) -> None:
    form = the_form(desk)
    fields = {"feature": "headlamp/kind", "value": "electric", "applies-to": "all"}
    ask(
        desk.folder, "claim", "headlamp/kind", "electric", "--source", "drawing", *("--applies-to", "all", "--by", "mh")
    )

    looked = desk.send(form, fields, look="1")

    assert "Added to the claim of “electric”" in looked.text  # written since the form was opened
    assert desk.send(desk.form_of(looked, PAGE)).status_code == 303


def test_the_same_again_is_not_written_twice(desk: Desk) -> None:
    fields = {"feature": "headlamp/kind", "value": "electric", "applies-to": "all"}
    desk.send(the_form(desk), fields)
    before = state_of_records(desk.folder)

    answer = desk.send(the_form(desk), fields)

    assert answer.status_code == 303
    assert state_of_records(desk.folder) == before
    assert "has this item of evidence already" in desk.client.get(answer.location).text


def test_of_a_find_without_a_kind_it_is_said_that_it_has_to_be_tagged_first(still: Desk) -> None:
    page = still.client.get("/sources/find/claim").text
    answer = still.send(
        the_form(still, "/sources/find/claim"), feature="headlamp/kind", value="electric", applies_to="9"
    )

    assert "/sources/find/tag" in page
    assert answer.status_code == 400
    assert "what kind of source" in answer.text


@pytest.mark.parametrize("address", ["/sources/nothing/claim", "/sources/drawing/pages/7/claim"])
def test_what_is_not_there_cannot_be_claimed_from(still: Desk, address: str) -> None:
    assert still.client.get(address).status_code == 404
    assert still.client.post(address, headers={"Origin": "http://localhost"}).status_code == 404


@pytest.mark.parametrize("part", ["asked", "tried", "words"])
def test_parts_of_the_page_are_made_for_what_is_there_only(still: Desk, part: str) -> None:
    answer = still.client.post(f"/sources/nothing/claim/{part}", headers={"Origin": "http://localhost"})

    assert answer.status_code == 404 or answer.text.strip() in {"", '<div id="tried" data-shown="{}">\n</div>'}
    assert still.client.post(f"/sources/drawing/claim/{part}").status_code == 403  # from nowhere


def test_half_a_region_has_no_words_under_it(still: Desk) -> None:
    form = the_form(still)
    form.action = "/sources/drawing/claim/words"

    assert still.send(form, {"region-x": "5"}).text == ""
    assert still.send(form, {"region": WHOLE}).text == "Bracket H-204"


def test_a_recording_is_played_beside_the_form_where_it_is_here(desk: Desk) -> None:
    assert '<audio controls preload="metadata" src="/originals/tape/1"' in desk.client.get("/sources/tape/claim").text

    (desk.folder / "originals" / "tape" / "tape.wav").unlink()

    page = desk.client.get("/sources/tape/claim").text
    assert "<audio" not in page
    assert 'name="time"' in page


def test_on_a_part_of_a_page_regions_are_told_of_the_whole_page_and_not_drawn_where_nobody_can_say(desk: Desk) -> None:
    kept = "title: Kept\nkind: photograph\nwithin: {{source: drawing, region: '{}'}}\nby: mh\ndate: 2026-01-10\n"
    for name, region in {"half": "percent:50,0,50,100", "corner": "pixel:200,0,200,200"}.items():
        (desk.folder / "sources" / f"{name}.yaml").write_text(kept.format(region), encoding="utf-8")
    desk = Desk(desk.folder)

    half = desk.client.get("/sources/half/pages/1/claim").text
    corner = the_form(desk, "/sources/corner/pages/1/claim")

    assert 'data-within="percent:50,0,50,100"' in half
    assert "region-x" not in corner.fields
    assert corner.fields["region"] == [""]


def test_looking_closer_there_is_a_sharper_picture(still: Desk) -> None:
    page = still.client.get(PAGE).text
    larger = re.search(r'data-larger="([^"]+)"', page)

    assert larger is not None
    answer = still.client.get(larger[1], follow_redirects=True)
    assert answer.status_code == 200
    assert answer.content_type.startswith("image/")


def test_hostile_words_are_words(still: Desk) -> None:
    words = "<script>alert(1)</script>"

    answer = still.send(the_form(still), feature="headlamp/kind", value=words, quote=words, note=words, ask="1")

    assert "<script>alert" not in answer.text


def test_from_a_feature_one_says_the_source_and_goes_on_to_its_page(still: Desk) -> None:
    fitting = still.client.get("/fittings/headlamp/kind").text
    assert "/claim?feature=headlamp%2Fkind" in fitting
    page = still.client.get("/claim?feature=headlamp/kind").text
    assert "Headlamp: Kind of lamp" in page
    assert '<option value="drawing">A drawing</option>' in page

    there = still.client.get("/claim?feature=headlamp/kind&source=drawing&page=1")
    assert there.location == f"{PAGE}?feature=headlamp%2Fkind"
    assert still.client.get("/claim?source=tape").location == "/sources/tape/claim"
    assert "There is no source nowhere" in still.client.get("/claim?source=nowhere").text


def test_a_page_of_a_source_leads_to_the_form_with_the_region_that_was_asked_for(still: Desk) -> None:
    page = still.client.get(f"/sources/drawing/pages/1?region={WHOLE}").text

    assert f'href="{PAGE}?region=percent%3A5%2C5%2C50%2C20"' in page
    kept = the_form(still, f"{PAGE}?region={WHOLE}").fields
    assert [kept[f"region-{side}"][0] for side in "xywh"] == ["5", "5", "50", "20"]
    assert f'href="{PAGE}"' in still.client.get("/sources/drawing").text
    assert 'href="/sources/tape/claim"' in still.client.get("/sources/tape").text


def test_what_is_written_is_what_the_claim_says(desk: Desk) -> None:
    desk.send(the_form(desk), feature="bracket/steel", value="M.S.", applies_to="batch=third", note="one\r\ntwo")

    record = yaml.safe_load((desk.folder / "claims" / "bracket-steel-m-s.yaml").read_text(encoding="utf-8"))
    assert record["applies_to"] == {"batch": "third"}
    assert record["evidence"][0]["note"] == "one\ntwo"
    assert record["evidence"][0]["at"] == {"page": 1}
