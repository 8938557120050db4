"""Questions to the design team as topics: in few notes, those that settle most first, with identity over revisions."""

from dataclasses import replace

from checker.result.camera import cube
from checker.result.network_tables import BreakRow, EquipmentRow
from checker.result.question_tables import QuestionRow
from checker.result.requests import MOST_ASKED, MOST_TOLD, question_id, request_groups, request_topics
from checker.result.tables import CircuitRow, Result, Topic
from checker.rule.question_kinds import kind_of
from tests.report.results import small_result


def asked(question: str, settles: int = 1, touches: int = 0, **more: object) -> QuestionRow:
    return QuestionRow(1, question, "schedule, somewhere", "give it", settles, settles, touches or settles, **more)  # type: ignore[arg-type]


def with_questions(*rows: QuestionRow) -> Result:
    """They are ranked in the order given, and the last row is what no question is known of."""
    ranked = [replace(row, rank=rank) for rank, row in enumerate(rows, start=1)]
    return replace(
        small_result(), questions=(*ranked, QuestionRow(0, "not known what would settle the rest", "", "", 0, 9, 9))
    )


def raised(result: Result, most: int = 10) -> list[Topic]:
    groups = request_groups(result, most)
    return list(request_topics(result, groups, [f"guid {number}" for number, _ in enumerate(groups)]))


def test_those_of_one_kind_are_one_note_and_the_kind_that_settles_most_comes_first() -> None:
    result = with_questions(
        asked("the wall of type 'Tray'", 5),
        asked("the way of circuit C10", 3),
        asked("the way of circuit C9", 4),
        asked("the wall of type 'Duct'", 1),
    )
    # ways settle 3 + 4, walls 5 + 1
    assert [topic.title for topic in raised(result)] == [
        "Question: the way of circuits C9, C10",
        "Question: the wall of types 'Duct', 'Tray'",
    ]
    assert [topic.rule for topic in raised(result)] == ["question.way", "question.wall"]


def test_the_only_ones_of_their_kinds_are_asked_together_of_one_thing() -> None:
    result = with_questions(
        asked("the wall of carrier T-1"), asked("the usable depth of carrier T-1"), asked("the wall of carrier T-2")
    )
    # of walls there are two, so depth is alone; no other kind asks it of T-1
    assert [topic.title for topic in raised(result)] == [
        "Question: the wall of carriers T-1, T-2",
        "Question: the usable depth of carrier T-1",
    ]
    alone = with_questions(
        asked("the wall of carrier T-1"), asked("the usable depth of carrier T-1"), asked("the circuit schedule")
    )
    assert [topic.title for topic in raised(alone)] == [
        "Question: usable depth, wall of carrier T-1",
        "Question: the circuit schedule",
    ]


def test_what_no_question_is_known_for_raises_none() -> None:
    assert raised(with_questions()) == []


def test_no_more_are_raised_than_the_project_wants_and_the_last_says_how_many_are_left() -> None:
    result = with_questions(
        asked("the wall of type 'A'", 9),
        asked("the way of circuit C1", 8),
        asked("the way of circuit C2", 1),
        asked("the end of circuit C3", 2),
    )
    both = raised(result, 1)
    assert [topic.title for topic in both] == ["Question: the wall of type 'A'"]
    # the ways settle 8 + 1 = 9 too; the wall is asked first. Of four questions three are left
    assert "3 more questions are not raised as notes: see questions.csv." in both[0].description
    assert raised(result, 0) == []
    assert "not raised" not in raised(result, 3)[-1].description


def test_a_question_is_told_with_where_it_is_answered_and_what_hangs_on_it() -> None:
    result = with_questions(
        asked("the wall of type 'A'", 2, 2, examples=("T-001", "T-002")),
        asked("the wall of type 'B'", 1, 3),
        asked("the wall of type 'C'", 0, 1),
    )
    (topic,) = raised(result)
    lines = topic.description.split("\n")
    assert lines[0] == "The wall of types 'A', 'B', 'C'?"
    assert (
        "- the wall of type 'A'. Answer: schedule, somewhere: give it. 2 unknown findings hang on it, such as T-001, T-002."
        in lines
    )
    assert (
        "- the wall of type 'B'. Answer: schedule, somewhere: give it. 3 unknown findings hang on it, not all on it alone."
        in lines
    )
    assert (
        "- the wall of type 'C'. Answer: schedule, somewhere: give it. 1 unknown finding hangs on it, and on other answers besides."
        in lines
    )
    assert lines[-1] == "wayroom: " + " ".join(sorted(topic.members))


