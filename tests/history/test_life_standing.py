"""What a topic is told of findings that don't fail any more: mended is one thing, not checked again is another."""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from checker.history.outcome import is_same_code
from checker.model.geometry import Vec
from checker.result.dialect import V2
from tests.history.people import repacked, unpacked
from tests.history.revisions import (
    FAILS,
    OTHER,
    Revision,
    checked,
    comments,
    of_length,
    of_roof,
    related,
    run_of,
    says,
    sets_status,
    status,
    topics,
    worked,
)
from tests.report.results import MODEL


def after(revision: Revision, number: int = 3, before: Revision = FAILS) -> tuple[str, list[str]]:
    """The status and our comments of a length's topic of one revision after another one."""
    notes = checked(before)
    guid = of_length(notes, number)
    later = checked(revision, notes)
    return status(later, guid), comments(later, guid)


def test_what_is_gone_is_called_by_its_tag() -> None:
    state, (said,) = after(Revision({1: 0.523, 2: 0.481}))

    assert "T-003, compartment 1: gone from the model" in said
    assert state == "Open"


def test_what_is_in_the_model_but_is_not_asked_about_is_not_called_gone() -> None:
    state, (said,) = after(replace(FAILS, unasked=(3,)))

    assert "T-003, compartment 1: not re-checked: still in the model" in said
    assert "gone" not in said
    assert state == "Open"


def test_another_rule_that_judges_the_same_now_is_named() -> None:
    state, (said,) = after(Revision({1: 0.523, 2: 0.481, 3: 0.4}, rule="fill.count"))

    assert "T-003, compartment 1: not re-checked, since fill.compartment judged nothing in this run" in said
    assert "; of the same fill.count says pass (40 % / 45 %)" in said
    assert state == "Open"


def test_another_edition_of_the_code_is_not_the_same_code() -> None:
    state, (said,) = after(Revision({1: 0.523, 2: 0.481, 3: 0.4}, edition="Guidance (2026)"))

    assert "T-003, compartment 1: not re-checked by that edition of bs-7671; this one says pass" in said
    assert state == "Open"


def test_what_still_fails_by_another_edition_is_told_which() -> None:
    state, (said,) = after(Revision({1: 0.523, 2: 0.481, 3: 0.6}, edition="Guidance (2026)"))

    assert "Judged by another edition of bs-7671 than before: Guidance (2026)." in said
    assert state == "Open"


def test_a_part_that_passes_by_another_code_is_told_once() -> None:
    """T-002 passes by the other code, T-001 fails: the topic goes on by that code, and the next run has nothing to add."""
    _, (said,) = after(Revision({1: 0.523, 2: 0.4, 3: 0.6}, code="iec-60364"), 1)

    assert "Judged by iec-60364 now, by bs-7671 before." in said
    assert "T-002, compartment 1: not re-checked by bs-7671; iec-60364 says pass" in said


def test_codes_are_told_apart_by_their_editions_where_both_say_theirs() -> None:
    assert is_same_code("bs-7671/aa", "bs-7671/aa")
    assert not is_same_code("bs-7671/aa", "bs-7671/bb")
    assert is_same_code("bs-7671", "bs-7671/bb")  # notes of before editions were written
    assert not is_same_code("bs-7671", "iec-60364/aa")
    assert is_same_code("", "iec-60364/aa")


def test_a_limit_that_was_raised_shows_beside_what_was_before() -> None:
    state, (said,) = after(Revision({1: 0.523, 2: 0.481, 3: 0.6}, limit=0.65))

    assert "passes now (60 % / 65 %), before 60 % / 45 %" in said
    assert state == "Review"


def test_what_is_waived_is_not_called_mended_and_is_told_when_it_is_not_waived_any_more() -> None:
    first = checked(FAILS)
    guid = of_length(first, 3)
    waived = checked(replace(FAILS, waived=(3,)), first)
    later = checked(FAILS, waived)

    assert "waived now: the lid stays off until June" in comments(waived, guid)[0]
    assert "What is waived is not mended: the status stays as it was." in comments(waived, guid)[0]
    assert status(waived, guid) == status(later, guid) == "Open"
    assert "T-003, compartment 1: fails now, 60 % / 45 % (before: waived)" in comments(later, guid)[1]


TWO = replace(
    FAILS, files=(MODEL.name, OTHER), projects={MODEL.name: MODEL.ifc_project, OTHER: "1Zu5Bv0LOHrPC10026FoQQ"}
)
MENDED = Revision({1: 0.523, 2: 0.481, 3: 0.4, 4: 0.3})


def test_what_passes_in_a_run_without_a_model_that_the_notes_know_is_not_called_mended() -> None:
    """T-001 and T-002 are of the other model, which isn't read the second time: its circuits may run through T-003 as well."""
    first = run_of(of_roof(of_roof(TWO.result(), 1), 2))
    third = of_length(first, 3)
    stretch = of_length(first, 1)
    less = checked(Revision({3: 0.4, 4: 0.3}), first)
    whole = run_of(of_roof(of_roof(replace(MENDED, files=TWO.files, projects=TWO.projects).result(), 1), 2), less)

    assert "T-003, compartment 1: passes now (40 % / 45 %), but not everything was read" in comments(less, third)[0]
    assert f"as far as was read, but “{OTHER}” was not: the status stays as it was." in comments(less, third)[0]
    assert "T-001, compartment 1: not re-checked, since its model was not read" in comments(less, stretch)[0]
    assert status(less, third) == status(less, stretch) == "Open"
    # with all of it read again it is known
    assert "T-003, compartment 1: passes now (40 % / 45 %)\nNothing here fails any more." in comments(whole, third)[1]
    assert status(whole, third) == "Review"


