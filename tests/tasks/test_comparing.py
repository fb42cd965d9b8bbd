"""What came in is compared with all that is held; real pictures, real texts, the real recogniser."""

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image
from tasks.likenesses import a_crop, a_photograph, a_rescan, laid_down, open_again
from tasks.team import TODAY, a_team_archive, a_text

from provenance.errors import WriteRefusedError
from provenance.records.archive import Archive
from provenance.records.kinds import Ruling
from provenance.reports.compared import suspected_lines
from provenance.reports.ingested import Ingested
from provenance.store.fixity import sha256_of
from provenance.store.likeness_state import comparing_lock
from provenance.store.prints_store import LIKENESS
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened
from provenance.tasks.rebuilding import rebuild
from provenance.tasks.ruling import Signed, rule_out

PARAGRAPH = (
    "These cars have electric head lamps of the pattern H-204, worked from a battery of twelve volts below the seat of "
    "the driver. The wires are drawn through a steel conduit which runs along the cantrail and down the corner pillar "
    "to the lamp, where a gland of brass keeps out the wet. No lamp is to be opened on the road."
)
ROUND = (
    "Dear members, the winter was long and the shed was cold, and little was done but the sweeping of the floor. "
    "A visitor lent us a book for an afternoon, and we typed out what it says of the lamps.\n{}\n"
    "The book went home with its owner in the evening. Subscriptions are due in March, and the treasurer says that she "
    "would rather have them in February. Tea is taken at four as before."
)


def take_in(opened: Opened, *paths: Path) -> Ingested:
    return ingest(open_again(opened), paths, by="mh", today=TODAY, workers=2)


def pairs_in(opened: Opened) -> dict[str, Ruling]:
    return {pair.id: pair.ruling for pair in open_again(opened).archive.copies.values()}


def ids_of(done: Ingested) -> list[str]:
    return [file.source for file in done.files if file.source is not None]


