"""Ratings of random installations are what a second, slow and plain implementation gives.

``tests/oracle_ratings.py`` was written from the readings of the trade and the tables alone, by somebody who didn't look at checker/ or
rules/. Where the two differed, each difference was settled by what is safe, in the rule or here. Its own
cases come first: each expected figure is worked beside it.
"""

import math
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from hypothesis import Phase, event, given, settings
from hypothesis import strategies as st

from checker.checking import check_installation
from checker.model import Installation
from checker.model.installation import Laying, Surroundings
from checker.rule.plugins import load_plugins
from tests import oracle
from tests.oracle_ratings import rate
from tests.test_against_oracle import cases, installed

# Copper sizes with ratings of devices about what they carry alone, some less, some more.
DEVICES = {1.5: (6, 10, 16), 2.5: (6, 16, 20), 4.0: (10, 20, 25), 6.0: (16, 25, 32), 10.0: (20, 40, 50), 16.0: (32, 50, 63),
           25.0: (40, 63, 100), 50.0: (63, 100, 125), 95.0: (100, 160, 200)}  # fmt: skip
SIZES = list(DEVICES)

PLUGINS = load_plugins()


def cable(csa: float | None, count: int | None = 1, cores: int | None = 1, **more: Any) -> dict[str, Any]:
    made = {"count": count, "diameter": 5.0, "csa": csa, "cores": cores, "stranded": None, "rated": None}
    return {**made, "conductor": "copper", "insulation": "PVC", **more}


def circuit(mark: str, *cables: dict[str, Any], **more: Any) -> dict[str, Any]:
    electrical = {key: more.pop(key) for key in list(more) if key not in ("sets", "service", "calls", "state")}
    calls = more.get("calls", ["E1"])  # what the schedule has in `to`; a route goes to the first
    made = {"mark": mark, "from": "E0", "to": calls[0], "calls": calls, "service": "power", "state": "new"}
    made |= {"compartment": None, "voltage": 230.0, "cables": list(cables), "electrical": electrical, "sets": 1}
    return made | more


def case(*circuits: dict[str, Any], **more: Any) -> dict[str, Any]:
    """One carrier of 3 m, from E0 to E1."""
    carrier = {
        "id": "K0",
        "kind": "trunking",
        "start": [0.0, 0.0, 0.0],
        "end": [3000.0, 0.0, 0.0],
        "width": 100.0,
        "height": 50.0,
    }
    carrier |= {"diameter": None, "wall": 1.0, "depth": None, "material": "", "storey": "L0", "installed": None}
    carrier |= {"lanes": [{"width": None, "services": None}], "single_layer": None, "perforated": None, "tiers": None}
    equipment = [{"id": f"E{n}", "point": [3000.0 * n, 100.0, 0.0], "storey": "L0"} for n in (0, 1)]
    terminations = {"E0": 90, "E1": 90} if more.pop("hot_ends", False) else {}
    data = {"reach_mm": 500.0, "tray_limit": None, "carriers": [carrier | more], "equipment": equipment}
    return {**data, "circuits": list(circuits), "terminations": terminations}


def worked(data: dict[str, Any], code: str = "bs-7671") -> dict[str, tuple[Any, ...] | None]:
    rows = rate(data, oracle.check(data)["routes"], code)
    return {mark: row and (row["verdict"], row["capacity"], row["required"], row["cg"]) for mark, row in rows.items()}


def found(verdict: str, capacity: float, required: float, cg: float) -> tuple[Any, ...]:
    return verdict, pytest.approx(capacity, rel=1e-12), required, pytest.approx(cg, rel=1e-12)


def pair(mark: str, load: float | None, rating: float, csa: float = 2.5, **more: Any) -> dict[str, Any]:
    loaded = {} if load is None else {"design_current_a": load}
    return circuit(mark, cable(csa, 2), loaded_conductors=2, device_rating_a=rating, **loaded, **more)


def test_two_light_circuits_of_six_are_left_out_for_the_other_four() -> None:
    # B1, 2.5 mm², 2 loaded: 24 A. Six: 0.57, and 30 % of 24 × 0.57 is 4.104 A, so 4 A is light. Four: 0.65.
    heavy, light = [pair(f"H{n}", 12.0, 16) for n in range(4)], [pair(f"L{n}", 4.0, 6) for n in range(2)]
    rows = worked(case(*heavy, *light))
    assert [rows[c["mark"]] for c in heavy] == [found("fail", 24 * 0.65, 16, 0.65)] * 4
    assert [rows[c["mark"]] for c in light] == [found("pass", 24 * 0.57, 6, 0.57)] * 2
    rows = worked(case(*heavy, *[pair(f"L{n}", 4.2, 6) for n in range(2)]))  # above 30 %: nobody is left out
    assert rows["H0"] == found("fail", 24 * 0.57, 16, 0.57)


