from dataclasses import replace

import pytest
from builders import a_claim, a_source, a_withdrawal, against, an_archive, an_item, seen_on, shows
from public_archives import DAY, an_archive_that_holds_back, an_open_source, leaked, texts_in, with_names_that_tell
from reports.registers import an_archive_with_everything, an_occasion, source_rows, the_sources

from provenance.records.kinds import Access, Publish
from provenance.records.sources import Permission, Rights, Shows, Within
from provenance.reports.registers import SourceRow
from provenance.reports.registers_sources import RELIABILITY, compose_source_register
from provenance.rules.public_view import public_view


def test_each_field_of_a_source_stands_in_its_row_in_words() -> None:
    row = source_rows(an_archive_with_everything("so"))["issue-c"]

    assert row == SourceRow(
        number=3,
        record="issue-c",
        title="so",
        kind="drawing",
        created="about June 1934",
        creator="so",
        holder="so",
        reference="so",
        language="de, en",
        issue="so",
        replaces="“Issue B so” (issue-b)",
        made_from="was redrawn from “Album so” (album); is a print of a source held privately",
        within="“Album so” (album), pages 3..7",
        shows="No. 9, its headlamp so, June 1934, known by its number; a machine, it is not known which",
        reliability="C, fairly reliable: so",
        statement="In Copyright (InC)",
        credit="so",
        cleared="no: permission has still to be asked for",
        cited_by="1",
        hazards="nitrate-film",
        remarks="a design that was never built; retouched; in monochrome; taken on the occasion of: so",
        entered="25 November 2026",
    )


def test_sources_stand_in_the_order_of_their_records_and_are_numbered_from_one() -> None:
    rows = the_sources(an_archive(*(an_open_source(each) for each in ("b-2", "a-10", "b-1")))).rows

    assert [(row.number, row.record) for row in rows] == [(1, "a-10"), (2, "b-1"), (3, "b-2")]


def test_of_the_teams_sources_the_number_alone_is_told() -> None:
    one = the_sources(an_archive(an_open_source("photo")), held_privately=1)
    twelve = the_sources(an_archive(an_open_source("photo")), held_privately=12)
    none = the_sources(an_archive(an_open_source("photo")))

    assert "One further source is held privately." in one.head.about
    assert "12 further sources are held privately." in twelve.head.about
    assert not any("privately" in sentence for sentence in none.head.about)


def test_no_word_of_what_is_withheld_stands_in_a_register() -> None:
    archive = an_archive_that_holds_back()

    register = the_sources(archive)

    assert [row.record for row in register.rows] == ["open-photo"]
    assert leaked(texts_in(archive))
    assert leaked(texts_in(register)) == set()


@pytest.mark.parametrize("told", ["zzteamtitleqx leaf", "zzclosedcreatorqx", "zzclosed-id", "opendonorqx"])
def test_names_that_tell_are_struck_out_of_a_register(told: str) -> None:
    archive = with_names_that_tell(an_archive_that_holds_back(), told)
    photo = replace(archive.sources["open-photo"], reliability="B", reliability_why=f"{told} was there")

    register = the_sources(replace(archive, sources={**archive.sources, photo.id: photo}))

    assert leaked(texts_in(register)) == set()
    assert register.rows[0].reliability == "B, usually reliable: [withheld] was there"
    assert dict(register.head.meanings)["[withheld]"] == "words that would name what may not be shown"
    assert "[withheld]" not in dict(the_sources(an_archive_that_holds_back()).head.meanings)


def test_what_keeps_a_source_is_told_only_where_it_may_be_shown_itself() -> None:
    team, closed = a_source("team-album"), a_source("closed-album", access=Access.CLOSED)
    gone = an_open_source("gone-album", withdrawn=a_withdrawal())
    kept = [
        an_open_source(f"photo-{number}", within=Within(source=album.id))
        for number, album in enumerate((team, closed, gone, an_open_source("album")))
    ]

    rows = source_rows(an_archive(team, closed, gone, an_open_source("album"), *kept))

    assert [rows[f"photo-{number}"].within for number in range(4)] == ["", "", "", "“Album” (album)"]


def test_where_a_source_comes_from_is_told_of_open_ones_alone() -> None:
    """A closed parent is not told of at all; a withdrawn one neither."""
    parents = [
        an_open_source("open-plate"),
        a_source("team-plate"),
        a_source("closed-plate", access=Access.CLOSED),
        an_open_source("gone-plate", withdrawn=a_withdrawal()),
    ]
    copies = [an_open_source(f"copy-{parent.id}", of=(f"print:{parent.id}",)) for parent in parents]

    rows = source_rows(an_archive(*parents, *copies))

    assert {each: rows[each].made_from for each in rows if each.startswith("copy")} == {
        "copy-open-plate": "is a print of “Open plate” (open-plate)",
        "copy-team-plate": "is a print of a source held privately",
        "copy-closed-plate": "",
        "copy-gone-plate": "",
    }


