"""Which topic of an earlier file a group of findings goes on in."""

import pytest

from checker.history.identity import topic_guid
from checker.history.merge import topic_identity
from tests.history.people import edited, repacked, run, set_child, unpacked
from tests.report.results import guid, small_result

A, B, C, D = sorted(guid(word) for word in "abcd")
ONE, TWO = "11111111-1111-5111-8111-111111111111", "22222222-2222-5222-8222-222222222222"


def earlier(*topics: tuple[str, str], author: str = "wayroom") -> bytes:
    """A file with topics: Guid, and the end of the description."""
    return repacked({
        f"{place}/markup.bcf": (
            f'<Markup><Topic Guid="{name}"><Title>t</Title><CreationDate>2024-01-01T00:00:00Z</CreationDate>'
            f"<CreationAuthor>{author}</CreationAuthor><Description>Text.\n{text}</Description></Topic></Markup>"
        ).encode()
        for place, (name, text) in enumerate(topics)
    })  # fmt: skip


def test_without_an_earlier_file_each_is_minted_from_its_smallest_finding() -> None:
    assert topic_identity(None, [[B, A], [C]]) == [topic_guid([A]), topic_guid([C])]


def test_the_topic_that_shares_most_findings_goes_on() -> None:
    notes = earlier((ONE, f"wayroom: {A}"), (TWO, f"wayroom: {B} {C}"))

    assert topic_identity(notes, [[A, B, C, D]]) == [TWO]


def test_on_a_tie_the_smallest_guid_goes_on() -> None:
    notes = earlier((TWO, f"wayroom: {A}"), (ONE, f"wayroom: {B}"))

    assert topic_identity(notes, [[A, B]]) == [ONE]


def test_a_copy_that_somebody_made_of_a_topic_does_not_take_its_place() -> None:
    copy = "00000000-1111-4111-8111-111111111111"
    notes = earlier((copy, f"wayroom: {A}"), (ONE, f"wayroom: {A}"))

    assert topic_identity(notes, [[A]]) == [ONE]


def test_each_topic_goes_on_once_in_the_larger_part() -> None:
    notes = earlier((ONE, f"wayroom: {A} {B} {C}"))

    assert topic_identity(notes, [[A], [B, C]]) == [topic_guid([A]), ONE]
    assert topic_identity(notes, [[B, C], [A]]) == [ONE, topic_guid([A])]


def test_ids_may_stand_on_several_lines() -> None:
    assert topic_identity(earlier((ONE, f"wayroom: {A}\nwayroom: {B}")), [[B]]) == [ONE]


def test_a_minted_guid_never_meets_one_that_is_taken() -> None:
    minted = topic_guid([A])
    notes = earlier((minted, f"wayroom: {A} {B} {C}"))

    assert topic_identity(notes, [[B, C], [A]]) == [minted, topic_guid([A], attempt=2)]


def test_findings_that_another_topic_has_taken_over_do_not_count() -> None:
    seals = f"{'0' * 12}/{'0' * 12}"
    notes = earlier(
        (ONE, f"wayroom: {A}\nwayroom state: r | c | moved | {seals}"),
        (TWO, f"wayroom: {A}\nwayroom state: r | c | 52.3 % / 45 % | {seals}"),
    )

    assert topic_identity(notes, [[A]]) == [TWO]


def test_somebody_s_topic_that_quotes_our_ids_is_not_ours() -> None:
    notes = earlier((ONE, f"wayroom: {A}"), author="reviewer@example.org")

    assert topic_identity(notes, [[A]]) == [topic_guid([A])]


def test_somebody_s_topic_that_has_our_guid_is_not_taken() -> None:
    notes = earlier((topic_guid([A]), "nothing"), author="reviewer@example.org")

    assert topic_identity(notes, [[A]]) == [topic_guid([A], attempt=2)]


@pytest.mark.parametrize("order", [1, -1])
def test_a_topic_whose_ids_were_removed_is_known_by_its_guid(order: int) -> None:
    result = small_result()
    groups = [topic.members for topic in result.topics][::order]
    notes = edited(run(result), "T-001", set_child("Description", "T-001"))

    assert topic_identity(notes, groups) == [topic_guid(group) for group in groups]
    assert len(unpacked(run(result, notes))) == len(unpacked(notes))