def test_circuits_of_unknown_load_may_be_light_or_not() -> None:
    # B1, 2.5 mm², 2 loaded: 24 A. Six: 24 × 0.57 = 13.68 A. Without the two: 24 × 0.65 = 15.6 A.
    # One of them beside the four: 24 × 0.6 = 14.4 A.
    def rows(rating: float) -> dict[str, Any]:
        return worked(
            case(*[pair(f"H{n}", 12.0, rating) for n in range(4)], *[pair(f"L{n}", None, 14) for n in range(2)])
        )

    assert rows(13)["H0"] == found("pass", 13.68, 13, 0.57)
    assert rows(15)["H0"] == ("unknown", None, 15, None)
    assert rows(16)["H0"] == found("fail", 15.6, 16, 0.65)
    assert rows(13)["L0"] == ("unknown", None, 14, None)  # 14.4 A if it isn't light and the other is
    heavier = [pair(f"H{n}", 12.0, 13) for n in range(4)] + [pair(f"L{n}", None, 15) for n in range(2)]
    assert worked(case(*heavier))["L0"] == found("fail", 14.4, 15, 0.6)


def test_four_circuits_of_singles_with_ends_for_90_c_at_40_c() -> None:
    # B1, XLPE, 16 mm², 3 loaded: 88 A; 40 °C: 0.91; four: 0.65. By PVC columns: 68 A and 0.87.
    wires = cable(16.0, 3, insulation="XLPE")
    given = {"loaded_conductors": 3, "ambient_c": 40, "design_current_a": 40, "device_rating_a": 50}
    circuits = [circuit(f"C{n}", wires, **given) for n in range(4)]
    assert worked(case(*circuits, hot_ends=True))["C0"] == found("pass", 88 * 0.65 * 0.91, 50, 0.65)
    assert worked(case(*circuits))["C0"] == found("fail", 68 * 0.65 * 0.87, 50, 0.65)


def test_sizes_far_apart_take_one_over_the_root() -> None:
    circuits = [pair("A", 9.0, 10), pair("B", 19.0, 20, 6.0), pair("C", 19.0, 20, 6.0), pair("D", 50.0, 63, 25.0)]
    rows = worked(case(*circuits))  # B1, 2 loaded: 24, 41, 41 and 101 A; 1/√4 = 0.5
    assert [rows[mark] for mark in "ABCD"] == [found("pass", 12.0, 10, 0.5), *[found("pass", 20.5, 20, 0.5)] * 2,
                                               found("fail", 50.5, 63, 0.5)]  # fmt: skip
    near = [pair("A", 9.0, 10), pair("B", 19.0, 20, 6.0)]  # 2.5, 4, 6 are three adjacent ones
    assert worked(case(*near))["A"] == found("pass", 24 * 0.8, 10, 0.8)


def test_nine_multicore_cables_on_each_of_three_ladders() -> None:
    # E, XLPE, 3 × 95 mm²: 298 A; nine touching on each of three ladders: 0.70
    circuits = [circuit(f"C{n}", cable(95.0, 1, 3, diameter=40.0, insulation="XLPE"), loaded_conductors=3, design_current_a=190,
                        device_rating_a=200) for n in range(9)]  # fmt: skip
    ladder = {"kind": "ladder", "width": 400.0, "tiers": 3, "hot_ends": True}
    assert worked(case(*circuits, **ladder, single_layer=True))["C0"] == found("pass", 298 * 0.70, 200, 0.70)
    assert worked(case(*circuits, **ladder))["C0"] == ("unknown", None, 200, None)  # 298 × 0.50 if they are bunched
    piled = worked(case(*circuits, **{**ladder, "width": 350.0}, single_layer=True))  # 9 × 40 mm is wider
    assert piled["C0"] == found("fail", 298 * 0.50, 200, 0.50)


def test_the_neutral_carries_three_times_the_third_harmonic() -> None:
    # The example of IEC 60364-5-52 Annex E: 39 A, method C, four cores. 6 mm²: 41 A. 10 mm²: 57 A, and 40 % gives 3 × 0.4 × 39 = 46.8 A.
    def row(csa: float, **more: Any) -> Any:
        given = {"loaded_conductors": 3, "design_current_a": 39, "device_rating_a": 39, **more}
        return worked(case(circuit("C", cable(csa, 1, 4), **given), kind="tray", perforated=False))["C"]

    assert row(6.0) == found("pass", 41, 39, 1)
    verdict, capacity, required, _ = row(6.0, third_harmonic=0.4)
    assert (verdict, capacity, required) == ("fail", pytest.approx(41 * 0.86), pytest.approx(46.8))
    assert row(10.0, third_harmonic=40)[:3] == ("pass", pytest.approx(57 * 0.86), pytest.approx(46.8))
    assert row(10.0, third_harmonic=0.2) == found("pass", 57 * 0.86, 39, 1)
    assert row(10.0, third_harmonic=0.5)[:3] == ("fail", 57, pytest.approx(58.5))


