"""Near misses as questions: whether two carriers are meant to meet, in one note after all others."""

from dataclasses import replace

from checker.result.network_tables import BreakRow, NearMissRow
from checker.result.request_groups import MOST_ASKED, all_asked
from tests.report.results import small_result
from tests.result.asking import asked, raised, with_questions


def missed(one: str, other: str, gap: float, names: tuple[str, str], **more: object) -> NearMissRow:
    return NearMissRow(one, other, names, f"their ends are {gap:.0f} mm apart", gap, (0.0, 0.0, 0.0), **more)  # type: ignore[arg-type]


def test_near_misses_are_one_note_after_all_other_questions_the_nearest_first() -> None:
    result = with_questions(asked("the wall of type 'A'", 0, 3))
    keys = [row.key for row in result.carriers]
    misses = (
        missed(keys[0], keys[1], 60.0, ("T-001", "T-002")),
        missed(keys[2], keys[3], 20.0, ("T-003", "T-004")),
        missed(keys[4], keys[0], 5.0, ("T-005", "T-001"), is_used=True),  # circuits come in there: open on purpose
    )
    wall, gaps = raised(replace(result, near_misses=misses))
    assert wall.title == "Question: the wall of type 'A'"
    assert gaps.title == "Question: whether these are meant to meet: T-001 / T-002, T-003 / T-004"
    assert gaps.rule == "question.meet"
    lines = gaps.description.split("\n")
    assert lines[1] == "No circuit is led across these gaps. This is a question, not a failure."
    told = [line for line in lines if line.startswith("- ")]
    assert told == [
        f"- whether these are meant to meet: {pair} (their ends are {gap} mm apart; no circuit is known to need it). Answer: model, "
        f"{pair}: close the gap or connect their ports if cables pass there, else say so."
        for pair, gap in (("T-003 / T-004", 20), ("T-001 / T-002", 60))
    ]
    assert gaps.carriers == (keys[2], keys[3], keys[0], keys[1])
    assert raised(replace(result, near_misses=misses), 1) == [wall]


def test_a_near_miss_that_circuits_need_comes_first_unless_the_question_for_their_ways_tells_of_it() -> None:
    result = small_result()
    keys = [row.key for row in result.carriers]
    at = (0.0, 0.0, 0.0)
    misses = (
        missed(keys[0], keys[1], 20.0, ("T-001", "T-002")),
        missed(keys[2], keys[3], 60.0, ("T-003", "T-004"), is_used=True),
    )
    breaks = (
        BreakRow(keys[3], keys[2], 60.0, at, at, 3, 2, ("C7", "C8")),
        BreakRow(
            keys[4], keys[0], 2500.0, at, at, 3, 2, ("C9",)
        ),  # farther than a near miss reaches, but not than a fitting
        BreakRow(keys[4], keys[1], 3001.0, at, at, 3, 2, ("C10",)),
    )
    known = replace(result, questions=(), near_misses=misses, breaks=breaks)
    (gaps,) = raised(known)
    told = [line.split("; ")[1].split(")")[0] for line in gaps.description.split("\n") if line.startswith("- ")]
    assert told == ["C7, C8 have no way as it is", "C9 has no way as it is", "no circuit is known to need it"]
    assert gaps.circuits == ("C7", "C8", "C9")

    asking = replace(
        with_questions(asked("the way of circuit C7"), asked("the way of circuit C9")),
        near_misses=misses,
        breaks=breaks,
    )
    ways, gaps = raised(asking)
    assert "T-004 and T-003 come within 0.06 m" in ways.description
    assert gaps.title == "Question: whether these are meant to meet: T-001 / T-002"
    # what isn't asked a second time is asked all the same: a note of an earlier run that asks it isn't told to be answered
    assert set(raised(known)[0].members) <= set(all_asked(asking))


def test_near_misses_of_the_same_names_are_asked_once_and_very_many_in_one_note() -> None:
    result = small_result()
    one, other, *_ = (row.key for row in result.carriers)
    twice = tuple(missed(one, other, gap, ("T-1", "T-2")) for gap in (9.0, 7.0))
    many = tuple(missed(one, other, 10.0 + number, (f"A-{number}", "B")) for number in range(MOST_ASKED + 5))
    (gaps,) = raised(replace(result, near_misses=twice))
    assert len(gaps.members) == 1
    assert "their ends are 7 mm apart" in gaps.description
    (gaps,) = raised(replace(result, near_misses=many))
    assert len(gaps.members) == MOST_ASKED
    assert " and 5 more of this kind, in problems.csv" in gaps.description
    assert "not raised" not in gaps.description


def test_a_fitting_that_an_end_misses_is_selected_with_it() -> None:
    result = small_result()
    (gaps,) = raised(
        replace(
            result, near_misses=(missed(result.carriers[0].key, "2O2Fr$t4X7Zf8NOew3FNr2", 9.0, ("T-001", "BOX-1")),)
        )
    )
    assert gaps.carriers == (result.carriers[0].key,)
    assert [(place.global_id, place.tag) for place in gaps.cables] == [("2O2Fr$t4X7Zf8NOew3FNr2", "BOX-1")]
