"""Where the model draws cables that no circuit of the schedule owns, nothing passes on the strength of what the schedule says.

T1 and T2 are trunkings 50 × 50 in line along x, 4 m and 2 m long; inside, with walls of 1 mm, 48 × 48 = 2304 mm².
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace

import pytest

from checker.checking import check_installation
from checker.model import (
    Carrier,
    CarrierKind,
    Circuit,
    Fitting,
    FittingKind,
    Installation,
    LoadedCompartment,
    ModelCable,
    ModelCircuit,
    Place,
    ProblemKind,
    Section,
    Service,
    State,
)
from checker.network.drawn_bodies import MOST_AROUND
from checker.network.drawn_loose import Loose, loose_cables
from checker.network.loading import Loading, load
from checker.network.routing import route_all
from checker.result.accounting import exit_status
from checker.result.tables import Result
from checker.rule.plugins import load_plugins
from tests.installations import STEEL_50, carrier, circuit, fitting, installation, lanes, outlet

PLUGINS = load_plugins()
BS = PLUGINS.codes["bs-7671"]
T1, T2 = carrier("T1", (0, 0, 0), (4000, 0, 0)), carrier("T2", (4000, 0, 0), (6000, 0, 0))
ENDS = (outlet("DB", (0, 300, 0)), outlet("S1", (6000, 200, 0)))
LOAD: dict[str, float | str] = {"design_current_a": 8.0, "device_rating_a": 10.0, "loaded_conductors": 2}
P1 = circuit("P1", "DB", "S1", count=3, electrical=LOAD)
DOUBT = "the model draws cables there that no circuit of the schedule owns: "


def drawn(name: str, *points: Sequence[float], marks: tuple[str, ...] = ()) -> ModelCable:
    path = tuple((float(x), float(y), float(z)) for x, y, z in points)
    return ModelCable(Place(name, "test.ifc", tag=name), marks or (name,), path_mm=path)


def model(
    *cables: ModelCable, circuits: Sequence[Circuit] = (P1,), also: Sequence[Carrier] = (), **more: object
) -> Installation:
    return installation(T1, T2, *also, *ENDS, *circuits, model_cables=cables, **more)


def found(*cables: ModelCable, **more: object) -> dict[str, str]:
    return loose_cables(model(*cables, **more)).doubts  # type: ignore[arg-type]


def loaded(inst: Installation) -> Loading:
    return load(inst, route_all(inst), BS.sizes)


def checked(inst: Installation) -> Result:
    return check_installation(inst, BS, PLUGINS, now="2026-01-01T00:00:00Z")


IN_T1 = drawn("CB-1", (500, 0, 0), (3000, 0, 0))
IN_BOTH = drawn("CB-1", (0, 300, 0), (0, 0, 0), (6000, 0, 0), (6000, 200, 0))


def test_a_cable_of_no_circuit_is_found_in_the_carriers_along_which_it_leads() -> None:
    assert found(IN_BOTH) == {"T1": f"{DOUBT}CB-1", "T2": f"{DOUBT}CB-1"}
    assert found(IN_T1) == {"T1": f"{DOUBT}CB-1"}


def test_what_crosses_a_carrier_or_lies_beside_it_isnt_in_it() -> None:
    across = drawn("CB-1", (1000, -2000, 0), (1000, 2000, 0))
    beside = drawn("CB-2", (0, 40, 0), (6000, 40, 0))  # half of 50 and the tolerance of 10 reach to 35
    assert found(across, beside) == {}


def test_the_cables_of_a_carrier_are_named_as_people_count_and_each_once() -> None:
    cables = [drawn(f"CB-{number}", (500, 0, 0), (3000, 0, 0)) for number in (10, 2, 1)]
    assert found(*cables, replace(cables[0], diameter_mm=9.0)) == {"T1": f"{DOUBT}CB-1, CB-2, CB-10"}


def test_short_pieces_that_are_each_a_cable_of_its_own_are_found() -> None:
    """40 mm each, less than the 50 mm of a side: half of its own length is what each of them must run along."""
    pieces = [drawn(f"CB-{n}", (1000 + 40 * n, 0, 0), (1040 + 40 * n, 0, 0)) for n in range(3)]
    assert found(*pieces) == {"T1": f"{DOUBT}CB-0, CB-1, CB-2"}


def test_a_cable_drawn_in_pieces_is_found_where_they_lie() -> None:
    apart = ModelCable(
        Place("CB-1", "test.ifc", tag="CB-1"),
        ("CB-1",),
        pieces_mm=(((500.0, 0.0, 0.0), (900.0, 0.0, 0.0)), ((5000.0, 0.0, 0.0), (5500.0, 0.0, 0.0))),
    )
    assert set(found(apart)) == {"T1", "T2"}


@pytest.mark.parametrize("state", [State.NEW, State.EXISTING, State.SPARE, State.REMOVED])
def test_a_cable_that_a_circuit_owns_by_its_mark_is_none_of_them_a_removed_circuits_neither(state: State) -> None:
    assert found(IN_BOTH, circuits=(P1, circuit("CB-1", "DB", "S1", state=state))) == {}
    assert set(found(IN_BOTH, circuits=(P1, circuit("CB-2", "DB", "S1", state=state)))) == {"T1", "T2"}


def test_a_cable_of_the_one_circuit_of_the_model_that_a_mark_means_is_owned_and_of_two_it_isnt() -> None:
    nameless = replace(IN_BOTH, marks=())
    theirs = ModelCircuit("DB/1", "test.ifc", "IfcGroup", marks=("p1",), cables=(nameless,))
    assert found(nameless, model_circuits=(theirs,)) == {}
    assert set(found(nameless, model_circuits=(theirs, replace(theirs, mark="DB/2")))) == {"T1", "T2"}


def test_a_cable_that_two_models_have_is_owned_if_it_is_in_one_of_them() -> None:
    one = replace(IN_BOTH, place=Place("0abc", "one.ifc", tag="CB-1"))
    other = replace(IN_BOTH, place=Place("0abc", "two.ifc", tag="CB-1"), marks=("P1",))
    assert found(one, other) == {}
    assert set(found(one, replace(other, place=Place("0xyz", "two.ifc")))) == {"T1", "T2"}


def test_without_a_schedule_or_a_path_nothing_is_found() -> None:
    assert found(IN_BOTH, is_scheduled=False) == {}
    assert found(replace(IN_BOTH, path_mm=())) == {}
    assert found(IN_BOTH) != {}


def test_neither_the_order_of_cables_and_carriers_nor_the_way_in_which_a_line_is_drawn_changes_anything() -> None:
    beside = carrier("T3", (0, 20, 0), (4000, 20, 0))  # a line midway between both
    lines = [drawn("CB-1", (0, 10, 0), (4000, 10, 0)), drawn("CB-2", (0, 15, 0), (4500, 0, 0)), IN_T1]
    answers: list[Loose] = []
    for some, ways in itertools.product(itertools.permutations(lines), (1, -1)):
        for carriers in itertools.permutations((T1, T2, beside)):
            turned = tuple(replace(cable, path_mm=cable.path_mm[::ways]) for cable in some)
            answers.append(loose_cables(installation(*carriers, *ENDS, P1, model_cables=turned)))
    assert answers[0].doubts
    assert all(answer == answers[0] for answer in answers)


def test_where_too_much_lies_around_to_tell_it_may_be_anywhere_and_that_is_told() -> None:
    crowd = [carrier(f"K{number}", (0, 5000, 0), (400, 5000, 0)) for number in range(MOST_AROUND + 1)]
    inside = drawn("CB-1", (100, 5000, 0), (300, 5000, 0))
    answer = loose_cables(model(inside, also=crowd))
    assert answer.everywhere.endswith("to tell where they lie: CB-1")
    (problem,) = answer.problems
    assert (problem.where, problem.kind) == ("CB-1", ProblemKind.GAP)
    few = loose_cables(model(inside, also=crowd[:3]))
    assert few.everywhere == ""
    assert len(few.doubts) == 1


def by_place(loading: Loading) -> dict[tuple[str, int], LoadedCompartment]:
    return {(item.carrier.key, item.number): item for item in loading.compartments}


def test_what_may_be_anywhere_leaves_every_compartment_open(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("checker.network.drawn_bodies.MOST_AROUND", 0)
    for item in loaded(model(IN_T1)).compartments:
        assert item.unbounded
        assert "to tell where they lie: CB-1" in item.possible_doubts[0]


def test_each_compartment_of_such_a_carrier_is_open_and_no_other_is() -> None:
    divided = replace(T1, section=Section(100.0, 50.0, wall_mm=1.0, lanes=lanes(Service.POWER, Service.DATA)))
    loading = loaded(installation(divided, T2, *ENDS, P1, model_cables=(IN_T1,)))
    places = by_place(loading)
    assert {place: item.unbounded for place, item in places.items()} == {
        ("T1", 1): True,
        ("T1", 2): True,
        ("T2", 1): False,
    }
    assert places["T1", 1].possible_doubts[-1:] == places["T1", 2].possible_doubts == (f"{DOUBT}CB-1",)
    assert places["T2", 1].possible_doubts == ()
    (problem,) = [problem for problem in loading.problems if problem.kind is ProblemKind.GAP]
    assert (problem.where, problem.what, problem.elements) == ("T1", f"{DOUBT}CB-1", 1)


def test_a_place_where_such_a_carrier_meets_others_is_no_surer() -> None:
    """P and D pass the tee in compartments of their own; of what the model draws in C it isn't known whether it passes too."""
    section = replace(STEEL_50, lanes=lanes(Service.POWER, Service.DATA))
    ends = {"A": (0.0, 0.0, 0.0), "B": (2000.0, 0.0, 0.0), "C": (1000.0, 1000.0, 0.0)}
    parts: list[Carrier | Fitting] = [carrier(key, end, (1000, 0, 0), section) for key, end in ends.items()]
    parts.append(fitting("TEE", (1000, 0, 0), FittingKind.TEE, 60.0))
    circuits = (circuit("P", "A", "B"), circuit("D", "A", "B", service=Service.DATA))
    (sure,) = loaded(installation(*parts, *circuits)).fittings
    (open_,) = loaded(
        installation(*parts, *circuits, model_cables=(drawn("CB-1", (1000, 200, 0), (1000, 900, 0)),))
    ).fittings
    assert (sure.unbounded, open_.unbounded) == (False, True)
    assert open_.possible_doubts == ("what lies in C isn't known",)