def test_a_ring_counts_twice_and_needs_20_a_a_leg() -> None:
    ring = pair("R", 26.0, 32, calls=["E1", "E0"])  # two passes: 0.80, 24 × 0.8 = 19.2 A; 4 mm²: 32 × 0.8 = 25.6 A
    assert worked(case(ring))["R"] == found("fail", 19.2, 20, 0.8)
    thicker = pair("R", 26.0, 32, 4.0, calls=["E1", "E0"])
    assert worked(case(thicker))["R"] == found("pass", 25.6, 20, 0.8)
    assert worked(case(thicker), "iec-60364")["R"] == found("unknown", 25.6, 32, 0.8)
    nowhere_but_home = pair("R", 26.0, 32, 4.0, calls=["E0", "E0"])
    assert worked(case(nowhere_but_home))["R"] == found("pass", 32, 32, 1)


def test_what_is_not_known_is_unknown_or_counts_against() -> None:
    lost = pair("L", 9.0, 10, calls=["nowhere"])
    alone = pair("A", 15.0, 20)  # 24 A alone, 24 × 0.8 = 19.2 A with one that may lie there
    assert worked(case(alone, lost)) == {"A": ("unknown", None, 20, None), "L": ("unknown", None, 10, None)}
    assert worked(case(pair("A", 15.0, 16), lost))["A"] == found("pass", 19.2, 16, 0.8)
    assert worked(case(pair("A", 15.0, 25), lost))["A"] == found("fail", 24, 25, 1)
    for unlike in (
        {"conductor": ""},
        {"conductor": "aluminium"},
        {"insulation": "rubber"},
        {"csa": 7.0},
        {"count": None},
    ):
        row = circuit("A", {**cable(2.5, 2), **unlike}, loaded_conductors=2, design_current_a=1, device_rating_a=2)
        assert worked(case(row))["A"] == ("unknown", None, 2, None), unlike
    assert worked(case(alone, kind="unknown"))["A"] == worked(case(alone, installed="ground"))["A"]
    assert worked(case(alone, installed="ground"))["A"] == ("unknown", None, 20, None)
    for device in ("fuse to BS 3036", "BS-3036", "Re-wirable fuse", "SEMI ENCLOSED", "semi-enclosed"):
        assert worked(case(pair("A", 15.0, 16, device=device)))["A"] == found("unknown", 24, 16, 1), device
    assert worked(case(pair("A", 15.0, 16, device="enclosed fuse")))["A"] == found("pass", 24, 16, 1)
    assert worked(case(pair("A", None, 16)))["A"] == found("unknown", 24, 16, 1)
    assert worked(case(pair("A", None, 25)))["A"] == found("fail", 24, 25, 1)
    assert worked(case(pair("A", 5.0, 16, service="data", state="spare")))["A"] is None
    uncounted = circuit("U", cable(2.5, None), loaded_conductors=2, design_current_a=9, device_rating_a=10)
    # one at least, which may be light: its own rating isn't known
    assert worked(case(pair("A", 15.0, 20), uncounted))["A"] == ("unknown", None, 20, None)
    assert worked(case(pair("A", 15.0, 25), uncounted))["A"] == found("fail", 24, 25, 1)
    assert worked(case(pair("A", 15.0, 16), uncounted))["A"] == ("unknown", None, 16, None)
    many = [pair(f"C{n}", 0.5, 1) for n in range(21)]  # the table ends at 20; nobody is light where Cg isn't known
    assert worked(case(*many))["C0"] == ("unknown", None, 1, None)
    assert worked(case(*many[:20]))["C0"] == found("pass", 24 * 0.38, 1, 0.38)


NOT_KNOWN = (None, None)


