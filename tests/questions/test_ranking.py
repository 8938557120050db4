"""The order of questions, against counting again from the start at each step."""

from hypothesis import given
from hypothesis import strategies as st

from checker.questions.ranking import ranked

NEEDS = "abcdefg"
SETS = st.frozensets(st.sampled_from(NEEDS), min_size=1, max_size=3)
VERDICTS = st.dictionaries(SETS, st.integers(1, 9), max_size=8)


def settled(verdicts: dict[frozenset[str], int], answers: set[str]) -> int:
    return sum(number for needs, number in verdicts.items() if needs <= answers)


@given(VERDICTS)
def test_each_question_settles_as_many_as_any_other_could_in_its_turn(verdicts: dict[frozenset[str], int]) -> None:
    answers: set[str] = set()
    for turn in ranked(verdicts):
        before = settled(verdicts, answers)
        best = max(settled(verdicts, {*answers, need}) for need in NEEDS)
        answers.add(turn.need)
        assert settled(verdicts, answers) - before == turn.settles
        assert before + turn.settles == turn.together == best
    assert settled(verdicts, answers) == sum(verdicts.values())


@given(VERDICTS, st.randoms())
def test_the_order_of_verdicts_changes_nothing(verdicts: dict[frozenset[str], int], random: object) -> None:
    items = list(verdicts.items())
    random.shuffle(items)  # type: ignore[attr-defined]
    assert ranked(dict(items)) == ranked(verdicts)


def test_what_settles_most_comes_first_and_what_needs_two_after_it() -> None:
    one, two, both = frozenset("a"), frozenset("b"), frozenset("bc")
    # a settles 3, b 2, and b with c 4 more; once b is answered c settles those 4
    turns = ranked({one: 3, two: 2, both: 4})
    assert [(turn.need, turn.settles, turn.together) for turn in turns] == [("a", 3, 3), ("b", 2, 5), ("c", 4, 9)]


def test_of_two_that_settle_none_alone_the_one_that_more_hang_on_comes_first() -> None:
    turns = ranked({frozenset("ab"): 1, frozenset("bc"): 2})
    assert [(turn.need, turn.settles) for turn in turns] == [("b", 0), ("c", 2), ("a", 1)]


def test_marks_stand_in_the_order_in_which_people_count() -> None:
    verdicts: dict[frozenset[str], int] = {frozenset({f"the way of circuit C{n}"}): 1 for n in (10, 9, 1)}
    assert [turn.need[-3:].strip() for turn in ranked(verdicts)] == ["C1", "C9", "C10"]


def test_nothing_unknown_asks_nothing() -> None:
    assert ranked({}) == []