def test_a_find_that_nobody_has_looked_at_is_listed_and_said_to_be_one() -> None:
    register = the_sources(an_archive(an_open_source("tin", None), an_open_source("photo", tagged=False)))

    assert [row.kind for row in register.rows] == ["photograph, not looked at yet", "not looked at yet"]
    assert "2 of them are finds that nobody has looked at yet." in register.head.about


@pytest.mark.parametrize(
    ("rights", "cleared"),
    [
        (Rights(publish=Publish.ALLOWED), "yes"),
        (None, "no: nothing is settled yet"),
        (Rights(statement="CNE"), "no: nothing is settled yet"),
        (Rights(publish=Publish.ASK), "no: permission has still to be asked for"),
        (Rights(publish=Publish.REFUSED), "no: its publication was refused"),
        (
            Rights(publish=Publish.ALLOWED, permission=Permission(giver="A. Giver", scope=("web",))),
            "no: the permission covers web, not panels",
        ),
    ],
)
def test_whether_a_source_is_cleared_is_said_and_does_not_keep_it_out(rights: Rights | None, cleared: str) -> None:
    rows = source_rows(an_archive(an_open_source("photo", rights=rights)))

    assert rows["photo"].cleared == cleared
    assert "A. Giver" not in "".join(texts_in(rows["photo"]))


def test_a_feature_counts_once_for_a_source_whether_it_speaks_for_or_against() -> None:
    lamps = [
        a_claim("electric", an_item("photo", "shows", seen=seen_on("9"), page=1), an_item("photo", page=2)),
        a_claim("oil", against("photo")),
        a_claim("gas", "photo", about="headlamp/unknown"),
    ]

    rows = source_rows(an_archive(an_open_source("photo"), an_open_source("book", "book"), *lamps))

    assert (rows["photo"].cited_by, rows["book"].cited_by) == ("1", "0")


def test_where_nothing_can_be_judged_no_citing_is_counted() -> None:
    archive = replace(an_archive(an_open_source("photo"), a_claim("electric", "photo")), target=None)

    register = compose_source_register(public_view(archive, DAY, only=()), an_occasion(), judged=False)

    assert register.rows[0].cited_by == ""
    assert "does not say yet what it represents" in register.head.about[-1]
    assert not any(sentence.startswith("Represented") for sentence in register.head.about)


def test_what_a_donor_is_called_stands_nowhere() -> None:
    assert "opendonorqx" not in "".join(texts_in(the_sources(an_archive_that_holds_back()))).casefold()


def test_a_register_says_what_the_object_is_and_claims_to_be() -> None:
    register = the_sources(an_archive_with_everything("so"), draft=True, left_out=2)

    assert register.head.about == (
        "DRAFT, not for display.",
        "Railcar so, a reproduction. The object is a modern re-creation.",
        "Represented is No. 9 as it was in June 1934.",
        "What may be shown was looked at for 25 November 2026.",
        "Not the whole archive: 2 records could not be used.",
        "It lists 4 sources, in the order of the records' names.",
        "One of them is a find that nobody has looked at yet.",
    )
    assert register.head.meanings[0][0] == "reproduction"
    assert [each.hazard for each in register.head.cautions] == ["nitrate-film"]


def test_an_archive_without_sources_has_an_empty_register() -> None:
    assert the_sources(an_archive()).rows == ()
    assert "It lists no sources, in the order of the records' names." in the_sources(an_archive()).head.about


def test_every_letter_of_reliability_has_its_words() -> None:
    """AJP-2.1 has six letters; F is for what cannot be judged."""
    assert "".join(RELIABILITY) == "ABCDEF"
    rows = source_rows(an_archive(*(an_open_source(f"s-{each.lower()}", reliability=each) for each in "ABCDEF")))
    assert [row.reliability[:2] for row in rows.values()] == ["A,", "B,", "C,", "D,", "E,", "F,"]


def test_that_somebody_looked_in_vain_is_no_machine_that_a_source_shows() -> None:
    looked = Shows(component="headlamp", note="looked for: hood out of view")
    view = an_open_source("view", shows=(shows("9"), looked))

    row = source_rows(an_archive(view))["view"]

    assert row.shows == "No. 9"