@pytest.mark.parametrize(
    ("cables", "loaded", "ratios"),
    [  # Cg of a circuit alone, in its favour and against it; 1, 0.8 and 0.7 for 1 to 3 circuits
        ([cable(2.5, 3)], 2, (1.0, 1.0)),  # line, neutral, protective conductor
        ([cable(2.5, 4)], 2, (1.0, 0.8)),  # two pairs, or conductors in parallel
        ([cable(2.5, 6)], 2, (1.0, 0.7)),  # three pairs at most
        ([cable(16.0, 5)], 3, (1.0, 1.0)),
        ([cable(16.0, 8)], 3, (1.0, 0.8)),  # two of three lines
        ([cable(2.5, 2), cable(2.5, 2)], 2, (1.0, 0.8)),  # rows of one size count together
        ([cable(2.5, 2), cable(2.5, 1)], 2, (1.0, 1.0)),
        ([cable(2.5, 1), cable(4.0, 1)], 2, (1.0, 1.0)),  # the second row is live
        ([cable(2.5, 1), cable(4.0, 2), cable(6.0, 1)], 2, (1.0, 1.0)),  # 6 and 4 mm² are
        ([cable(2.5, 4), cable(1.5, 1, insulation="")], 2, (1.0, 0.8)),  # a protective conductor may differ
        ([cable(2.5, 4), cable(1.5, 2)], 2, NOT_KNOWN),  # thinner ones, enough for a circuit of their own
        ([cable(2.5, 2), cable(2.5, 1, insulation="XLPE")], 2, NOT_KNOWN),  # which of them are live
        ([cable(2.5, 1)], 2, NOT_KNOWN),  # one is missing
        ([cable(None, 2), cable(2.5, 1)], 2, NOT_KNOWN),  # which is the thicker
        ([cable(10.0, 4), cable(6.0, 1)], 4, (1.0, 1.0)),
        ([cable(10.0, 3), cable(6.0, 1)], 4, NOT_KNOWN),  # a thin neutral, or none
        ([cable(2.5, 3, 3)], 2, (0.7, 0.7)),  # three multicore cables
        ([cable(2.5, 1, 3), cable(2.5, 2, 4)], 2, (0.7, 0.7)),  # in two rows
        ([cable(2.5, 1, 3), cable(4.0, 1, 3)], 2, NOT_KNOWN),
        ([cable(2.5, 1, 3), cable(2.5, 1, 3, insulation="XLPE")], 2, NOT_KNOWN),
        ([cable(2.5, 1, 3), cable(2.5, 1, 3, conductor="aluminium")], 2, NOT_KNOWN),
        ([cable(2.5, 1, 4), cable(2.5, 2)], 3, (1.0, 1.0)),  # protective ones beside it
        ([cable(2.5, 1, 4), cable(16.0, 3)], 3, NOT_KNOWN),  # three could be lines
        ([cable(2.5, 1, 3)], 4, NOT_KNOWN),  # a core is missing
        ([cable(2.5, 2), cable(2.5, None, 3)], 2, NOT_KNOWN),
        ([cable(2.5, 2), cable(2.5, 0, 3)], 2, (1.0, 1.0)),  # none of those are there
    ],
)
def test_how_many_circuits_it_is(cables: list[dict[str, Any]], loaded: int, ratios: tuple[float | None, ...]) -> None:
    def verdicts(sets: int) -> list[Any]:
        given = {"loaded_conductors": loaded, "device_rating_a": 1.0, "third_harmonic": 0.1, "sets": sets}
        rows = [worked(case(circuit("A", *cables, design_current_a=load, **given)))["A"] for load in (2.0, 1.0)]
        return [(row[0], row[3]) for row in rows if row]  # Ib > In fails with the Cg in its favour

    twice = {1.0: 0.8, 0.8: 0.65, 0.7: 0.57, None: None}  # 1 → 2, 2 → 4, 3 → 6
    word = "unknown" if None in ratios else "pass"
    assert verdicts(1) == [("fail", ratios[0]), (word, ratios[1])]
    assert verdicts(2) == [("fail", twice[ratios[0]]), (word, twice[ratios[1]])]


def test_a_loaded_neutral_is_a_live_conductor() -> None:
    def row(h: float, *cables: dict[str, Any]) -> Any:
        given = {"loaded_conductors": 3, "design_current_a": 30, "device_rating_a": 32, "third_harmonic": h}
        return worked(case(circuit("A", *cables, **given)))["A"]

    thin = (cable(10.0, 3), cable(6.0, 1))  # B1, 3 loaded, 10 mm²: 50 A
    assert row(0.15, *thin) == found("pass", 50, 32, 1)
    assert row(0.16, *thin) == row(16, *thin) == ("unknown", None, 32, None)
    assert row(0.16, cable(10.0, 4)) == found("pass", 50 * 0.86, 32, 1)
    assert row(0.16, cable(10.0, 1, 3)) == ("unknown", None, 32, None)  # B2, 3 loaded, 10 mm²: 46 A
    assert row(0.16, cable(10.0, 1, 4)) == found("pass", 46 * 0.86, 32, 1)


def test_singles_without_a_size_count_for_the_others() -> None:
    unsized = circuit("B", cable(None, 4), loaded_conductors=2, design_current_a=9, device_rating_a=10)
    on = {"kind": "ladder", "single_layer": False}  # bunched: 0.80 with one other, 0.70 with two; C, 2.5 mm²: 27 A
    assert worked(case(pair("A", 15.0, 16), unsized, **on))["A"] == found("pass", 27 * 0.7, 16, 0.7)
    assert worked(case(pair("A", 15.0, 20), unsized, **on))["A"] == ("unknown", None, 20, None)
    assert worked(case(pair("A", 15.0, 25), unsized, **on))["A"] == ("unknown", None, 25, None)  # light, if it is thick
    assert worked(case(pair("A", 15.0, 28), unsized, **on))["A"] == found("fail", 27, 28, 1)