def test_a_model_that_only_closed_topics_name_is_not_missed() -> None:
    first = run_of(of_roof(of_roof(TWO.result(), 1), 2))
    stretch, third = of_length(first, 1), of_length(first, 3)
    closed = repacked(worked(first, {stretch: [sets_status("Closed")]}, V2))

    assert status(checked(Revision({3: 0.4, 4: 0.3}), closed), third) == "Review"


def test_what_becomes_unknown_after_a_review_was_asked_for_is_open_again() -> None:
    first = checked(FAILS)
    guid = of_length(first, 3)
    review = checked(MENDED, first)
    later = checked(replace(FAILS, fills={1: 0.523, 2: 0.481, 3: None, 4: 0.3}), review)

    assert status(review, guid) == "Review"
    assert status(later, guid) == "Open"
    assert "Status set back to Open." in comments(later, guid)[-1]


@pytest.mark.parametrize(
    ("lengths", "numbers"),
    [({1: 0.523, 2: 0.4}, [1]), ({1: 0.523, 2: 0.481, 5: 0.5}, [1, 2, 5])],
    ids=["shrinks", "grows"],
)
def test_a_topic_whose_members_shrink_or_grow_stays_the_same(lengths: dict[int, float], numbers: Sequence[int]) -> None:
    first = checked(FAILS)
    guid = of_length(first, 1)
    later = checked(Revision({**lengths, 3: 0.6}, together=(1, 2, 5)), first)

    assert len(topics(later)) == 2
    text = topics(later)[guid].findtext("Topic/Description")
    assert [number for number in (1, 2, 5) if f"- T-{number:03}" in text] == numbers
    assert len(comments(later, guid)) == 1


def test_a_topic_that_is_closed_again_after_it_was_reopened_gets_one_more_comment() -> None:
    first = checked(FAILS)
    guid = of_length(first, 3)
    notes = first
    for reopen in (True, False, True):
        closed = repacked(worked(notes, {guid: [sets_status("Closed")]}, V2))
        notes = checked(FAILS, closed, reopen=reopen)
        assert status(notes, guid) == ("Open" if reopen else "Closed")

    assert [said.split(".")[1].strip().split(" ")[0] for said in comments(notes, guid)] == ["Status", "It", "Status"]
    assert len({one.get("Guid") for one in topics(notes)[guid].findall("Comment")}) == 3


def test_nothing_is_reopened_that_passes_or_is_not_known() -> None:
    first = checked(FAILS)
    guid = of_length(first, 3)
    closed = repacked(worked(first, {guid: [sets_status("Closed"), says("Done.")]}, V2))

    for fill in (0.4, None):
        later = checked(Revision({1: 0.523, 2: 0.481, 3: fill}), closed, reopen=True)
        assert status(later, guid) == "Closed"


@pytest.mark.parametrize(
    ("away_m", "is_same"),
    [
        ((0.0, 0.0, 0.0), True),
        ((0.5, 0.0, 0.0), True),
        # A length of 3 m is seen from 3.56 · 1.5 m = 5.3 m; what is four times as far off isn't the same, even in the camera's line.
        ((50.0, 70.0, -51.0), False),
        # 10 m to the left it is as near, but out of view: (0.5 · 5.3 - 10, 0.7 · 5.3, -0.51 · 5.3) is across the line.
        ((-10.0, 0.0, 0.0), False),
    ],
    ids=["there", "nearly there", "far behind", "aside"],
)
def test_what_was_made_anew_elsewhere_with_the_same_tag_is_another_one(away_m: Vec, *, is_same: bool) -> None:
    first = checked(FAILS)
    old = of_length(first, 3)
    later = checked(replace(FAILS, made_again=(3,), away_m=away_m), first)
    (new,) = set(topics(later)) - set(topics(first))

    assert related(later, new) == ([old] if is_same else [])
    assert ("was made anew there" in comments(later, old)[0]) is is_same
    assert status(later, old) == status(later, new) == "Open"


def test_what_was_made_anew_and_passes_is_told_so_and_stays_open() -> None:
    state, (said,) = after(Revision({1: 0.523, 2: 0.481, 3: 0.4}, made_again=(3,)))

    assert "T-003 was made anew there with another GlobalId; nothing of it fails" in said
    assert state == "Open"


def test_what_was_made_anew_within_a_topic_does_not_send_its_reader_to_another_one() -> None:
    """T-001 and T-002 are one stretch, and stay so."""
    first = checked(FAILS)
    stretch = of_length(first, 1)
    later = checked(replace(FAILS, made_again=(1,)), first)

    (said,) = comments(later, stretch)
    assert "T-001 was made anew there with another GlobalId; that one is in this topic too" in said
    assert "see the topic" not in said
    assert topics(later).keys() == topics(first).keys()


def test_without_a_viewpoint_or_with_a_broken_one_it_is_only_known_to_be_gone() -> None:
    first = checked(FAILS)
    guid = of_length(first, 3)
    for content in (b"<VisualizationInfo/>", b"not XML"):
        notes = repacked(unpacked(first) | {f"{guid}/viewpoint.bcfv": content})
        later = checked(replace(FAILS, made_again=(3,)), notes)

        (said,) = comments(later, guid)
        assert "gone from the model: deleted" in said
        assert "Finding " in said


def test_a_tag_that_two_elements_bear_tells_nothing() -> None:
    result = replace(FAILS, made_again=(3,)).result()
    twice = tuple(
        replace(row, place=replace(row.place, tag="T-003")) if row.place.tag == "T-004" else row
        for row in result.carriers
    )
    first = checked(FAILS)

    later = run_of(replace(result, carriers=twice), first)

    assert "gone from the model: deleted" in comments(later, of_length(first, 3))[0]
