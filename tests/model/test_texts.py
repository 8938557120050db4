"""Names in messages."""

import pytest

from checker.model.texts import few_of, listed, natural, percent, quoted, told_apart


@pytest.mark.parametrize(
    ("count", "text"),
    [(0, ""), (1, "a0"), (3, "a0, a1, a2"), (4, "a0, a1, a2 and 1 more"), (9, "a0, a1, a2 and 6 more")],
)
def test_the_first_few_names_and_how_many_more(count: int, text: str) -> None:
    assert listed([f"a{n}" for n in range(count)], 3) == text


def test_a_long_text_is_cut_where_it_is_quoted() -> None:
    assert quoted("x" * 40) == repr("x" * 40)
    assert quoted("x" * 41) == repr("x" * 37 + "...")


def test_labels_are_ordered_as_people_count_and_no_run_of_digits_is_too_long() -> None:
    assert sorted(["CP-11", "CP-9", "B²", "CP-9a", "10"], key=natural) == ["B²", "CP-9", "CP-9a", "CP-11", "10"]
    assert natural("9" * 5000)  # int() refuses so long a number at once


def test_of_many_reasons_the_first_few_are_told_each_once_and_how_many_more_there_are() -> None:
    assert few_of(["a", "b", "a"]) == ("a", "b")
    assert few_of(["a", "b", "c", "d"]) == ("a", "b", "c", "d")  # one more is no shorter
    assert few_of(["a", "b", "c", "d", "e"]) == ("a", "b", "c", "and 2 more reasons like these")


@pytest.mark.parametrize(
    ("share", "limit", "side", "text"),
    [
        (0.41478, 0.45, "within", "41.5"),
        (0.45, 0.45, "within", "45.0"),
        (0.44996, 0.45, "within", "45.0"),
        (0.45003, 0.45, "over", "45.003"),
        (0.4500001, 0.45, "over", "45.00001"),
        # 0.29 · 100 is a little less than 29 in a float
        (0.29, 0.29, "within", "29.0"),
        (0.29004, 0.29, "over", "29.004"),
        (0.523, 0.45, "over", "52.3"),
    ],
)
def test_a_share_is_told_with_as_many_digits_as_tell_it_from_its_limit(
    share: float, limit: float, side: str, text: str
) -> None:
    assert percent(share, limit, is_over=side == "over") == text


def test_a_value_and_its_limit_have_as_many_digits_as_tell_them_apart() -> None:
    assert told_apart(100.04, 100.0, is_over=True) == ("100.04", "100.00")
    assert told_apart(99.96, 100.04, is_over=False) == ("100.0", "100.0")
    assert told_apart(99.94, 99.92, is_over=True) == ("99.94", "99.92")
    assert told_apart(120.0, 100.0, is_over=True) == ("120.0", "100.0")
