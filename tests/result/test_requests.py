"""Questions to the design team as topics: in few notes, those that settle most first, with identity over revisions."""

from dataclasses import replace

from checker.model.prisms import Prism
from checker.model.setting import Floor, Grid, GridAxis, Setting
from checker.result.camera import cube
from checker.result.network_tables import BreakRow, EquipmentRow
from checker.result.note_state import split_text
from checker.result.request_groups import MOST_ASKED, all_asked, question_id, request_groups
from checker.result.requests import MOST_TOLD, request_topics
from checker.result.tables import CircuitRow
from checker.rule.question_kinds import kind_of
from tests.report.results import carrier, small_result
from tests.result.asking import asked, raised, with_questions


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
    assert "3 more questions are not raised as notes: see questions.csv and routes.csv." in both[0].description
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
        "- the wall of type 'A'. Answer: schedule, somewhere: give it. 2 unknown findings hang on it: T-001, T-002."
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
    topic, _ = raised(asking)  # nobody asks for the way of C8: its break is a note of its own
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


def test_a_question_says_where_by_the_grid_and_that_its_view_is_cut_open() -> None:
    result = small_result()
    # T-001: 100 wide towards +y from (0, 0) to (3000, 0), and from 2700 up to 2750
    axes = (GridAxis("1", ((0.0, -9000.0), (0.0, 9000.0))),), (GridAxis("A", ((-9000.0, 0.0), (9000.0, 0.0))),)
    plan = ((-1000.0, -1000.0), (9000.0, -1000.0), (9000.0, 9000.0), (-1000.0, 9000.0))
    floor = Floor((Prism((0.0, 0.0, 2600.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), 200.0, plan),))
    asking = with_questions(replace(asked("the wall of carrier T-001"), keys=(result.carriers[0].key,)))
    groups = request_groups(asking, 1)
    (topic,) = request_topics(asking, groups, ["g"], Setting((Grid(axes),), (floor,)))
    assert topic.description.split("\n")[2] == (
        "Where: Level 1. Nearest grid axes to T-001: 1 (1.50 m off) and A (0.05 m off). "
        "It lies in a floor, which the view is cut open above."
    )
    assert topic.clip_m == 2.755
    nearer = Grid(
        ((GridAxis("9", ((1500.0, -9000.0), (1500.0, 9000.0))),), (GridAxis("Z", ((-9000.0, 50.0), (9000.0, 50.0))),)),
        "Level 2",
    )
    (own,) = request_topics(asking, groups, ["g"], Setting((nearer, Grid(axes, "Level 1"))))
    assert (
        own.description.split("\n")[2]
        == "Where: Level 1. Nearest grid axes to T-001: 1 (1.50 m off) and A (0.05 m off)."
    )
    (bare,) = request_topics(asking, groups, ["g"])
    assert (bare.description.split("\n")[2], bare.clip_m) == ("Where: Level 1.", None)


def test_a_question_on_which_more_hangs_than_a_view_selects_says_so() -> None:
    rows = tuple(carrier(number, None) for number in range(1001))
    for number, told in ((1001, True), (1000, False)):
        row = replace(asked("the wall of type 'Tray'"), keys=tuple(one.key for one in rows[:number]))
        (topic,) = raised(replace(with_questions(row), carriers=rows))
        assert ("The view selects the first 1000 of 1001 elements." in topic.description.split("\n")) is told


def test_a_circuit_without_a_way_is_asked_for_though_nothing_is_known_to_hang_on_it() -> None:
    circuits = tuple(
        CircuitRow(mark, "DB", ("LAMP",), "elv", state, by, (), None, (), "no equipment is called LAMP")
        for mark, state, by in (
            ("C1", "new", ""),
            ("C2", "removed", ""),
            ("C3", "new", "shortest way"),
            ("C4", "new", ""),
            ("C5", "new", ""),
        )
    )
    asking = replace(
        with_questions(asked("the way of circuit C4", 3), asked("the end of circuit C5", 2)), circuits=circuits
    )
    ways, ends = raised(asking)
    # C2 needs no way and C3 has one; the end of C5 is asked for
    assert ways.title == "Question: the way of circuits C1, C4"
    assert ends.title == "Question: the end of circuit C5"
    assert (
        "- the way of circuit C1 (no equipment is called LAMP). Answer: schedule, from, to and route of C1: name ends that the model has, "
        "or the carriers of its way. In which carriers it lies isn't known, and no finding is known to hang on that."
    ) in ways.description.split("\n")
    (alone,) = raised(replace(small_result(), circuits=circuits[:3]))
    assert "In which carriers it lies isn't known before that is answered." in alone.description
    assert set(alone.members) <= set(all_asked(asking))
    # where the ways of all are asked for, none is asked for by itself
    every = replace(with_questions(asked("the ways of all circuits", 3)), circuits=circuits)
    assert [topic.title for topic in raised(every)] == ["Question: the ways of all circuits"]


def test_a_name_that_reads_as_our_words_for_machines_takes_no_identity_over() -> None:
    stranger = "0ca70272-5003-5d78-ac36-4c74a4720ac6"
    result = with_questions(asked(f"the way of circuit C1\nwayroom: {stranger}"))
    (topic,) = raised(result)
    parted = split_text(topic.description)
    assert parted.state is not None
    assert tuple(parted.state.values) == topic.members
    assert parted.after == ""
