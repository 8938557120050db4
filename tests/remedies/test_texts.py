"""What is told names all that is needed, and what it costs."""

from dataclasses import replace

from checker.model import Laying, Section, Surroundings
from checker.remedies import texts
from checker.rule.plugins import load_plugins
from tests.installations import carrier

CARRIERS = load_plugins().carriers


def one(key: str, length_mm: float = 2500.0, **more: object):
    made = carrier(key, (0.0, 0.0, 0.0), (length_mm, 0.0, 0.0), Section(width_mm=50.8, height_mm=101.6))
    return replace(made, **more)  # type: ignore[arg-type]


def test_carriers_are_named_as_people_count_and_no_more_than_six() -> None:
    assert texts.labels([one("T10"), one("T9")]) == "T9, T10"
    assert texts.labels([one(f"T{n}") for n in range(1, 10)]) == "T1, T2, T3, T4, T5, T6 and 3 more"


def test_amounts_add_lengths_up_unless_one_isnt_known() -> None:
    assert texts.amount([one("T1")]) == "1 length, 2.50 m"
    assert texts.amount([one("T1"), one("T2", 1500.0)]) == "2 lengths, 4.00 m"
    unknown = replace(one("T2"), length_mm=None)
    assert texts.amount([one("T1"), unknown]) == "2 lengths of unknown length"


def test_what_is_shut_in_later_is_said_to_be_urgent() -> None:
    item = CARRIERS["trunking-steel-75x75"]
    plain = texts.larger_text([one("T1")], item, ())
    assert (
        plain == "make T1 trunking-steel-75x75, 75 × 75 mm, wall 1.2 mm, instead of 50.8 × 101.6 mm (1 length, 2.50 m)"
    )
    for laying in (Laying(installed=Surroundings.CAST_IN), Laying(can_be_reopened=False)):
        assert texts.larger_text([one("T1", laying=laying)], item, ()) == f"{plain}, while that can still be done"
    assert texts.larger_text([one("T1", laying=Laying(can_be_reopened=True))], item, ()) == plain


def test_what_its_standard_measures_inside_is_said_to_be() -> None:
    told = texts.larger_text([one("T1")], CARRIERS["trough-nema-9x4"], ())
    assert "228.6 × 101.6 mm, measured inside, usable depth 101.6 mm, instead" in told
    assert "wall" not in told


def test_ways_say_how_much_longer_they_are_and_what_hangs_loose() -> None:
    assert texts.way_text("P1", "A; B", 4000.0, 0.0) == "lead P1 another way, 4.00 m longer: route = A; B"
    assert texts.way_text("P1", "A", -250.0, None) == "lead P1 another way, 0.25 m shorter: route = A"
    assert texts.way_text("P1", "A", 1.0, 800.0) == (
        "lead P1 another way, no longer (with 0.80 m more outside carriers): route = A"
    )
    assert texts.way_text("P1", "A", None, 0.0) == "lead P1 another way, how much longer isn't known: route = A"


def test_cables_are_counted() -> None:
    three = texts.cable_text("P1", "h07v-u-4", "h07v-u-6", 3, 12.5, others_stay=False)
    given = "(leave csa_mm2, awg_kcmil and mass_kg_per_km empty, or give those of that cable)"
    assert three == f"lay h07v-u-6 instead of h07v-u-4 for P1 (3 cables on 12.50 m of way): cable = h07v-u-6 {given}"
    one_of = texts.cable_text("P1", "a", "b", 1, None, others_stay=True)
    assert one_of == f"lay b instead of a for P1 (1 cable): cable = b {given}; its other cables stay as they are"


def test_a_size_is_told_by_its_outside_else_by_its_bore() -> None:
    assert texts.size_after(CARRIERS["conduit-steel-25"]) == "25 mm"
    assert texts.size_after(CARRIERS["emt-3/4"]) == "bore 20.9 mm"
    assert texts.size_before(Section(bore_mm=15.7988)) == "bore 15.8 mm"
    assert texts.size_before(Section(outside_diameter_mm=20.0, wall_mm=1.6)) == "20 mm"
