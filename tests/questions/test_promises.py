"""Whatever the answers are: so many findings get known as the table of questions promises, and the table accounts for all of them."""

from dataclasses import replace
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from checker.model import CarrierKind, Installation, Section, Service
from checker.questions.settling import LITTLE
from checker.result.tables import Result
from tests.installations import installation
from tests.questions.asked import OPEN_50, RULES, TRAYS, answered, astray, checked, ends, length, on, unknown

LENGTHS = 4
SECTIONS: list[tuple[Section, CarrierKind, str]] = [
    (OPEN_50, CarrierKind.TRUNKING, "T-50"),
    (Section(width_mm=75.0, height_mm=50.0, wall_range_mm=(0.5, 2.0), source="test"), CarrierKind.TRUNKING, "T-75"),
    (Section(width_mm=50.0, height_mm=50.0, wall_mm=1.0, source="test"), CarrierKind.TRUNKING, "S-50"),
    (Section(width_mm=100.0, height_mm=50.0, source="test"), CarrierKind.TRAY, "TR-100"),
]
RATED = [
    {"loaded_conductors": 0.0}, {"loaded_conductors": 2.0, "device_rating_a": 16.0},
    {"loaded_conductors": 2.0, "design_current_a": 10.0, "device_rating_a": 16.0}, {"design_current_a": 10.0, "device_rating_a": 20.0},
]  # fmt: skip


@st.composite
def installations(draw: st.DrawFn) -> Installation:
    """Some lengths with circuits along them, of which walls, sizes, numbers, loads and ways may not be known."""
    items: list[Any] = []
    for number in range(draw(st.integers(1, LENGTHS))):
        section, kind, type_name = draw(st.sampled_from(SECTIONS))
        items += [length(f"K{number}", number, section, kind, type_name), *ends(number)]
        for mark in range(draw(st.integers(0, 2))):
            load = draw(st.sampled_from(RATED))
            # three cores are one circuit for certain; how many more of them are is another question
            count = draw(st.sampled_from([1, 5, 17, 20, None])) if load is RATED[0] else 3
            given_ = {"electrical": dict(load), "voltage_v": draw(st.sampled_from([230.0, None]))}
            found = on(number, f"C{number}.{mark}", count, draw(st.sampled_from([7.8, 7.8, 12.0, None])), **given_)
            if found.cables[0].diameter_mm and draw(st.booleans()):
                (cable,) = found.cables
                found = _with_cable(found, diameter_least_mm=cable.diameter_mm - draw(st.sampled_from([0.2, 2.0])))
            items.append(found)
    items.append(on(0, "C", 1))  # a schedule without a circuit is another question
    for mark in range(draw(st.integers(0, 2))):
        service = draw(st.sampled_from([Service.POWER, Service.DATA]))
        items.append(astray(f"X{mark}", draw(st.sampled_from([1, 3, 10])), service=service))
    return installation(*items, lost_rows=draw(st.sampled_from([(), (), (7,)])))


def near(result: Result) -> set[str]:
    """Findings whose figure is so near to its limit that the little that else is open decides."""
    return {row.id for row in result.findings if row.use is not None and abs(row.use - 1.0) <= LITTLE}


def _with_cable(circuit: Any, **change: Any) -> Any:
    return replace(circuit, cables=(replace(circuit.cables[0], **change),))


@given(installations(), st.data())
@settings(deadline=None)
def test_answers_settle_at_least_as_many_as_was_promised(installed: Installation, data: st.DataObject) -> None:
    result = checked(installed, *RULES, TRAYS)
    before = unknown(result)
    keys = [carrier.key for carrier in installed.carriers]
    for row in (row for row in result.questions if row.rank):
        share = data.draw(st.integers(0, 20)) / 20.0
        installed = answered(installed, row.question, share, data.draw(st.sampled_from(keys)))
        if data.draw(st.booleans()) or row is result.questions[-1]:
            now = checked(installed, *RULES, TRAYS)
            left = before & unknown(now)
            assert len(before) - len(left - near(now)) >= row.together, row


@given(installations())
@settings(deadline=None)
def test_every_unknown_finding_is_accounted_for(installed: Installation) -> None:
    result = checked(installed, *RULES, TRAYS)
    number = len(unknown(result))
    asked = [row for row in result.questions if row.rank]
    lost = [row for row in result.questions if not row.rank]
    assert len(lost) <= 1
    settled = asked[-1].together if asked else 0
    assert settled + sum(row.touches for row in lost) == number
    assert sum(row.settles for row in asked) == settled
    assert [row.rank for row in asked] == list(range(1, len(asked) + 1))
    assert all(row.settles <= row.touches <= number for row in asked)


@given(installations())
@settings(deadline=None)
def test_the_order_of_elements_and_rows_changes_nothing(installed: Installation) -> None:
    turned = replace(
        installed,
        carriers=installed.carriers[::-1],
        circuits=installed.circuits[::-1],
        equipment=installed.equipment[::-1],
    )
    assert checked(turned, *RULES, TRAYS).questions == checked(installed, *RULES, TRAYS).questions
