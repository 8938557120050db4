"""Figures are looked up where they stand, or at the neighbour that is asked for; never between rows, never beyond them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.rule.lookup import Answer, Steps

#: Widths of a tray in mm and what may lie in it, in an invented unit.
TRAYS = Steps.of([(300, 13.0), (150, 6.5), (225, 9.5)])
#: Circuits in a bunch and an invented factor, which falls, and one that rises again.
FALLING = Steps.of([(1, 1.0), (2, 0.8), (4, 0.6), (9, 0.5)])
ODD = Steps.of([(1, 1.0), (2, 0.5), (6, 0.7)])


@pytest.mark.parametrize(
    ("key", "within", "answer"),
    [
        (225, 0.0, Answer(9.5, 225)),
        (226, 0.0, Answer(None)),
        (226, 1.0, Answer(9.5, 225)),
        (149, 0.0, Answer(None, past=150)),
        (149, 1.0, Answer(6.5, 150)),
        (301, 0.0, Answer(None, past=300)),
    ],
)
def test_exact_is_a_row_or_nothing(key: float, within: float, answer: Answer[float]) -> None:
    assert TRAYS.exact(key, within) == answer


@pytest.mark.parametrize(
    ("key", "within", "answer"),
    [
        (149, 0.0, Answer(None, past=150)),  # nothing is allowed for so narrow a one
        (149, 1.0, Answer(6.5, 150)),
        (150, 0.0, Answer(6.5, 150)),
        (224, 0.0, Answer(6.5, 150)),
        (224, 1.0, Answer(9.5, 225)),
        (300, 0.0, Answer(13.0, 300)),
        (400, 0.0, Answer(13.0, 300, past=300)),  # the widest's, and it is said that the table ends there
    ],
)
def test_the_next_lower_is_said_to_be_past_an_end(key: float, within: float, answer: Answer[float]) -> None:
    assert TRAYS.next_lower(key, within) == answer


@pytest.mark.parametrize(
    ("key", "within", "answer"),
    [
        (0.5, 0.0, Answer(1.0, 1, past=1)),
        (1, 0.0, Answer(1.0, 1)),
        (3, 0.0, Answer(0.6, 4)),
        (4.1, 0.1, Answer(0.6, 4)),
        (4.1, 0.0, Answer(0.5, 9)),
        (10, 0.0, Answer(None, past=9)),
    ],
)
def test_the_next_higher_is_said_to_be_past_an_end(key: float, within: float, answer: Answer[float]) -> None:
    assert FALLING.next_higher(key, within) == answer


@pytest.mark.parametrize(
    ("key", "answer"),
    [
        (2, Answer(0.5, 2)),
        (4, Answer(0.5, 2)),  # 0.5 and 0.7 are its neighbours
        (1.5, Answer(0.5, 2)),
        (6, Answer(0.7, 6)),
        (7, Answer(None, past=6)),
        (0, Answer(None, past=1)),
    ],
)
def test_between_two_rows_the_safer_is_the_lower_figure(key: float, answer: Answer[float]) -> None:
    assert ODD.safer(key, float) == answer


def test_a_number_stands_there_once() -> None:
    with pytest.raises(ValueError, match="two rows are for 2"):
        Steps.of([(2, "a"), (1, "b"), (2, "c")])


def test_a_table_without_rows_has_no_answer() -> None:
    empty: Steps[float] = Steps(())
    assert {empty.exact(1), empty.next_lower(1), empty.next_higher(1), empty.safer(1, float)} == {Answer(None)}


def test_what_is_no_number_has_no_answer() -> None:
    table = Steps.of([(1, 10.0), (2, 20.0)])
    key = float("nan")
    answers = (
        table.exact(key),
        table.exact(key, 5.0),
        table.next_lower(key),
        table.next_higher(key),
        table.safer(key, float),
    )
    assert set(answers) == {Answer(None)}


keys = st.floats(-1000, 1000)
tables = st.dictionaries(keys, st.floats(0.01, 2.0), min_size=1, max_size=8).map(lambda rows: Steps.of(rows.items()))


@given(tables, keys, st.floats(0, 5))
def test_no_answer_is_what_no_row_says(table: Steps[float], key: float, within: float) -> None:
    for answer in (
        table.exact(key, within), table.next_lower(key, within), table.next_higher(key, within), table.safer(key, float),
    ):  # fmt: skip
        if answer.value is None:
            assert answer.key is None
        else:
            assert (answer.key, answer.value) in table.rows


@given(tables, keys)
def test_asked_beyond_an_end_every_answer_names_that_end(table: Steps[float], key: float) -> None:
    first, last = table.rows[0][0], table.rows[-1][0]
    end = first if key < first else last if key > last else None
    answers = (table.exact(key), table.next_lower(key), table.next_higher(key), table.safer(key, float))
    assert {answer.past for answer in answers} == {end}
    if end is not None:
        assert table.exact(key).value is None
        assert table.safer(key, float).value is None


@given(tables, keys)
def test_the_neighbours_are_on_their_sides(table: Steps[float], key: float) -> None:
    lower, higher = table.next_lower(key), table.next_higher(key)
    assert lower.key is None or lower.key <= key
    assert higher.key is None or higher.key >= key
    between = [
        row
        for row, _ in table.rows
        if (lower.key is None or row > lower.key) and (higher.key is None or row < higher.key)
    ]
    assert between == []


@given(st.lists(st.floats(0.01, 2.0), min_size=2, max_size=8, unique=True), st.floats(1, 8))
def test_of_a_table_that_falls_the_next_higher_is_the_safer(figures: list[float], key: float) -> None:
    table = Steps.of(enumerate(sorted(figures, reverse=True), start=1))
    answer = table.safer(key, float)
    assert answer == (table.next_higher(key) if key <= len(figures) else Answer(None, past=len(figures)))
    assert all(answer.value <= figure for row, figure in table.rows if answer.value is not None and row <= key)


@given(st.lists(st.floats(0.01, 2.0), min_size=2, max_size=8, unique=True), st.floats(1, 8))
def test_of_a_table_that_rises_the_next_lower_is_the_safer(figures: list[float], key: float) -> None:
    table = Steps.of(enumerate(sorted(figures), start=1))
    answer = table.safer(key, float)
    assert answer.key == (table.next_lower(key).key if key <= len(figures) else None)


@given(tables, keys)
def test_the_safer_is_no_higher_than_either_neighbour(table: Steps[float], key: float) -> None:
    answer = table.safer(key, float)
    for neighbour in (table.next_lower(key), table.next_higher(key)):
        assert answer.value is None or neighbour.value is None or answer.value <= neighbour.value