def test_a_rescan_of_a_held_photograph_is_written_down_as_an_open_pair(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    before = pairs_in(opened)
    held = take_in(opened, laid_down(tmp_path / "in" / "works.png", a_photograph()))

    done = take_in(opened, laid_down(tmp_path / "tin" / "print.jpg", a_rescan(a_photograph())))

    (suspected,) = done.compared.suspected
    archive: Archive = open_again(opened).archive
    (pair,) = (archive.copies[pair] for pair in archive.copies.keys() - before.keys())
    assert {suspected.source, suspected.other} == set(pair.between) == {*ids_of(held), *ids_of(done)}
    assert (pair.ruling, pair.by, str(pair.date), pair.why) == (Ruling.OPEN, "mh", TODAY, suspected.why)
    assert pair.found_by is not None
    assert (pair.found_by.method, [place.page for place in pair.found_by.places]) == ("picture", [1, 1])
    assert int(pair.found_by.points or 0) >= 20
    assert float(pair.found_by.overlap or 0) > 0.9
    assert f"copies/{pair.id}.yaml" in done.written


def test_different_photographs_are_no_pair(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    for name in ("camera", "coins", "brick"):
        laid_down(tmp_path / "in" / f"{name}.png", a_photograph(name))

    done = take_in(opened, tmp_path / "in")

    assert done.compared.suspected == ()


def test_of_three_prints_two_pairs_are_written_and_the_third_follows_from_them(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    before = len(pairs_in(opened))
    laid_down(tmp_path / "in" / "a.png", a_photograph())
    laid_down(tmp_path / "in" / "b.jpg", a_rescan(a_photograph()))
    laid_down(tmp_path / "in" / "c.jpg", a_crop(a_photograph()))

    done = take_in(opened, tmp_path / "in")

    assert len(done.compared.suspected) == len(pairs_in(opened)) - before == 2


def test_a_pair_once_ruled_on_is_never_asked_about_again_even_with_all_derived_data_gone(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    laid_down(tmp_path / "in" / "a.png", a_photograph())
    laid_down(tmp_path / "in" / "b.jpg", a_rescan(a_photograph()))
    done = take_in(opened, tmp_path / "in")
    (record,) = (opened.folder / file for file in done.written if file.startswith("copies/"))
    ruled = record.read_text(encoding="utf-8").replace("ruling: open", "ruling: distinct")
    record.write_text(ruled, encoding="utf-8")
    shutil.rmtree(opened.folder / ".derived")

    again = take_in(opened, tmp_path / "in")

    assert again.compared.suspected == ()
    assert record.read_text(encoding="utf-8") == ruled


def test_what_was_compared_is_not_compared_again(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    first = take_in(opened, laid_down(tmp_path / "in" / "a.png", a_photograph()))

    second = take_in(opened, tmp_path / "in")

    assert first.compared.sources >= 1
    assert second.compared.sources == 0


def test_a_declared_copy_is_not_asked_about(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    (original,) = ids_of(take_in(opened, laid_down(tmp_path / "in" / "a.png", a_photograph())))
    shutil.rmtree(opened.folder / LIKENESS)
    (copy,) = ids_of(take_in(opened, laid_down(tmp_path / "in" / "b.jpg", a_rescan(a_photograph()))))
    record = opened.folder / "sources" / f"{copy}.yaml"
    record.write_text(
        record.read_text(encoding="utf-8") + f"derives_from: [{{source: {original}, how: print}}]\n", encoding="utf-8"
    )
    for pair in (opened.folder / "copies").glob(f"*{copy}*"):
        pair.unlink()
    shutil.rmtree(opened.folder / LIKENESS)

    done = take_in(opened, tmp_path / "in")

    assert done.compared.sources > 0
    assert done.compared.suspected == ()


def test_a_paragraph_that_comes_back_within_a_longer_page_is_found(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(tmp_path / "in" / "handbook.txt", f"OF THE LAMPS\n\n{PARAGRAPH}\n\nOF THE BRAKES\n\nSee below.\n")
    a_text(
        tmp_path / "in" / "newsletter.txt", ROUND.format(PARAGRAPH.replace("gland", "glanb").replace("steel", "stee1"))
    )

    (suspected,) = take_in(opened, tmp_path / "in").compared.suspected

    assert suspected.method == "text"
    assert {name.partition("-")[0] for name in (suspected.source, suspected.other)} == {"handbook", "newsletter"}


def test_blank_pages_and_pages_of_one_word_are_never_copies_of_one_another(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    for number in range(30):
        a_text(tmp_path / "in" / f"blank-{number}.txt", "\n" * (number + 1))
        a_text(tmp_path / "in" / f"word-{number}.txt", f"{'Approved.' + ' ' * number}\n")

    done = take_in(opened, tmp_path / "in")

    assert done.compared.suspected == ()


def test_comparing_that_was_broken_off_goes_on_where_it_stopped(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    before = len(pairs_in(opened))
    laid_down(tmp_path / "in" / "a.png", a_photograph())
    laid_down(tmp_path / "in" / "b.jpg", a_rescan(a_photograph()))

    def break_off(step: str, _done: int, _total: int) -> None:
        if step == "seeking":
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        ingest(open_again(opened), [tmp_path / "in"], by="mh", today=TODAY, workers=2, on_progress=break_off)
    assert len(pairs_in(opened)) == before

    done = take_in(opened, tmp_path / "in")

    assert len(done.compared.suspected) == len(pairs_in(opened)) - before == 1


def test_of_an_album_leaf_the_photograph_is_named_and_not_the_album(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    leaf = a_photograph("brick", side=1000).point(lambda _: 60)
    leaf.paste(a_photograph("camera", side=500), (60, 60))
    (album,) = ids_of(take_in(opened, laid_down(tmp_path / "in" / "leaf.png", leaf)))
    photograph = opened.folder / "sources" / "photo-on-leaf.yaml"
    photograph.write_text(
        "title: The photograph on the leaf\n"
        f'within: {{source: {album}, pages: 1, region: "percent:5,6,53,54"}}\n'
        f"state: untagged\nby: mh\ndate: {TODAY}\n",
        encoding="utf-8",
    )

    done = take_in(opened, laid_down(tmp_path / "tin" / "print.jpg", a_rescan(a_photograph("camera", side=500))))

    assert {each.source for each in done.compared.suspected} | {each.other for each in done.compared.suspected} == {
        "photo-on-leaf",
        *ids_of(done),
    }


def test_two_issues_of_one_drawing_are_not_asked_about(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    laid_down(tmp_path / "in" / "a.png", a_photograph("coins"))
    laid_down(tmp_path / "in" / "b.jpg", a_rescan(a_photograph("coins")))
    first, second = ids_of(take_in(opened, tmp_path / "in"))
    for pair in (opened.folder / "copies").glob(f"*{first}*"):
        pair.unlink()
    record = opened.folder / "sources" / f"{second}.yaml"
    record.write_text(record.read_text(encoding="utf-8") + f"replaces: {first}\n", encoding="utf-8")
    shutil.rmtree(opened.folder / LIKENESS)

    done = take_in(opened, tmp_path / "in")

    assert (done.compared.sources > 0, done.compared.suspected) == (True, ())


def test_what_followed_from_a_pair_stands_on_record_once_that_pair_is_ruled_out(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    before = pairs_in(opened).keys()
    for name, picture in (
        ("a.png", a_photograph()),
        ("b.jpg", a_rescan(a_photograph())),
        ("c.jpg", a_crop(a_photograph())),
    ):
        laid_down(tmp_path / "in" / name, picture)
    prints = set(ids_of(take_in(opened, tmp_path / "in")))
    tree = [tuple(pair.split("--")) for pair in pairs_in(opened).keys() - before]
    one, other = tree[0]
    (apart,) = prints - set(tree[0])

    file = f"copies/{one}--{other}.yaml"
    seen = replace(open_again(opened), shown={file: sha256_of(opened.folder / file)})  # as from the page of the pair

    ruled = rule_out(seen, (one, other), "another negative", Signed(by="mh", date=TODAY))

    rulings = {pair: ruling for pair, ruling in pairs_in(opened).items() if pair not in before}
    assert rulings.pop(f"{one}--{other}") is Ruling.DISTINCT
    assert set(rulings.values()) == {Ruling.OPEN}
    assert {name for pair in rulings for name in pair.split("--")} == {one, other, apart}
    assert any(file.startswith("copies/") for file in ruled.written[1:])
    assert any("which followed from this pair until now" in sentence for sentence in ruled.said)


def test_rebuilding_takes_fingerprints_of_another_method_anew_and_touches_no_ruling(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    laid_down(tmp_path / "in" / "a.png", a_photograph())
    laid_down(tmp_path / "in" / "b.jpg", a_rescan(a_photograph()))
    take_in(opened, tmp_path / "in")
    before = {path.name: path.read_bytes() for path in (opened.folder / "copies").iterdir()}
    prints = sorted((opened.folder / LIKENESS / "prints").rglob("*.print"))
    for path in prints:
        path.rename(path.with_name(f"{path.name.partition('-')[0]}-0123456789abcdef.print"))

    rebuilt = rebuild(open_again(opened), prune=True, workers=2)

    assert rebuilt.fingerprinted == len(prints) == 2
    assert sorted((opened.folder / LIKENESS / "prints").rglob("*.print")) == prints
    assert {path.name: path.read_bytes() for path in (opened.folder / "copies").iterdir()} == before
    assert take_in(opened, tmp_path / "in").compared.suspected == ()


def test_fingerprints_that_were_damaged_are_taken_anew_by_rebuilding(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    take_in(opened, laid_down(tmp_path / "in" / "a.png", a_photograph()))
    (kept,) = (opened.folder / LIKENESS / "prints").rglob("*.print")
    sound = kept.read_bytes()
    kept.write_bytes(sound[: len(sound) // 2])

    rebuilt = rebuild(open_again(opened), workers=2)

    assert (rebuilt.fingerprinted, kept.read_bytes()) == (1, sound)


def test_a_page_that_was_not_read_is_compared_with_nothing_and_that_is_said(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    take_in(opened, laid_down(tmp_path / "in" / "a.png", a_photograph()))
    shutil.rmtree(opened.folder / ".derived")

    done = take_in(opened, a_text(tmp_path / "in" / "note.txt", "Nothing of interest.\n"))

    assert done.compared.unread == 1
    assert "One page that is held has not been read yet" in " ".join(suspected_lines(done.compared, 200))


def test_only_one_compares_at_a_time(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    with (
        comparing_lock(opened.folder),
        pytest.raises(WriteRefusedError, match="another command is comparing"),
        comparing_lock(opened.folder, patience=0),
    ):
        pass


@pytest.mark.long
def test_a_hundred_prints_of_one_photograph_are_tied_by_ninety_nine_pairs(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    before = len(pairs_in(opened))
    for number in range(100):
        width = 300 + number
        laid_down(tmp_path / "in" / f"print-{number}.jpg", a_photograph().resize((width, width * 3 // 4)))

    take_in(opened, tmp_path / "in")

    assert len(pairs_in(opened)) - before == 99


@pytest.mark.long
def test_two_thousand_blank_pages_are_never_copies_of_one_another(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    for number in range(20):
        sheets = [Image.new("L", (200 + number, 280), 250 - page % 7) for page in range(100)]
        path = tmp_path / "in" / f"blank-{number}.tif"
        path.parent.mkdir(exist_ok=True)
        sheets[0].save(path, save_all=True, append_images=sheets[1:], compression="tiff_deflate")

    done = take_in(opened, tmp_path / "in")

    assert done.pages_read == 2000
    assert done.compared.suspected == ()
