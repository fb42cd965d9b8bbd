from pathlib import Path

import pytest

from provenance.store.likeness_state import STATE, LikenessState, load_state, save_state


def test_how_far_the_comparing_is_comes_back_as_it_was_kept(tmp_path: Path) -> None:
    state = LikenessState(pages={"ab/p0001": ("k1", 2)}, compared={"photo-1": "d1"})

    save_state(tmp_path, state)

    assert load_state(tmp_path) == state


def test_where_nothing_was_kept_nothing_was_compared(tmp_path: Path) -> None:
    assert load_state(tmp_path) == LikenessState()


@pytest.mark.parametrize(
    "damage",
    [
        lambda text: text[: len(text) // 2],
        lambda text: text.replace("photo-1", "photo-2"),
        lambda text: text.replace('"format":1', '"format":9'),
        lambda _: "[]",
        lambda _: "",
    ],
)
def test_what_is_damaged_counts_for_nothing(tmp_path: Path, damage: object) -> None:
    save_state(tmp_path, LikenessState(pages={"ab/p0001": ("k1", 2)}, compared={"photo-1": "d1"}))
    text = (tmp_path / STATE).read_text(encoding="ascii")
    assert callable(damage)

    (tmp_path / STATE).write_text(damage(text), encoding="ascii")

    assert load_state(tmp_path) == LikenessState()
