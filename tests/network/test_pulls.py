"""Runs as cables are drawn through them: what there is of them, in order, and what lies in them."""

import math
from dataclasses import replace

import pytest

from checker.model import Carrier, FittingKind, Installation, LoadedRun, Port, Section, Vec
from checker.network.loading import load
from checker.network.pulls import loaded_runs
from checker.network.routing import route_all
from checker.network.runs import find_orders
from checker.rule.plugins import load_plugins
from tests.installations import carrier, circuit, fitting, installation, outlet
from tests.model.test_turns import bend
from tests.model.test_turns import conduit as curved
from tests.network.joined import conduit

SIZES = load_plugins().codes["bs-7671"].sizes


def runs_of(inst: Installation) -> dict[str, LoadedRun]:
    routing = route_all(inst)
    runs = list(loaded_runs(routing, load(inst, routing, SIZES)))
    return {item.key: run for run in runs for item in run.carriers}


def figures(run: LoadedRun) -> list[tuple[str, float | None, float | None, float | None]]:
    """Of each piece its label, length and rise in m, and turn, rounded so that they can be compared."""
    return [
        (
            piece.label,
            *(
                None if figure is None else round(figure, 6)
                for figure in (piece.length_m, piece.rise_m, piece.turn_deg)
            ),
        )
        for piece in run.pieces
    ]


def riser(*more: Carrier, **fields: object) -> Installation:
    """From a box along x, by a bend aside, by another down to a second box."""
    return installation(
        fitting("X", (-30, 0, 0)), conduit("C3", (0, 0, 0), (2000, 0, 0)),
        fitting("B1", (2000, 0, 0), FittingKind.BEND, 60.0),
        conduit("C1", (2000, 1000, 0), (2000, 0, 0)),  # drawn against the way
        fitting("B2", (2000, 1000, 0), FittingKind.BEND, 60.0),
        conduit("C2", (2000, 1000, 0), (2000, 1000, -1500)), fitting("Y", (2000, 1000, -1530)), *more, **fields,
    )  # fmt: skip


def test_the_pieces_of_a_run_are_in_order_from_one_end_to_the_other() -> None:
    # it begins at the end whose conduit's key comes first: C2 at the bottom, 1.5 m up, 1 m and 2 m on the level
    run = runs_of(riser())["C1"]
    assert [item.key for item in run.carriers] == ["C2", "C1", "C3"]
    assert run.ends == ("Y", "X")
    assert figures(run) == [
        ("C2", 1.5, 1.5, 0.0), ("B2", 0.0, 0.0, 90.0), ("C1", 1.0, 0.0, 0.0), ("B1", 0.0, 0.0, 90.0), ("C3", 2.0, 0.0, 0.0),
    ]  # fmt: skip
    assert run.is_whole
    assert run.bends_least_deg == pytest.approx(180.0)


def test_pieces_come_to_the_length_and_the_turn_of_their_run() -> None:
    for run in runs_of(riser()).values():
        assert math.fsum(piece.length_m or 0.0 for piece in run.pieces) == pytest.approx(run.run.length_m)
        assert math.fsum(piece.turn_deg or 0.0 for piece in run.pieces) == pytest.approx(run.run.bends_deg)


def test_the_order_of_elements_changes_nothing() -> None:
    inst = riser()
    turned = replace(inst, carriers=inst.carriers[::-1], fittings=inst.fittings[::-1])
    one, other = runs_of(inst)["C1"], runs_of(turned)["C1"]
    assert (one.pieces, one.ends, one.carriers) == (other.pieces, other.ends, other.carriers)


def test_gaps_between_ends_and_centres_count_and_two_bends_in_a_row_turn_twice() -> None:
    bends = [replace(fitting(f"B{n}", (2000, y, 0), FittingKind.BEND), body=None) for n, y in ((1, 0.0), (2, 300.0))]
    ports = (
        Port("p1", "C1", (1950, 0, 0), ("p2",)), Port("p2", "B1", (1950, 0, 0), ("p1",)),
        Port("p3", "B1", (2000, 150, 0), ("p4",)), Port("p4", "B2", (2000, 150, 0), ("p3",)),
        Port("p5", "B2", (2050, 300, 0), ("p6",)), Port("p6", "C2", (2050, 300, 0), ("p5",)),
    )  # fmt: skip
    pair = (conduit("C1", (0, 0, 0), (1950, 0, 0)), conduit("C2", (2050, 300, 0), (4000, 300, 0)))
    run = runs_of(installation(fitting("X", (-30, 0, 0)), fitting("Y", (4030, 300, 0)), *pair, *bends, ports=ports))[
        "C1"
    ]
    assert figures(run) == [
        ("C1", 1.95, 0.0, 0.0), ("B1", 0.05, 0.0, 0.0), ("B1", 0.0, 0.0, 90.0), ("B2", 0.3, 0.0, 0.0),
        ("B2", 0.0, 0.0, 90.0), ("B2", 0.05, 0.0, 0.0), ("C2", 1.95, 0.0, 0.0),
    ]  # fmt: skip


