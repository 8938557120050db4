import uuid

from hypothesis import given
from hypothesis import strategies as st

from checker.history.identity import comment_guid, finding_id, topic_guid, viewpoint_guid

words = st.text(max_size=8)


def test_global_ids_are_case_sensitive() -> None:
    lower, upper = "0abcdefghijklmnopqrstu", "0abcdefghijklmnopqrstU"

    assert finding_id("p", "fill.compartment", [lower], 1) != finding_id("p", "fill.compartment", [upper], 1)


@given(st.permutations(["1a", "1b", "1c"]))
def test_the_order_of_global_ids_does_not_matter(ids: list[str]) -> None:
    assert finding_id("p", "run.bends", ids, None) == finding_id("p", "run.bends", ["1a", "1b", "1c"], None)


def test_each_part_of_a_finding_counts() -> None:
    ids = {
        finding_id("p", "r", ["a"], 1),
        finding_id("q", "r", ["a"], 1),
        finding_id("p", "s", ["a"], 1),
        finding_id("p", "r", ["b"], 1),
        finding_id("p", "r", ["a", "b"], 1),
        finding_id("p", "r", ["a"], 2),
        finding_id("p", "r", ["a"], None),
    }

    assert len(ids) == 7


@given(words, words, words, words)
def test_words_never_run_into_each_other(a: str, b: str, c: str, d: str) -> None:
    if (a, b) != (c, d):
        assert finding_id(a, b, [], None) != finding_id(c, d, [], None)
        assert finding_id("p", "r", [a, b], None) != finding_id("p", "r", [a + b], None)
        assert comment_guid("t", a, b, "") != comment_guid("t", c, d, "")


def test_a_topic_has_the_guid_of_its_smallest_finding() -> None:
    assert topic_guid(["b", "a", "c"]) == topic_guid(["a"])
    assert topic_guid(["b", "c"]) != topic_guid(["a"])
    assert topic_guid(["a"], attempt=2) != topic_guid(["a"])


def test_all_are_version_5_in_lower_case_and_of_different_kinds() -> None:
    made = [finding_id("p", "r", [], None), topic_guid(["a"]), comment_guid("a", "", "", ""), viewpoint_guid("a", "")]

    assert [uuid.UUID(one).version for one in made] == [5, 5, 5, 5]
    assert made == [one.lower() for one in made]
    assert len(set(made)) == 4


def test_the_guid_of_a_topic_may_be_written_in_either_case() -> None:
    assert comment_guid("ABC", "e", "o", "n") == comment_guid("abc", "e", "o", "n")
    assert viewpoint_guid("ABC", "w") == viewpoint_guid("abc", "w")
