"""Room for one more where something isn't known, or is asked wrongly: never a yes. Figures as in ``test_room.py``."""

from dataclasses import replace

import pytest

from checker.errors import InputError
from checker.model import CarrierKind, Installation, Section, Service, State
from checker.room.objects import as_object
from checker.room.question import also_of
from checker.room.text import as_text
from checker.room.told import gives
from checker.rule import Outcome
from tests.installations import carrier, circuit, installation, lanes, outlet
from tests.room_questions import DATA, NO_LOAD, WIDE, ask, data, divided, keys, one_trunking, two_ways


def test_a_compartment_that_isnt_known_is_asked_for_where_another_way_of_lying_could_pass() -> None:
    # 1 is full in the one carrier, 2 in the other: whoever crosses over would find room in both
    section = Section(
        width_mm=100.0,
        height_mm=50.0,
        wall_mm=1.0,
        divider_mm=2.0,
        lanes=lanes(Service.DATA, Service.DATA),
        source="test",
    )
    here = installation(
        carrier("T1", (0.0, 0.0, 0.0), (2000.0, 0.0, 0.0), section),
        carrier("T2", (2000.0, 0.0, 0.0), (5000.0, 0.0, 0.0), section),
        outlet("DB", (0.0, 0.0, 300.0)),
        outlet("S1", (5000.0, 0.0, 300.0)),
        data("D1", 13, route="T1/1"),
        data("D2", 13, route="T2/2"),
    )
    answer = ask(here, "10mm")
    assert (answer.outcome, answer.most, answer.fits) == (Outcome.UNKNOWN, None, None)
    assert "say --compartment" in as_text(answer)
    assert answer.best is not None
    told = [text for row in answer.best.of(1).unknowns for text in gives(answer, row)]
    assert any("--compartment" in text for text in told)


def test_where_no_way_leads_it_is_told_where_the_network_breaks() -> None:
    here = installation(
        carrier("T1", (0.0, 0.0, 0.0), (2000.0, 0.0, 0.0)),
        carrier("T2", (2600.0, 0.0, 0.0), (5000.0, 0.0, 0.0)),
        outlet("DB", (0.0, 0.0, 300.0)),
        outlet("S1", (5000.0, 0.0, 300.0)),
    )
    answer = ask(here, "10mm")
    assert (answer.outcome, answer.exit_status, answer.most) == (Outcome.FAIL, 1, 0)
    assert answer.none is not None
    assert "600 mm apart" in answer.none.why
    assert as_object(answer)["reason"] == answer.none.why


def test_an_end_out_of_reach_is_a_no_and_one_without_a_place_is_unknown() -> None:
    here = one_trunking()
    far = installation(*here.carriers, here.equipment[0], outlet("S1", (5000.0, 0.0, 9000.0)))
    assert ask(far, "10mm").exit_status == 1
    lost = installation(*here.carriers, here.equipment[0], outlet("S1", None))  # type: ignore[arg-type]
    assert ask(lost, "10mm").exit_status == 3


def test_ends_that_nothing_or_several_or_the_same_are_called_are_asked_wrongly() -> None:
    here = one_trunking(data("D1", 5))
    twin = installation(*here.carriers, carrier("S1", (0.0, 500.0, 0.0), (9.0, 500.0, 0.0)), *here.equipment)
    with pytest.raises(InputError, match="nothing in the model is called 'S10'") as unknown:
        ask(here, "10mm", ends=("DB", "S10"))
    assert "S1" in unknown.value.hint
    with pytest.raises(InputError, match="2 elements are called 'S1'"):
        ask(twin, "10mm")
    with pytest.raises(InputError, match="both are the same element"):
        ask(here, "10mm", ends=("DB", "DB"))