#: The rules that must notice such a cable; what rules that come later ask may be something that it doesn't bear on.
FAMILIES = {"fill", "segregation", "grouping"}


def verdicts(result: Result) -> dict[tuple[str, str], str]:
    """By rule and the carrier or circuit that it is about."""
    return {
        (row.rule, row.circuits[0] if row.is_of_circuit else row.carriers[0]): row.verdict
        for row in result.findings
        if row.rule.split(".")[0] in FAMILIES
    }


def test_a_carrier_with_such_a_cable_is_unknown_and_so_is_the_rating_of_what_passes_it() -> None:
    """3 cables of 10 mm fill 3 · π · 25 = 236 of 2304 mm², 10 %, far below 45 %. Alone, 2.5 mm² carries far more than 10 A."""
    without, with_it = checked(model()), checked(model(IN_T1))
    about = verdicts(without)
    assert set(about.values()) == {"pass"}
    of_t1 = {key for key in about if key[1] in {"T1", "P1"}}
    assert {rule.split(".")[0] for rule, _ in of_t1} == FAMILIES
    assert verdicts(with_it) == {key: "unknown" if key in of_t1 else "pass" for key in about}
    told = [row for row in with_it.findings if row.rule.split(".")[0] in FAMILIES]
    for row in told:
        assert (f"{DOUBT}CB-1" in row.reason) == (row.verdict == "unknown")
    assert [row.worst_verdict for row in with_it.compartments if row.carrier == "T1"] == ["unknown"]
    assert (exit_status(without), exit_status(with_it)) == (0, 3)


