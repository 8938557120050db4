"""How problems are grouped and counted. Expected values are counted by hand."""

from itertools import permutations

import pytest

from checker.model import Problem, ProblemKind
from checker.result.problems import kinds_in_words, problem_groups

GAP, CORRECTION, ASSUMPTION, INFERENCE = ProblemKind


def problem(where: str, what: str, kind: ProblemKind = GAP, elements: int = 1, hint: str = "mend it") -> Problem:
    return Problem(where, what, "so it isn't known", hint, kind, elements)


def test_what_says_the_same_stands_together_in_the_order_of_its_places() -> None:
    nine, eleven = problem("T-9", "it has no size"), problem("T-11", "it has no size")

    (group,) = problem_groups([eleven, nine])

    assert group.problems == (nine, eleven)  # as people count
    assert (group.number, group.kind, group.what, group.why, group.hint) == (
        1, GAP, "it has no size", "so it isn't known", "mend it",
    )  # fmt: skip
    assert group.places == ("T-9", "T-11")


def test_what_differs_in_kind_or_in_any_word_is_another_group() -> None:
    found = [
        problem("T-1", "it has no size"),
        problem("T-1", "it has no size."),
        problem("T-1", "it has no size", hint="draw it"),
        problem("T-1", "it has no size", INFERENCE),
        Problem("T-1", "it has no size", "another why", "mend it"),
    ]

    assert [group.number for group in problem_groups(found)] == [1, 2, 3, 4, 5]


def test_the_most_serious_kind_comes_first_however_few_it_touches() -> None:
    found = [
        problem("a", "x", INFERENCE, 900),
        problem("a", "x", ASSUMPTION, 90),
        problem("a", "x", CORRECTION, 9),
        problem("a", "x"),
    ]

    for order in permutations(found):
        groups = problem_groups(order)
        assert [(group.number, group.kind) for group in groups] == [
            (1, GAP),
            (2, CORRECTION),
            (3, ASSUMPTION),
            (4, INFERENCE),
        ]


def test_within_a_kind_what_touches_most_comes_first_then_text_decides() -> None:
    found = [
        problem("a", "few"),
        problem("a", "many", elements=3),
        problem("b", "many", elements=4),
        problem("a", "also few"),
    ]

    for order in permutations(found):
        assert [(group.what, group.elements) for group in problem_groups(order)] == [
            ("many", 7),
            ("also few", 1),
            ("few", 1),
        ]  # 3 + 4


@pytest.mark.parametrize(
    ("places", "elements"),
    [
        ([("a", 2), ("b", 5)], 7),
        ([("a", 2), ("a", 5), ("b", 1)], 8),  # elements may share a name, so each counts: 2 + 5 + 1
        ([("a", 0)], 0),
    ],
)
def test_elements_are_summed_over_problems(places: list[tuple[str, int]], elements: int) -> None:
    (group,) = problem_groups([problem(where, "x", elements=number) for where, number in places])

    assert group.elements == elements
    assert len(group.problems) == len(places)  # none is lost


def test_no_problem_no_group() -> None:
    assert problem_groups([]) == ()
    assert kinds_in_words([]) == ""


def test_kinds_are_counted_in_words_the_most_serious_first() -> None:
    found = [
        problem("a", "x", INFERENCE),
        problem("b", "x", INFERENCE),
        problem("a", "x"),
        problem("c", "x", ASSUMPTION),
    ]

    assert kinds_in_words(found) == "1 gap, 1 assumption, 2 inferences"
    assert kinds_in_words([problem("a", "x", kind) for kind in ProblemKind for _ in range(2)]) == (
        "2 gaps, 2 corrections, 2 assumptions, 2 inferences"
    )
