"""What goes in by geometry alone: never fewer than the code lets in, and by arithmetic where that says it."""

import math
from dataclasses import replace

import pytest

from checker.fit import Question, answer
from checker.fit.by_code import Judged
from checker.fit.cables import kind_of
from checker.fit.carriers import carrier_of_type
from checker.fit.geometry import as_high_as, bodies_of, count_by_geometry, goes_in, proof_against
from checker.fit.subject import compartment_of
from checker.fit_text import as_text
from checker.model import CarrierKind, LoadedCompartment, Section
from checker.rule import Outcome, Verdict
from checker.rule.plugins import load_plugins
from checker.section.loaded import body_of, inside_of
from checker.section.packing import Found
from checker.section.shapes import Body, Box, Channel, Round, circle
from checker.size import SizeQuestion, size
from tests.benchmarks.pairs import pairs

PLUGINS = load_plugins()
UK = PLUGINS.codes["bs-7671"]


def empty(key: str) -> LoadedCompartment:
    return compartment_of(carrier_of_type(PLUGINS.carriers[key]), UK, ())


@pytest.mark.parametrize(("least", "most", "every"), [(1, 6, 11), (7, 40, 61), (41, 160, 397)])
def test_a_packing_is_found_for_as_many_as_the_code_lets_in(least: int, most: int, every: int) -> None:
    """Some of all pairs of cables and carriers at UK limits and those of NFPA 70, always the same; all of them by the benchmark."""
    asked = list(pairs(PLUGINS, most, least=least, every=every))
    assert len(asked) >= 8
    missed = {
        (pair.code, pair.carrier, pair.cable, pair.most) for pair in asked if pair.packed().outcome is not Found.FOUND
    }
    assert missed == set()


def test_where_fewer_go_in_than_the_codes_table_says_the_table_is_for_wider_ones() -> None:
    """It has 290 for a straight conduit of 16 mm, whatever its bore, and 31 for a cable of 1.5 mm²: nine. Nine circles go into one of
    3.6131 times their diameter and none smaller (proved; figures 7c), and 3.6131 · 3.4 = 12.28 mm is more than the 12.2 mm of heavy plastic
    conduit. Eight need 3.3048 · 3.4 = 11.24 mm."""
    asked = {"carrier": "conduit-plastic-heavy-16", "length_m": 2.0, "bends": 0.0, "geometry": True}
    found = answer(Question(UK, most="h07v-k-1.5", **asked), PLUGINS)  # type: ignore[arg-type]
    assert (found.most, found.geometry_only_count, found.outcome) == (8, 8, Outcome.PASS)
    nine = answer(Question(UK, cables=("h07v-k-1.5=9",), **asked), PLUGINS)  # type: ignore[arg-type]
    assert nine.outcome is Outcome.FAIL
    assert (
        "9 circles of 3.40 mm lie in the cables, and the smallest circle that holds so many is 12.28 mm wide"
        in nine.verdict.reason
    )


def test_a_bundle_for_which_no_place_is_found_is_told() -> None:
    """Sixteen of 10 mm are known to go into 46.154 mm and no less, which nobody has proved; fifteen need 45.214."""
    lines = []
    for number in (16, 15):
        question = Question(PLUGINS.codes["iec-60364"], bore="46", cables=(f"10mm={number}",), geometry=True)
        lines.append(as_text(answer(question, PLUGINS), UK))
    assert "No place was found for all of them in a drawing, which proves nothing" in lines[0]
    assert "A place was found for all of them in a drawing: geometry only, not an allowance." in lines[1]


def test_what_is_proved_not_to_go_in_fails_whatever_the_code_says() -> None:
    passed = Judged("fill.area", Verdict(Outcome.PASS, "30 % is within 45 %"))
    failed = passed.unless("a cable is 20 mm thick and the inside 16 mm wide")
    assert failed.outcome is Outcome.FAIL
    assert failed.fill.reason == (
        "by the figures of the code it passes (30 % is within 45 %), but it can't go in: a cable is 20 mm thick and the inside 16 mm wide"
    )
    assert passed.unless("") == passed


def test_two_cables_wider_together_than_a_bore_fail_whatever_areas_say() -> None:
    """On a run of up to 600 mm NFPA 70 grants 60 %: 2 · π/4 · 14² = 307.9 of 557.4 mm² is 55.2 %, but 2 · 14 mm is more
    than the bore of 26.6."""
    nfpa = PLUGINS.codes["nfpa-70"]
    found = answer(Question(nfpa, carrier="emt-1", cables=("14mm=2",), length_m=0.5, geometry=True), PLUGINS)
    assert found.exit_status == 1
    assert "wider together than the bore" in found.verdict.reason
    thinner = Question(nfpa, carrier="emt-1", cables=("13.3mm=2",), length_m=0.5, geometry=True)
    assert answer(thinner, PLUGINS).exit_status == 0