def test_one_cable_for_70_c_holds_all_beside_it_to_70_c() -> None:
    # B1, 16 mm², 3 loaded, 40 °C: XLPE 88 × 0.91 = 80.08 A, PVC 68 × 0.87 = 59.16 A; two circuits: 0.80
    def row(rating: float, insulation: str, load: float = 30, **more: Any) -> Any:
        given = {"loaded_conductors": 3, "ambient_c": 40, "device_rating_a": 40}
        hot = circuit(
            "H", cable(16.0, 3, insulation="XLPE"), **{**given, "design_current_a": 40, "device_rating_a": rating}
        )
        other = circuit("O", cable(16.0, 3, insulation=insulation), **given, design_current_a=load, **more)
        return worked(case(hot, other, hot_ends=True))["H"]

    assert row(63, "XLPE") == found("pass", 80.08 * 0.8, 63, 0.8)
    assert row(45, "PVC") == row(45, "pvc") == found("pass", 59.16 * 0.8, 45, 0.8)
    assert row(50, "PVC") == found("fail", 59.16 * 0.8, 50, 0.8)
    assert row(63, "PVC", load=5) == found("fail", 59.16, 63, 1)  # light: 5 A of 47.3 A
    assert row(63, "PVC", state="spare") == found("pass", 80.08, 63, 1)
    assert row(50, "rubber") == ("unknown", None, 50, None)
    assert row(45, "rubber") == found("pass", 59.16 * 0.8, 45, 0.8)
    assert row(70, "rubber") == ("unknown", None, 70, None)  # what rubber carries isn't known, so it may be light
    assert row(81, "rubber") == found("fail", 80.08, 81, 1)
    only_here = case(
        circuit("H", cable(16.0, 3, insulation="XLPE"), loaded_conductors=3, design_current_a=9, device_rating_a=70)
    )
    only_here["terminations"] = {"E0": 90}  # B1, XLPE, 16 mm², 3 loaded, 30 °C: 88 A, PVC 68 A
    assert worked(only_here)["H"] == found("fail", 68, 70, 1)
    assert row(63, "PVC", calls=["nowhere"]) == ("unknown", None, 63, None)  # it may lie there
    assert row(45, "PVC", calls=["nowhere"]) == found("pass", 59.16 * 0.8, 45, 0.8)
    assert row(81, "PVC", calls=["nowhere"]) == found("fail", 80.08, 81, 1)


def test_a_circuit_is_light_by_what_its_neutral_carries() -> None:
    # B1, PVC, 16 mm², 3 loaded: 68 A; two circuits: 54.4 A, 30 % of it is 16.32 A. With h = 0.4: 46.784 A and 14.0352 A.
    def row(load: float, h: float, rating: float = 60, **more: Any) -> Any:
        given = {"design_current_a": 50, "device_rating_a": rating, "loaded_conductors": 3}
        other = {"loaded_conductors": 3, "design_current_a": load, "device_rating_a": 16, "third_harmonic": h, **more}
        wires = cable(16.0, 4) if other["loaded_conductors"] else cable(16.0, 1, 4)
        other = {key: value for key, value in other.items() if value is not None}
        return worked(case(circuit("A", cable(16.0, 4), **given), circuit("B", wires, **other)))["A"]

    light, heavy = found("pass", 68, 60, 1), found("fail", 54.4, 60, 0.8)
    assert row(16, 0.1) == light
    assert row(10.8, 0.5) == light  # 3 × 0.5 × 10.8 = 16.2 A
    assert row(11, 0.5) == row(11, 50) == heavy  # 16.5 A
    assert row(11.6, 0.4) == light  # 3 × 0.4 × 11.6 = 13.92 A
    assert row(12, 0.4) == heavy  # 14.4 A
    assert row(18, 0.5, sets=2) == light  # three: 68 × 0.7 = 47.6 A, 30 % is 14.28 A; 3 × 0.5 × 18 / 2 = 13.5 A
    assert row(20, 0.5, sets=2) == found("fail", 47.6, 60, 0.7)  # 15 A
    # B2, 2 loaded: 69 A, 30 % of 69 × 0.8 is 16.56 A: 12 A is light. 3 loaded: 62 A, and 3 × 0.5 × 12 = 18 A of 14.88 A is not.
    assert row(12, 0.5, loaded_conductors=None) == ("unknown", None, 60, None)
    assert row(12, 0.5, 52, loaded_conductors=None) == found("pass", 54.4, 52, 0.8)


def test_an_ambient_not_given_may_be_as_warm_as_what_the_others_give() -> None:
    def row(rating: float, ambient: float, **more: Any) -> Any:
        return worked(case(pair("A", 12.0, rating), pair("B", 9.0, 10, ambient_c=ambient, **more)))["A"]

    # B1, PVC, 2.5 mm², 2 loaded: 24 A; two: 0.80 → 19.2 A; at 40 °C 0.87 → 16.704 A
    assert row(16, 40) == found("pass", 16.704, 16, 0.8)
    assert row(18, 40) == ("unknown", None, 18, None)
    assert row(20, 40) == found("fail", 19.2, 20, 0.8)
    assert row(18, 20) == found("pass", 19.2, 18, 0.8)  # no cooler than 30 °C
    assert row(16, 40, state="spare") == found("pass", 24, 16, 1)
    assert row(16, 40, calls=["nowhere"]) == found("pass", 16.704, 16, 0.8)
    assert row(18, 40, calls=["nowhere"]) == ("unknown", None, 18, None)


def test_a_circuit_not_routed_may_pass_once_for_every_call() -> None:
    def row(*calls: str) -> Any:
        return worked(case(pair("A", 12.0, 13), pair("L", 26.0, 32, calls=list(calls))))["A"]

    assert row("nowhere") == found("pass", 24 * 0.8, 13, 0.8)
    assert row("nowhere", "E0") == found("pass", 24 * 0.7, 13, 0.7)  # a ring
    assert row("nowhere", "elsewhere", "far away") == found("pass", 24 * 0.65, 13, 0.65)