@pytest.mark.parametrize(
    "here",
    [
        one_trunking(data("D1", 5), section=Section()),
        one_trunking(data("D1", 5), lost_rows=(7,)),
        one_trunking(data("D1", 5), is_scheduled=False),
        one_trunking(),
        one_trunking(data("D1", 5, state=State.REMOVED)),
    ],
    ids=["no size", "lost rows", "no schedule", "no circuits", "none is left"],
)
def test_what_isnt_known_there_is_never_a_yes(here: Installation) -> None:
    answer = ask(here, "10mm")
    assert (answer.outcome, answer.exit_status, answer.most) == (Outcome.UNKNOWN, 3, None)
    assert as_object(answer)["unknown"]


def around(section: Section, way_b: Section = WIDE) -> Installation:
    """From S to E straight through A, of that section, or round by B1, B2 and B3."""
    here = two_ways(3)
    sections = {"A": section, "B1": way_b, "B2": way_b, "B3": way_b}
    carriers = tuple(replace(one, section=sections.get(one.key, one.section)) for one in here.carriers)
    return replace(here, carriers=carriers)


@pytest.mark.parametrize("times", [None, 3])
def test_where_something_isnt_known_of_the_shortest_way_a_sure_one_is_looked_for(times: int | None) -> None:
    # B is 98 × 48 = 4704 mm², of which 45 % are 2116.8: 74 of 6 mm (28.27 mm² each, 2092.3), not 75 (2120.6)
    answer = ask(around(Section(source="test")), "6mm", times=times)
    assert (answer.outcome, answer.most, keys(answer)) == (Outcome.PASS, 74, ["S", "B1", "B2", "B3", "E"])
    assert [(other.most, other.fits > 74) for other in answer.others] == [(None, True)]


def test_what_isnt_known_of_any_way_stays_unknown() -> None:
    answer = ask(around(Section(source="test"), Section(source="test")), "6mm")
    assert (answer.outcome, answer.most, keys(answer)) == (Outcome.UNKNOWN, None, ["S", "A", "E"])


def test_a_compartment_that_isnt_there_is_asked_wrongly_and_none_is_picked_in_its_place() -> None:
    with pytest.raises(InputError, match="no carrier has a compartment 9"):
        ask(divided(data("D1", 0, compartment=1)), "10mm", columns=(*DATA, ("compartment", "9")))
    three = lanes(Service.DATA, Service.DATA, Service.POWER)
    here = two_ways(3)
    sections = {"A": replace(WIDE, lanes=three[:2], divider_mm=2.0), "B2": replace(WIDE, lanes=three, divider_mm=2.0)}
    there = replace(
        here, carriers=tuple(replace(one, section=sections.get(one.key, one.section)) for one in here.carriers)
    )
    answer = ask(there, "10mm", times=1, columns=(*DATA, ("compartment", "3")), via=("A",))
    assert answer.best is not None
    assert answer.best.way.compartment is None
    assert answer.fits is None
    assert "--compartment asks for compartment 3, which doesn't exist: A" in as_object(answer)["assumed"]


def test_a_compartment_that_is_for_others_is_told() -> None:
    section = Section(
        width_mm=100.0,
        height_mm=50.0,
        wall_mm=1.0,
        divider_mm=2.0,
        lanes=lanes(Service.DATA, Service.POWER),
        source="test",
    )
    answer = ask(one_trunking(data("D1", 0), section=section), "10mm", columns=(*DATA, ("compartment", "2")))
    assert as_object(answer)["assumed"] == ["its compartment 2 isn't for data: T1"]
    assert "assumed: its compartment 2 isn't for data: T1" in as_text(answer)


def test_a_way_that_a_check_wouldnt_find_is_to_be_written_into_the_schedule() -> None:
    other = ask(two_ways(12), "10mm", times=2)
    assert as_object(other)["route_wanted"]
    assert "write this one into the schedule as route" in as_text(other)
    usual = ask(two_ways(12), "10mm", times=1)
    assert not as_object(usual)["route_wanted"]
    assert "as route" not in as_text(usual)
    assert as_object(ask(two_ways(0), "10mm", times=1, avoid=("A",)))["route_wanted"]