def test_a_bent_conduit_brings_its_radius_and_turns_no_more_at_its_joints() -> None:
    # an arc of 90° alone, between two straights that touch it: without its tangents it were 90 + 2 · 7.5°
    arc = replace(
        curved(bend(100.0, 90.0, 0.0, 0.0)), key="C2", section=Section(outside_diameter_mm=20.0, source="test")
    )
    pair = (conduit("C1", (-1000, -100, 0), (0, -100, 0)), conduit("C3", (100, 0, 0), (100, 2000, 0)))
    run = runs_of(installation(fitting("X", (-1030, -100, 0)), fitting("Y", (100, 2030, 0)), *pair, arc))["C2"]
    assert run.run.bends_deg == pytest.approx(90.0)
    assert [(piece.turn_deg, piece.radius_mm) for piece in run.pieces if piece.turn_deg] == [
        (pytest.approx(90.0), pytest.approx(100.0))
    ]


def test_a_run_that_may_go_on_is_not_whole_but_what_is_known_of_it_counts() -> None:
    inst = installation(
        fitting("X", (-30, 0, 0)), conduit("C1", (0, 0, 0), (2000, 0, 0)), conduit("C2", (2000, 0, 0), (2000, 900, 0))
    )
    run = runs_of(inst)["C1"]
    assert (run.is_whole, run.run.bends_deg) == (False, None)
    assert run.bends_least_deg == pytest.approx(90.0)
    assert run.ends == ("X", "")


def test_of_one_that_something_joins_half_way_nothing_is_known_as_a_whole() -> None:
    boxes = fitting("X", (-30, 0, 0)), fitting("Y", (2000, 1030, 0))
    inst = installation(
        conduit("C1", (0, 0, 0), (2000, 0, 0)), conduit("C2", (2000, 0, 0), (2000, 1000, 0)),
        conduit("T", (1000, 0, 0), (1000, -800, 0)), *boxes,
    )  # fmt: skip
    assert runs_of(inst)["C1"].bends_least_deg is None


def test_a_ring_of_conduit_has_no_end_to_draw_in_from() -> None:
    corners = [(0.0, 0.0, 0.0), (1000.0, 0.0, 0.0), (1000.0, 1000.0, 0.0)]
    ring = [conduit(f"C{n}", corners[n], corners[(n + 1) % 3]) for n in range(3)]
    routing = route_all(installation(*ring))
    (order,) = find_orders(routing.network, routing.landings)
    assert order.is_ring
    assert not runs_of(installation(*ring))["C1"].is_whole


def test_an_unknown_way_is_an_unknown_piece() -> None:
    unknown = replace(conduit("C1", (0, 0, 0), (2000, 0, 0)), turn_deg=None)
    run = runs_of(installation(fitting("X", (-30, 0, 0)), fitting("Y", (2030, 0, 0)), unknown))["C1"]
    assert figures(run) == [("C1", 2.0, 0.0, None)]


def test_of_each_cable_the_most_that_lie_in_one_conduit_are_drawn_through() -> None:
    # the lamp's cables leave C3 half-way, the motor's pass all: through the run go at most 2 and 3, however many conduits there are
    lamp, motor, board = outlet("L", (1000, -50, 0)), outlet("M", (2000, 1000, -1700)), outlet("DB", (-200, 0, 0))
    ones = circuit("W2", "DB", "L", count=2), circuit("W10", "DB", "M", count=3)
    run = runs_of(riser(lamp, motor, board, *ones))["C2"]  # type: ignore[arg-type]
    assert [(cable.circuit, cable.count) for cable in run.cables] == [("W2", 2), ("W10", 3)]
    # whether the lamp's pass the bends beyond C3 isn't known: in the run's favour they don't, against it they do
    assert [cable.circuit for cable in run.least_loaded().cables] == ["W10"]
    assert [cable.circuit for cable in run.least_loaded().possible] == ["W2"]
    assert {cable.circuit for cable in run.most_loaded().cables} == {"W2", "W10"}
    assert [cable.circuit for cable in run.most_loaded().perhaps] == ["W2"]
    assert run.doubts == ("cables of W2 don't pass all of its conduits",)