def test_data_is_loaded_where_a_current_is_given() -> None:
    def row(**given: Any) -> Any:
        return worked(case(circuit("D", cable(2.5, 2), service="data", **given), pair("A", 15.0, 16)))

    assert row() == row(loaded_conductors=0, design_current_a=12) == {"D": None, "A": found("pass", 24, 16, 1)}
    assert row(design_current_a=12) == {"D": ("unknown", None, 12, None), "A": found("pass", 24 * 0.8, 16, 0.8)}
    assert row(device_rating_a=6)["A"] == row(loaded_conductors=2)["A"] == found("pass", 24 * 0.8, 16, 0.8)


def test_factors_of_trays() -> None:
    def cg(cables: dict[str, Any], loaded: int, count: int, **more: Any) -> Any:
        given = {"loaded_conductors": loaded, "design_current_a": 30, "device_rating_a": 30}
        circuits = [circuit(f"C{n}", cables, **given) for n in range(count)]
        return worked(case(*circuits, width=600.0, single_layer=True, **more))["C0"][3]  # type: ignore[index]

    multicore, singles = cable(16.0, 1, 4), cable(25.0, 3)
    tray, ladder = {"kind": "tray", "perforated": True}, {"kind": "ladder"}
    assert cg(multicore, 3, 4, **tray) == 0.78  # B.52.20: 0.79 lying, 0.78 upright
    assert cg(multicore, 3, 4, **tray, tiers=3) == 0.76  # no upright row
    assert cg(multicore, 3, 4, kind="tray", perforated=False) == 0.75  # B.52.17 item 2
    assert cg(multicore, 3, 4, kind="tray", perforated=False, tiers=2) is None
    assert cg(multicore, 3, 10, **tray) == 0.72  # item 4, 12 circuits
    assert cg(multicore, 3, 10, **ladder) == 0.78  # item 5
    assert cg(multicore, 3, 10, **ladder, tiers=2) is None
    assert cg(singles, 3, 2, **tray) == 0.86  # B.52.21: 0.91 lying, 0.86 upright
    assert cg(singles, 3, 2, **ladder, tiers=2) == 0.93
    assert cg(singles, 2, 2, **ladder) == 0.87  # not three-phase: item 5
    assert cg(singles, 3, 4, **tray) == 0.77  # more than three: item 4


def test_a_layer_needs_room_for_both_passes_of_a_ring() -> None:
    # E, 2 loaded, 16 mm²: 94 A; ladder, two touching: 0.87; two bunched: 0.80. Two cables of 5 mm go out and come back.
    def row(width: float) -> Any:
        given = {"loaded_conductors": 2, "design_current_a": 26, "device_rating_a": 32}
        ring = circuit("R", cable(16.0, 1, 3), calls=["E1", "E0"], **given)
        return worked(case(ring, kind="ladder", single_layer=True, width=width, wall=0.0))["R"]

    assert row(10.0) == found("pass", 94 * 0.87, 20, 0.87)
    assert row(9.0) == found("pass", 94 * 0.80, 20, 0.80)


def test_alone_in_a_layer_may_be_worse_than_in_a_bunch() -> None:
    def row(rating: float, **more: Any) -> Any:
        given = {"loaded_conductors": 3, "design_current_a": 90, "device_rating_a": rating}
        return worked(case(circuit("A", cable(25.0, 3), **given), kind="tray", perforated=True, **more))["A"]

    # F trefoil, PVC, 25 mm²: 110 A; B.52.21, one circuit upright on a tray: 0.96, 105.6 A
    assert row(108) == ("unknown", None, 108, None)
    assert row(108, single_layer=True) == found("fail", 105.6, 108, 0.96)
    assert row(108, single_layer=False) == found("pass", 110, 108, 1)


def is_clear(data: dict[str, Any], item: dict[str, Any], width_mm: float) -> bool:
    """Whether a carrier of such a width reaches nothing but what meets it on its axis: the oracle compares no bodies.

    Ends are within 50 mm of what they meet at the most; half a width beyond that, both ways, nothing may lie. Where an end lies on
    the axis of another, no end of that one may be so near, either: it would be a corner.
    """
    for other in data["carriers"]:
        reach = (width_mm + (other["width"] or other["diameter"] or 0.0)) / 2.0 + 60.0
        pairs = [(item, other[tip]) for tip in ("start", "end")] + [(other, item[tip]) for tip in ("start", "end")]
        for carrier, point in pairs if other is not item else ():
            off, along = oracle.foot(carrier, point)
            to_end = min(along, oracle.length(carrier) - along)
            if 1.0 <= off <= reach or (off < 1.0 <= to_end <= reach):
                return False
    return True