def test_a_circuit_without_a_way_could_lie_there() -> None:
    answer = ask(
        one_trunking(circuit("D1", "nowhere", "S1", service=Service.DATA, electrical=NO_LOAD, voltage_v=48.0)), "10mm"
    )
    assert (answer.most, answer.fits) == (12, 13)  # with its one cable, and without


def test_what_no_reading_lets_in_is_a_no_though_not_all_is_known() -> None:
    assert ask(one_trunking(data("D1", 13), lost_rows=(7,)), "10mm").exit_status == 1


def test_a_size_that_is_a_range_counts_at_both_ends() -> None:
    # at 10 mm 13 go in; at 9 mm, 63.62 mm² each, 16 (1017.9), not 17 (1081.5)
    answer = ask(one_trunking(data("D1", 0)), "9-10mm")
    assert (answer.most, answer.fits) == (13, 16)


def test_where_it_comes_in_is_where_a_run_ends() -> None:
    # single cores in conduit go by the length of their run, which is known only where both its ends are
    here = installation(
        carrier(
            "C1",
            (0.0, 0.0, 0.0),
            (5000.0, 0.0, 0.0),
            Section(bore_mm=17.4, outside_diameter_mm=20.0),
            CarrierKind.CONDUIT,
        ),
        carrier("T9", (0.0, 9000.0, 0.0), (5000.0, 9000.0, 0.0)),
        outlet("DB", (0.0, 0.0, 300.0)),
        outlet("S1", (5000.0, 0.0, 300.0)),
        circuit("D1", "T9", "T9", service=Service.DATA, electrical=NO_LOAD, voltage_v=48.0, route="T9"),
    )
    answer = ask(here, "h07v-u-1.5", columns=(*DATA, ("mass_kg_per_km", "20")))
    assert answer.best is not None
    (row,) = [row for row in answer.best.of(1).own if row.rule == "fill.conduit"]
    assert row.verdict == "pass"
    assert "run of 5" in row.reason


def test_two_compartments_of_which_neither_is_known_are_no_yes() -> None:
    answer = ask(
        divided(data("D1", 3, compartment=1, area_of=None), data("D2", 3, compartment=2, area_of=None)), "10mm"
    )
    assert (answer.outcome, answer.most) == (Outcome.UNKNOWN, None)


def test_cables_and_columns_that_cant_be_read_are_asked_wrongly() -> None:
    here = one_trunking(data("D1", 5))
    for cable, why in [
        ("h07v-u-2.6=3", "there is no cable"),
        ("10mm=0", "no number of cables"),
        ("10mm=x", "no number of cables"),
        ("=3", "there is no cable"),
    ]:
        with pytest.raises(InputError, match=why) as wrong:
            ask(here, cable)
        assert wrong.value.where == "--cable"
    with pytest.raises(InputError, match="no cable is named"):
        ask(here)
    with pytest.raises(InputError, match="isn't one of") as wrong:
        ask(here, "10mm", columns=(("service", "pwr"),))
    assert wrong.value.where == "--service"
    with pytest.raises(InputError) as wrong:
        ask(here, "10mm", columns=(*DATA, ("ambient_c", "hot")))
    assert wrong.value.where == "--also"
    for times in (0, 201):
        with pytest.raises(InputError, match="no number of circuits"):
            ask(here, "10mm", times=times)


def test_other_columns_are_those_of_the_schedule() -> None:
    assert also_of(["ambient_c=35", " csa_mm2 = 2.5 "]) == [("ambient_c", "35"), ("csa_mm2", "2.5")]
    for text, why in [
        ("ambient_c", "no column with a value"),
        ("service=data", "an option of its own"),
        ("route=T1", "no column that can"),
    ]:
        with pytest.raises(InputError, match=why):
            also_of([text])


def test_marks_of_what_is_added_are_no_circuits_own() -> None:
    here = one_trunking(data("New 1", 5))
    answer = ask(here, "10mm")
    assert answer.most == 8
    assert not answer.bundle.numbered(1).mark.casefold().startswith("new 1")
