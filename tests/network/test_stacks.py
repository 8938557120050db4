"""Trays above each other, as the model draws them; axes run in the middle of sections."""

from dataclasses import replace

import pytest

from checker.model import Carrier, CarrierKind, CircuitLoad, Enclosure, Laying, Member, Section, Service, State, Vec
from checker.network.stacks import with_stacks
from tests.installations import carrier

TRAY = Section(width_mm=300.0, height_mm=60.0)
HEATS = (Member(CircuitLoad("P1", Service.POWER, State.NEW, is_loaded=True)),)
COLD = (Member(CircuitLoad("S1", Service.POWER, State.SPARE, is_loaded=False)),)


def tray(
    key: str,
    start: Vec,
    end: Vec,
    section: Section = TRAY,
    kind: CarrierKind = CarrierKind.TRAY,
    *,
    declared: bool = True,
) -> Carrier:
    level = (start[1] - end[1], end[0] - start[0], 0.0)
    made = replace(carrier(key, start, end, section, kind), across=level if any(level) else (0.0, 1.0, 0.0))
    return replace(made, laying=Laying(single_layer=True)) if declared else made


def level(key: str, up: float, y: float = 0.0, x: tuple[float, float] = (0.0, 3000.0), **more: object) -> Carrier:
    return tray(key, (x[0], y, up), (x[1], y, up), **more)  # type: ignore[arg-type]


def stacks(*carriers: Carrier, members: dict[str, tuple[Member, ...]] | None = None) -> dict[str, Enclosure]:
    holds = members or {}
    return with_stacks({one.key: Enclosure(one, holds.get(one.key, HEATS)) for one in carriers})


def above(found: Enclosure) -> list[tuple[str, float, float, float, bool]]:
    return [
        (item.carrier.key, item.up_mm, round(item.from_mm, 3), round(item.to_mm, 3), item.is_certain)
        for item in found.stacked
    ]


def test_each_sees_the_other_from_floor_to_floor_on_the_stretch_where_both_are() -> None:
    # floors at 0 - 30 and at 325 - 55: 300 mm, though axes are 325 apart
    high = Section(width_mm=300.0, height_mm=110.0)
    found = stacks(level("A", 0.0), level("B", 325.0, x=(1000.0, 5000.0), section=high))
    assert above(found["A"]) == [("B", 300.0, 1000.0, 3000.0, True)]
    assert above(found["B"]) == [("A", -300.0, 0.0, 2000.0, True)]
    assert found["A"].is_level


def test_where_a_height_isnt_known_it_is_from_axis_to_axis() -> None:
    found = stacks(level("A", 0.0), level("B", 325.0, section=Section(width_mm=300.0)))
    assert above(found["A"]) == [("B", 325.0, 0.0, 3000.0, True)]


def test_long_trays_are_seen_along_all_of_their_length() -> None:
    found = stacks(level("A", 0.0, x=(0.0, 9000.0)), level("B", 300.0, x=(9000.0, 0.0)))
    assert sum(item.to_mm - item.from_mm for item in found["A"].stacked) == pytest.approx(9000.0)


@pytest.mark.parametrize(
    ("y", "is_above"),
    [(0.0, True), (269.0, True), (271.0, False), (600.0, False)],
    ids=["straight above", "31 mm over", "29 mm over", "beside"],
)
def test_only_what_overlaps_in_plan_by_a_tenth_is_above(y: float, *, is_above: bool) -> None:
    # both are 300 mm wide: a tenth is 30 mm, so axes may be 270 mm apart
    assert bool(stacks(level("A", 0.0), level("B", 300.0, y))["A"].stacked) is is_above


def test_what_crosses_slopes_or_stands_upright_isnt_above() -> None:
    crossing = tray("B", (1500.0, -1500.0, 300.0), (1500.0, 1500.0, 300.0))
    assert not stacks(level("A", 0.0), crossing)["A"].stacked
    # 900 over 3000 mm are 17°
    sloping = tray("B", (0.0, 0.0, 300.0), (3000.0, 0.0, 1200.0))
    found = stacks(level("A", 0.0), sloping)
    assert not found["A"].stacked
    assert found["B"].is_level is False
    riser = stacks(tray("R", (0.0, 0.0, 0.0), (0.0, 0.0, 3000.0)), tray("S", (0.0, 300.0, 0.0), (0.0, 300.0, 3000.0)))
    assert not riser["R"].stacked
    assert riser["R"].is_level is False


def test_what_carries_no_load_or_is_trunking_doesnt_heat() -> None:
    found = stacks(level("A", 0.0), level("B", 300.0), level("C", 600.0), members={"B": COLD, "C": ()})
    assert not found["A"].stacked
    assert not stacks(level("A", 0.0), level("B", 300.0, kind=CarrierKind.TRUNKING))["A"].stacked


def test_what_may_be_loaded_or_a_tray_or_above_isnt_certain() -> None:
    one, other = level("A", 0.0), level("B", 300.0)
    maybe = with_stacks({"A": Enclosure(one, HEATS), "B": Enclosure(other, possible=HEATS)})
    assert above(maybe["A"]) == [("B", 300.0, 0.0, 3000.0, False)]
    uncounted = with_stacks({"A": Enclosure(one, HEATS), "B": Enclosure(other, unbounded=True)})
    assert above(uncounted["A"]) == [("B", 300.0, 0.0, 3000.0, False)]
    unknown = stacks(one, level("B", 300.0, kind=CarrierKind.UNKNOWN))
    assert above(unknown["A"]) == [("B", 300.0, 0.0, 3000.0, False)]
    # a tray of unknown width could reach over the other one
    unsized = stacks(one, level("B", 300.0, 500.0, section=Section(height_mm=60.0)))
    assert above(unsized["A"]) == [("B", 300.0, 0.0, 3000.0, False)]


def test_only_trays_of_which_it_is_declared_how_cables_lie_are_asked_about() -> None:
    found = stacks(level("A", 0.0, declared=False), level("B", 300.0))
    assert not found["A"].stacked
    assert above(found["B"]) == [("A", -300.0, 0.0, 3000.0, True)]


def test_a_loaded_tray_without_a_place_could_be_above_any() -> None:
    lost = replace(level("B", 300.0), start_mm=None)
    found = stacks(level("A", 0.0), lost)
    assert found["A"].stack_doubt == "where B runs isn't known"
    assert found["B"].is_level is None
    assert found["B"].stack_doubt


def test_looked_at_is_a_metre_and_a_half_up_and_down() -> None:
    assert stacks(level("A", 0.0), level("B", 1500.0))["A"].stacked
    assert not stacks(level("A", 0.0), level("B", 1501.0))["A"].stacked


def test_in_a_crowd_of_which_not_all_is_looked_at_more_may_run_above(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("checker.network.beside.MOST_LOOKED_AT", 7)  # each is two pieces of 1.5 m
    crowd = [level(f"T{number}", 300.0 * number) for number in range(5)]
    assert stacks(*crowd)["T0"].stack_doubt == "what all runs around T0 isn't known"
    assert not stacks(*crowd[:3])["T0"].stack_doubt