def test_no_size_is_offered_into_which_it_is_proved_not_to_go() -> None:
    """As above; 2 · 14 goes into 1-1/4 in with a bore of 35.05."""
    question = SizeQuestion(
        PLUGINS.codes["nfpa-70"], ("14mm=2",), CarrierKind.CONDUIT, "electrical metallic", length_m=0.5
    )
    taken = size(question, PLUGINS).families[0].taken[0]
    assert taken.tried.carrier.key == "emt-1-1/4"
    assert taken.smaller is not None
    assert "wider together than the bore" in taken.smaller.judged.fill.reason


def test_what_stands_above_the_sides_of_a_ladder_in_one_layer_goes_in() -> None:
    """A rung of 45 leaves 30 mm of 75; 21 cables of 41.1 mm side by side are 863.1 mm, and where the sides are thickest there are 894."""
    nfpa = PLUGINS.codes["nfpa-70"]
    asked = {"carrier": "ladder-900x75", "geometry": True}
    found = answer(Question(nfpa, most="h07v-r-630", **asked), PLUGINS)
    assert (found.most, found.geometry_only_count) == (21, 21)
    assert "Fewer than by the code" not in as_text(found, nfpa)
    listed = answer(Question(nfpa, cables=("h07v-r-630=21",), **asked), PLUGINS)
    assert (
        "found for all of them in a drawing, where they may stand as high above the floor as the thickest"
        in as_text(listed, nfpa)
    )
    assert as_high_as(Channel(894.0, 30.0), [circle(41.1), circle(12.0)]) == Channel(894.0, 41.1)
    assert as_high_as(Box(50.0, 30.0), [circle(41.1)]) == Box(50.0, 30.0)


def test_cables_on_a_tray_may_stand_above_its_sides() -> None:
    ladder = carrier_of_type(PLUGINS.carriers["ladder-nema-6x4"])
    assert not proof_against(compartment_of(ladder, UK, (kind_of("--cable", "120mm", {}),)))


def test_the_inside_is_what_the_catalogue_says() -> None:
    assert inside_of(empty("trunking-steel-50x50")) == Box(48.0, 48.0)
    assert inside_of(empty("conduit-steel-20")) == Round(16.8)
    ladder = inside_of(empty("ladder-nema-12x4"))
    assert isinstance(ladder, Channel)
    assert (ladder.width_mm, ladder.side_mm) == (pytest.approx(304.8), pytest.approx(101.6))


def test_a_cable_of_a_range_is_drawn_as_thick_as_it_may_be() -> None:
    assert body_of(kind_of("--cable", "10.9-12.4mm", {})) == Body(12.4, 12.4)
    assert body_of(kind_of("--cable", "11.5x6.2mm", {})) == Body(11.5, 6.2)


def test_cables_of_which_only_the_area_is_known_arent_drawn() -> None:
    from checker.fit.cables import what_is_there

    assert bodies_of([what_is_there("30%", 2304.0)]) is None


def test_seven_equal_circles_go_into_a_circle_of_three_times_their_size() -> None:
    """One in the middle and six around it; an eighth needs 3.304 times."""
    conduit = empty("conduit-steel-20")
    one = kind_of("--most", f"{16.8 / 3.0 - 0.01:.3f}mm", {})
    assert count_by_geometry(conduit, one) == 7


def test_what_takes_more_than_all_of_the_inside_is_impossible() -> None:
    """2304 / (π/4 · 10²) = 29.3."""
    assert math.pi / 4 * 100 * 30 > 2304
    carrier = carrier_of_type(PLUGINS.carriers["trunking-steel-50x50"])
    going = goes_in(compartment_of(carrier, UK, (kind_of("--cable", "10mm", {}, count=30),)))
    assert going.found == "impossible"
    assert going.why


def test_of_many_cables_a_place_is_found_in_rows_without_dropping_them(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object, **__: object) -> None:
        raise AssertionError("dropping hundreds in takes seconds where nothing is compiled")

    monkeypatch.setattr("checker.section.packing.pack", never)
    # 300 · π/4 · 3.9² + 90 · π/4 · 11² = 12137 mm² of 300 · 100: 40 %
    carrier = replace(
        carrier_of_type(PLUGINS.carriers["trunking-steel-50x50"]), section=Section(300.0, 100.0, wall_mm=0.0)
    )
    bundle = (kind_of("--cable", "3.9mm", {}, count=300), kind_of("--cable", "11mm", {}, count=90))
    assert goes_in(compartment_of(carrier, UK, bundle)).found == "found"