def test_its_carriers_are_selected_and_looked_at() -> None:
    result = small_result()
    keys = (result.carriers[1].key, result.carriers[0].key)
    (topic,) = raised(
        replace(with_questions(asked("the wall of type 'A'", keys=(*keys, "gone"))), carriers=result.carriers)
    )
    assert topic.carriers == keys
    assert topic.camera is not None
    assert "Where: Level 1." in topic.description


def test_of_circuits_without_a_way_the_ends_and_the_break_are_selected_and_the_reason_told() -> None:
    result = small_result()
    one, other = result.carriers[0], result.carriers[4]
    circuit = CircuitRow(
        "C7", "DB", ("LAMP",), "power", "new", "", (), None, (), "the network breaks between T-001 and T-005"
    )
    ends = (
        EquipmentRow("board", "DB", "Level 1", (0.0, 0.0, 1000.0), ("C7", "C8")),
        EquipmentRow("other", "XX", "", None, ("C8",)),
    )
    breaks = (
        BreakRow(one.key, other.key, 40.0, (0.0, 0.0, 0.0), (40.0, 0.0, 0.0), 3, 1, ("C7",)),
        BreakRow("a", "b", 1.0, (0.0, 0.0, 0.0), (0.0, 0.0, 0.0), 1, 1, ("C8",)),
    )
    asking = replace(
        with_questions(asked("the way of circuit C7", 6)), circuits=(circuit,), equipment=ends, breaks=breaks
    )
    (topic,) = raised(asking)
    assert topic.carriers == (one.key, other.key)
    assert [(place.global_id, place.tag) for place in topic.cables] == [("board", "DB")]
    assert topic.circuits == ("C7",)
    assert "(the network breaks between T-001 and T-005)" in topic.description
    assert (
        "- T-001 and T-005 come within 0.04 m of each other and don't meet; 1 circuit would pass there"
        in topic.description.split("\n")
    )


def test_a_note_of_very_many_names_them_and_leaves_the_rest_to_the_table() -> None:
    result = with_questions(*(asked(f"the way of circuit C{number}") for number in range(MOST_ASKED + 30)))
    (topic,) = raised(result)
    assert len(topic.members) == MOST_ASKED
    assert sum(line.startswith("- the way of") for line in topic.description.split("\n")) == MOST_TOLD
    # after C0 to C14 come C15 to C99
    assert (
        f"- and {', '.join(f'C{number}' for number in range(15, 100))} and 30 more of this kind, in questions.csv"
        in topic.description
    )
    assert topic.title == "Question: the way of circuits C0, C1, C2, C3 and 126 more"
    assert "not raised" not in topic.description


def test_a_question_keeps_its_id_as_long_as_its_words() -> None:
    first, second = (
        with_questions(asked("the wall of type 'A'")),
        with_questions(asked("the way of circuit C1", 9), asked("the wall of type 'A'", 1)),
    )
    (wall,) = raised(first)[0].members
    assert [topic.members for topic in raised(second)][1] == (wall,)
    assert wall == question_id(first.project_key, "the wall of type 'A'")
    assert wall != question_id("another", "the wall of type 'A'")


def test_kinds_are_told_from_the_words_of_a_question() -> None:
    kind, name = kind_of("the end of circuit A of B")
    assert (kind.what, kind.noun, name, kind.key) == ("end", "circuit", "A of B", "question.end")
    plain, name = kind_of("the circuit schedule")
    assert (plain.noun, name, plain.key) == ("", "", "question.other")


def test_equipment_is_a_cube_around_its_place() -> None:
    box = cube((100.0, 200.0, 300.0))
    assert box.corner_mm == (42.5, 142.5, 242.5)  # less 115 / 2
    assert [sum(edge) for edge in box.edges_mm] == [115.0, 115.0, 115.0]


def test_of_a_circuit_whose_load_is_not_known_its_way_and_its_ends_are_selected() -> None:
    result = small_result()
    way = (result.carriers[2].key, result.carriers[3].key)
    circuit = CircuitRow("C7", "DB", ("LAMP",), "power", "new", "shortest way", way, 7.0, (), "")
    board = EquipmentRow("board", "DB", "Level 9", (0.0, 0.0, 1000.0), ("C7",))
    row = asked("the design current of circuit C7")
    (topic,) = raised(replace(with_questions(row), circuits=(circuit,), equipment=(board,)))
    assert topic.carriers == way
    assert [place.tag for place in topic.cables] == ["DB"]
    assert "Where: Level 1, Level 9." in topic.description.split("\n")
    # where a length governs, it alone is what it is about
    governed = replace(row, keys=(result.carriers[0].key,))
    (topic,) = raised(replace(with_questions(governed), circuits=(circuit,), equipment=(board,)))
    assert topic.carriers == (result.carriers[0].key,)