@st.composite
def rated_cases(draw: st.DrawFn) -> dict[str, Any]:
    """An installation of ``cases()`` with many circuits on few ways; two of three have nothing missing, as one gap spoils a whole group."""
    data, tidy = draw(cases()), draw(st.sampled_from([True, True, False]))
    for item in data["carriers"]:
        item |= {
            "single_layer": draw(st.sampled_from([None, True, True, False])),
            "perforated": draw(st.sampled_from([None, True, False])),
            "tiers": draw(st.sampled_from([None, None, 1, 2, 3, 4, 6])),
            "installed": draw(st.sampled_from([None] * 15 + ["ground"])),
            "kind": "tray" if tidy and item["kind"] == "unknown" else item["kind"],
            "lanes": [{**lane, "services": None if tidy else lane["services"]} for lane in item["lanes"]],
        }
        if item["width"] is not None and item["kind"] in ("tray", "ladder"):
            wider = item["width"] * draw(st.sampled_from([1, 6, 20]))  # wide enough for a layer
            item["width"] = wider if is_clear(data, item, wider) else item["width"]
    for item in [*data["carriers"], *data["equipment"]]:
        item["storey"] = "L0" if tidy else item["storey"]
    names = [item["id"] for item in [*data["equipment"] * 4, *data["carriers"]]]  # only equipment has ends for 90 °C
    begin = draw(st.sampled_from(names))
    reached = [end for end in names if oracle.route(data, {"from": begin, "to": end, "service": None})]
    begin, reached = (begin, reached) if reached else ("K0", ["K0"])
    names = reached if tidy else [*reached * 4, *names, "nowhere"]
    ways = [(begin, draw(st.sampled_from(names))) for _ in range(draw(st.integers(1, 2)))]
    ways = [*ways * 2, *draw(st.sampled_from([[], [], [(begin, "nowhere")]]))]
    smallest, spread = draw(st.integers(0, len(SIZES) - 3)), draw(st.sampled_from([1, 2, 3, 3, 5]))
    kinds = draw(st.sampled_from([[True], [False], [True, False]]))
    mix = {
        "ways": ways,
        "sizes": SIZES[smallest : smallest + spread],
        "multicore": kinds,
        "insulation": draw(st.sampled_from([["PVC"], ["XLPE"], ["XLPE"] * 4 + ["PVC"], ["XLPE", "EPR", "PVC"]])),
        "ambient_c": draw(st.sampled_from([[None], [None, 25.0, 40.0], [None, 5.0, 25.0, 32.5, 40.0, 55.0]])),
        "rows": draw(st.sampled_from([[1], [1, 2]])),
        "loaded": draw(st.sampled_from([[2], [3], [3], [2, 2, 3, 4]])),
        "sets": draw(st.sampled_from([[1], [1, 1, 1, 2, 3]])),
        "counts": draw(st.sampled_from([[], [], [], [12]])),
    }
    least = draw(st.sampled_from([1, 1, 2, 3, 5, 8, 12]))
    circuits = draw(st.lists(rated_circuit(mix, tidy=tidy), min_size=least, max_size=least + 2))
    data["circuits"] = [{"mark": f"C{n:02}", **made} for n, made in enumerate(circuits)]
    for made in data["circuits"]:
        way = oracle.route(data, made)
        if way is not None and way[1] <= 1:  # two ends at one place of a carrier are no ring
            made["calls"] = [made["to"]]
        elif way is None and made["calls"] == [made["to"]]:  # it may lie anywhere, on the way to each
            made["calls"] += ["nowhere else"] * made.pop("others")
    hot = draw(st.sampled_from([[90], [None, 70, 90, 90]]))
    ends = {item["id"]: draw(st.sampled_from(hot)) for item in data["equipment"]}
    return {**data, "terminations": {name: at for name, at in ends.items() if at is not None}}


@cache
def up_to(most: int) -> st.SearchStrategy[int]:
    """Kept, as making a strategy for every choice takes longer than the choice."""
    return st.integers(0, most)


