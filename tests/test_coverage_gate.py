"""The gate over coverage adds rooms up rightly, and names what falls short."""

from typing import Any

from coverage_gate import RoomCoverage, measure_rooms, room_of


def _measured(lines: int, branches: int, missing_lines: list[int], missing_branches: list[list[int]]) -> dict[str, Any]:
    return {
        "summary": {
            "num_statements": lines,
            "covered_lines": lines - len(missing_lines),
            "missing_lines": len(missing_lines),
            "num_branches": branches,
            "covered_branches": branches - len(missing_branches),
            "missing_branches": len(missing_branches),
        },
        "missing_lines": missing_lines,
        "missing_branches": missing_branches,
    }


def test_a_module_that_stands_alone_is_a_room_of_its_own() -> None:
    assert room_of("provenance/errors.py") == "errors"
    assert room_of("/somewhere/provenance/rules/deep/grade.py") == "rules"


def test_lines_and_branches_of_a_room_are_added_up_over_its_files() -> None:
    files = {
        "provenance/store/a.py": _measured(10, 4, [3], [[3, -1]]),
        "provenance/store/b.py": _measured(6, 0, [], []),
        "provenance/errors.py": _measured(5, 0, [], []),
    }

    errors, store = measure_rooms({"files": files})

    assert (errors.room, errors.reached, errors.there) == ("errors", 5, 5)
    assert (store.room, store.reached, store.there) == ("store", 18, 20)
    assert store.missing == ("provenance/store/a.py: 3, 3->out",)


def test_one_branch_that_no_test_took_is_too_many_for_the_rules_and_allowed_elsewhere() -> None:
    rules = RoomCoverage(room="rules", reached=999, there=1000, missing=("provenance/rules/x.py: 4->6",))
    pages = RoomCoverage(room="pages", reached=900, there=1000, missing=("provenance/pages/x.py: 4->6",))
    thin = RoomCoverage(room="store", reached=949, there=1000, missing=("provenance/store/x.py: 7",))

    assert not rules.is_enough
    assert "provenance/rules/x.py: 4->6" in str(rules)
    assert pages.is_enough
    assert "FALLS SHORT" not in str(pages)
    assert not thin.is_enough


def test_a_room_without_code_is_whole() -> None:
    assert RoomCoverage(room="records", reached=0, there=0, missing=()).is_enough
