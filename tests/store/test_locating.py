"""Lines for problems that were found by comparing records."""

from pathlib import Path

from store.small_archive import lay_down, put

from provenance.errors import Place, Problem
from provenance.store.loading import locate, locate_all


def problem_at(file: str, field: str, line: int | None = None) -> Problem:
    return Problem(place=Place(file=file, line=line, field=field), rule="r", what="w", mend="m")


def test_a_problem_is_given_the_line_of_its_field(tmp_path: Path) -> None:
    folder = lay_down(tmp_path)

    located = locate(folder, problem_at("claims/height-1.yaml", "evidence[1].source"))

    assert located == problem_at("claims/height-1.yaml", "evidence[1].source", 22)


def test_a_field_that_is_not_written_is_shown_where_it_would_stand(tmp_path: Path) -> None:
    folder = lay_down(tmp_path)

    located = locate(folder, problem_at("claims/height-1.yaml", "evidence[1].seen.example"))

    assert located.place.line == 22


def test_problems_keep_their_order_and_what_has_a_line_or_no_field_stays(tmp_path: Path) -> None:
    folder = lay_down(tmp_path)
    put(folder, "claims/odd.yaml", "a: [\n")
    problems = (
        problem_at("sources/works-photo.yaml", "kind"),
        problem_at("claims/height-1.yaml", ""),
        problem_at("claims/height-1.yaml", "value", 99),
        problem_at("claims/gone.yaml", "value"),
        problem_at("claims/odd.yaml", "a"),
        problem_at("sources/works-photo.yaml", "created"),
    )

    located = locate_all(folder, problems)

    assert [problem.place.line for problem in located] == [2, None, 99, None, None, 3]
    assert [problem.place.file for problem in located] == [problem.place.file for problem in problems]
