"""What the shell may offer: quick, and silent about every fault."""

from pathlib import Path

from tasks.team import a_team_archive, a_text

from provenance.tasks.completing import features_beginning, holders_beginning, ids_beginning


def test_ids_that_begin_so_are_offered_in_order(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder

    assert ids_beginning(folder, ("sources",), "") == ("handbook", "photograph")
    assert ids_beginning(folder / "sources", ("sources", "components"), "h") == ("handbook", "headlamp")
    assert ids_beginning(folder, ("sources", "claims"), "sources/h", with_folder=True) == ("sources/handbook",)
    assert ids_beginning(folder, ("leads",), "") == ()


def test_a_component_is_offered_before_its_stroke_and_its_features_behind_it(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder

    assert features_beginning(folder, "he") == ("headlamp/",)
    assert features_beginning(folder, "headlamp/") == ("headlamp/hood", "headlamp/kind")
    assert features_beginning(folder, "headlamp/k") == ("headlamp/kind",)
    assert features_beginning(folder, "lamp/k") == ()


def test_holders_are_offered_each_once_and_a_name_that_cannot_be_read_is_not(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    for number, holder in enumerate(["Orrin Library", "'Orrin Library' # again", "[", ">-\n  Long", "Pell"]):
        a_text(folder / "sources" / f"s-{number}.yaml", f"title: A\nholder: {holder}\nnote: holder\n")
    (folder / "sources" / "latin.yaml").write_bytes(b"holder: Caf\xe9\n")

    assert holders_beginning(folder, "") == ("Orrin Library", "Pell")
    assert holders_beginning(folder, "P") == ("Pell",)
    assert holders_beginning(tmp_path / "nowhere", "") == ()


def test_where_there_is_no_archive_or_a_record_is_spoilt_nothing_is_offered(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    a_text(folder / "components" / "spoilt.yaml", "features: [")
    a_text(folder / "components" / "bare.yaml", "name: Bare\nby: mh\ndate: 2026-01-10\n")
    a_text(folder / "components" / "No Id.yaml", "name: Bare\n")

    assert ids_beginning(tmp_path / "nowhere", ("sources",), "") == ()
    assert features_beginning(folder, "spoilt/") == ()
    assert features_beginning(folder, "bare/") == ()
    assert ids_beginning(folder, ("components",), "") == ("bare", "headlamp", "spoilt")