def test_that_a_cable_leaves_a_run_half_way_is_known() -> None:
    board, motor = outlet("DB", (-200, 0, 0)), outlet("M", (2000, 1000, -1700))
    through = runs_of(riser(board, motor, circuit("W1", "DB", "M")))["C2"]  # type: ignore[arg-type]
    assert not through.is_left
    for point in ((1000.0, -50.0, 0.0), (2000.0, -50.0, 0.0)):  # in the middle of C3, and where it meets C1 in a bend
        lamp = outlet("L", point)
        run = runs_of(riser(board, motor, lamp, circuit("W1", "DB", "M"), circuit("W2", "DB", "L")))["C2"]  # type: ignore[arg-type]
        assert (run.is_whole, run.is_left) == (True, True)


def test_what_lies_in_one_conduit_for_certain_and_may_lie_in_the_next_is_drawn_through_once() -> None:
    inst = riser(outlet("DB", (-200, 0, 0)), outlet("M", (2000, 1000, -1700)), circuit("W1", "DB", "M", count=3))  # type: ignore[arg-type]
    routing = route_all(inst)
    loading = load(inst, routing, SIZES)
    # as of a way with a gap: certain in C3 alone, in the others it may be
    some = tuple(
        item if item.carrier.key == "C3" else replace(item, cables=(), possible=item.cables)
        for item in loading.compartments
    )
    (run,) = loaded_runs(routing, replace(loading, compartments=some))
    assert [cable.count for cable in run.cables] == [3]
    assert (run.possible, run.partly) == ((), run.cables)
    # two more that may lie in C2 are two more
    more = tuple(replace(item, possible=tuple(replace(cable, count=5) for cable in item.possible)) for item in some)
    (run,) = loaded_runs(routing, replace(loading, compartments=more))
    assert [cable.count for cable in run.possible] == [2]


def test_the_narrowest_and_the_widest_of_its_conduits_are_told_with_the_wall_both_ways() -> None:
    # no wall is known: between 0 and 4 mm (the code's thickest); 16 mm outside is the narrowest, 25 mm the widest
    wide = Section(outside_diameter_mm=25.0, source="test")
    narrow = Section(outside_diameter_mm=16.0, source="test")
    inst = installation(
        fitting("X", (-30, 0, 0)), conduit("C1", (0, 0, 0), (2000, 0, 0), wide), conduit("C2", (2000, 0, 0), (3000, 0, 0), narrow),
        fitting("Y", (3030, 0, 0)),
    )  # fmt: skip
    run = runs_of(inst)["C1"]
    assert (run.bore_mm, run.widest_mm, run.outside_mm) == (16.0, 25.0, 16.0)
    assert run.bore_least_mm == pytest.approx(8.0)
    nothing = replace(inst, carriers=(inst.carriers[0], replace(inst.carriers[1], section=Section(source="test"))))
    assert (runs_of(nothing)["C1"].bore_mm, runs_of(nothing)["C1"].outside_mm) == (None, None)


def test_trunking_is_no_run() -> None:
    assert runs_of(installation(carrier("T", (0, 0, 0), (2000, 0, 0)))) == {}


@pytest.mark.parametrize(
    "placed", [(2000.0, 0.0, 0.0), (1900.0, 0.0, 0.0), (1960.0, 40.0, 0.0)]
)  # corner, one end, middle
def test_a_bend_that_is_drawn_as_an_arc_takes_the_place_of_the_straights_beside_its_corner(placed: Vec) -> None:
    # R = 100: conduits end 100 mm before the corner at (2000, 0, 0), the second goes up; the arc is 100 · π/2 long and rises 100 mm
    bend_ = replace(fitting("B", placed, FittingKind.BEND, 220.0), radius_mm=100.0)
    ports = (
        Port("p1", "C1", (1900, 0, 0), ("p2",)), Port("p2", "B", (1900, 0, 0), ("p1",)),
        Port("p3", "B", (2000, 0, 100), ("p4",)), Port("p4", "C2", (2000, 0, 100), ("p3",)),
    )  # fmt: skip
    pair = (conduit("C1", (0, 0, 0), (1900, 0, 0)), conduit("C2", (2000, 0, 100), (2000, 0, 1100)))
    inst = installation(fitting("X", (-30, 0, 0)), *pair, bend_, fitting("Y", (2000, 0, 1130)), ports=ports)
    run = runs_of(inst)["C1"]
    assert figures(run) == [
        ("C1", 1.9, 0.0, 0.0), ("B", round(0.1 * math.pi / 2, 6), 0.1, 90.0), ("C2", 1.0, 1.0, 0.0),
    ]  # fmt: skip