@st.composite
def rated_circuit(draw: st.DrawFn, mix: dict[str, Any], *, tidy: bool) -> dict[str, Any]:
    def one_of(*values: Any) -> Any:
        return values[draw(up_to(len(values) - 1))] if len(values) > 1 else values[0]

    def seldom(usual: Any, *rare: Any, often: int = 12) -> Any:
        return usual if tidy else one_of(*[usual] * often * len(rare), *rare)

    csa, loaded, multicore = one_of(*mix["sizes"]), one_of(*mix["loaded"]), one_of(*mix["multicore"])
    h = one_of(None, None, None, 0.1, 0.15, 0.25, 33, 0.331, 40, 0.45, 0.6)
    poles = 4 if loaded == 4 or (loaded == 3 and h not in (None, 0.1, 0.15)) else loaded
    count = (
        one_of(1, 1, 1, 2)
        if multicore
        else one_of(poles, poles, poles + 1, 2 * poles, *mix["counts"], seldom(poles, loaded))
    )
    insulation = seldom(one_of(*mix["insulation"]), "", "rubber")
    about = {"insulation": insulation, "conductor": seldom("copper", "aluminium", ""), "stranded": None,
             "rated": None, "diameter": seldom(one_of(5.2, 9.3, 17.0), None)}  # fmt: skip
    live = {
        **about,
        "count": seldom(count, None, 1),
        "csa": seldom(csa, None),
        "cores": seldom(one_of(*{4, max(poles, 3)}) if multicore else 1, None, 3),
    }
    other = {
        **about,
        "count": one_of(0, 1, 1, 2),
        "csa": one_of(1.0, csa, csa, 16.0),
        "cores": seldom(one_of(1, live["cores"]), None, 4),
    }
    other["insulation"] = one_of(*[insulation] * 5, "PVC")
    device = one_of(*DEVICES[csa])
    load = device * one_of(0.1, 0.2, 0.5, 0.8, 0.9, 1.0, seldom(1.0, 1.1))
    given: dict[str, Any] = {"device_rating_a": device, "design_current_a": load, "loaded_conductors": loaded}
    given["device"] = seldom("circuit breaker", "fuse to BS 3036", "Rewirable fuse")
    service = one_of(*["power"] * 9, "control", "control", "data", seldom("power", "data", "elv", None))
    for key in ("device_rating_a", "design_current_a", "loaded_conductors"):
        if seldom(False, True) or (service == "data" and one_of(True, False)):
            del given[key]
    given |= seldom({}, {"loaded_conductors": 0}, {"loaded_conductors": 1}, {"loaded_conductors": 5})
    for key, values in {
        "ambient_c": (*mix["ambient_c"] * 2, seldom(None, 62.0, 81.0)),
        "third_harmonic": (h,),
        "method": (
            *[None] * 15,
            "A",
            "A1",
            "B",
            "B1",
            "B2",
            "C",
            "E",
            "E",
            "F",
            "F",
            "G",
            seldom("C", "A2", "D1", "F touching"),
        ),
    }.items():
        given |= {name: value for name, value in [(key, one_of(*values))] if value is not None}
    begin, end = one_of(*mix["ways"])
    homes = begin[0] == "E" and end[0] in "En" and begin != end and given.get("loaded_conductors") == 2
    ring = one_of(False, homes)  # from equipment to other equipment and back
    if ring and "device_rating_a" in given:
        given["device_rating_a"] = one_of(32, 32, 40)
    return {
        "from": begin, "to": end, "calls": [end, begin] if ring else [end], "others": one_of(0, 0, 1, 2), "voltage": 230.0,
        "electrical": given, "service": service,
        "state": one_of(*["new"] * 6, "existing", "spare", "removed"), "compartment": one_of(None, None, 1, 2),
        "sets": one_of(*mix["sets"]), "cables": [live, other][: one_of(*mix["rows"])],
    }  # fmt: skip


def rated_installation(data: dict[str, Any]) -> Installation:
    """The same as an installation of ours."""
    made = installed(data)
    laid = {item["id"]: Laying(Surroundings(item["installed"]) if item["installed"] else None, item["perforated"],
                               item["single_layer"], item["tiers"]) for item in data["carriers"]}  # fmt: skip
    circuits = []
    for own, item in zip(made.circuits, data["circuits"], strict=True):
        rows = zip(own.cables, item["cables"], strict=True)
        cables = tuple(replace(row, conductor=said["conductor"], insulation=said["insulation"]) for row, said in rows)
        circuits.append(
            replace(
                own, calls=tuple(item["calls"]), sets=item["sets"], cables=cables, electrical=dict(item["electrical"])
            )
        )
    return replace(
        made,
        carriers=tuple(replace(carrier, laying=laid[carrier.key]) for carrier in made.carriers),
        circuits=tuple(circuits),
        terminations_c=tuple((name, float(at)) for name, at in data["terminations"].items()),
    )


def agree(ours: float | None, theirs: float | None) -> bool:
    return ours is theirs if ours is None or theirs is None else math.isclose(ours, theirs, rel_tol=1e-9, abs_tol=1e-9)


# explaining a failure takes minutes where an example is so large
@settings(max_examples=400, phases=[Phase.explicit, Phase.reuse, Phase.generate, Phase.shrink])
@given(rated_cases())
def test_two_implementations_rate_alike(data: dict[str, Any]) -> None:
    for code in ("bs-7671", "iec-60364"):
        result = check_installation(rated_installation(data), PLUGINS.codes[code], PLUGINS)
        routes = oracle.check(data, {row.circuit: row.carriers for row in result.circuits})["routes"]
        expected = {mark: row for mark, row in rate(data, routes, code).items() if row is not None}
        assert {row.circuit for row in result.ratings} == set(expected)
        for row in result.ratings:
            there = expected[row.circuit]
            event(there["verdict"])
            assert row.verdict == there["verdict"], (row, there)
            assert agree(row.capacity_a, there["capacity"]), (row, there)
            if there["verdict"] != "unknown" or None not in (row.required_a, there["required"]):
                assert agree(row.required_a, there["required"]), (row, there)
            if there["capacity"] is not None:
                factors = {factor.name: factor.value for factor in row.factors}
                assert row.carrier == there["carrier"], (row, there)
                assert agree(factors["Cg"], there["cg"]), (row, there)