def test_an_empty_carrier_with_such_a_cable_is_not_taken_for_empty() -> None:
    spare = carrier("T3", (0, 5000, 0), (4000, 5000, 0))
    result = checked(model(drawn("CB-1", (0, 5000, 0), (4000, 5000, 0)), also=(spare,)))
    (row,) = [row for row in result.compartments if row.carrier == "T3"]
    assert (row.verdict, row.cables, row.fill) == ("unknown", None, None)


def test_what_fails_without_such_a_cable_fails_with_it() -> None:
    """14 cables of 10 mm take 14 · π · 25 = 1100 of 2304 mm²: 47.7 %, over 45 %."""
    assert 0.45 < 14 * math.pi * 25.0 / 2304.0 < 0.48
    result = checked(model(IN_T1, circuits=(replace(P1, cables=(replace(P1.cables[0], count=14),)),)))
    assert {key: verdict for key, verdict in verdicts(result).items() if key[0].startswith("fill")} == {
        ("fill.compartment", "T1"): "fail", ("fill.compartment", "T2"): "fail",
    }  # fmt: skip


def test_a_tray_on_which_such_a_cable_lies_is_unknown_too() -> None:
    tray = carrier("T3", (0, 5000, 0), (4000, 5000, 0), Section(300.0, 60.0, usable_depth_mm=50.0), CarrierKind.TRAY)
    tray = replace(tray, across=(0.0, 1.0, 0.0))
    lying = drawn("CB-1", (0, 5100, 60), (4000, 5100, 60))  # 100 mm beside its axis, 30 mm above its rim
    assert set(found(lying, also=(tray,))) == {"T3"}
