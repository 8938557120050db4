"""What goes in by geometry alone: never fewer than the code lets in, and by arithmetic where that says it."""

import math

import pytest

from checker.fit import Question, answer
from checker.fit.cables import kind_of
from checker.fit.carriers import carrier_of_type
from checker.fit.geometry import bodies_of, body_of, count_by_geometry, goes_in, inside_of, proof_against
from checker.fit.subject import compartment_of
from checker.fit_text import as_text
from checker.model import CarrierKind, LoadedCompartment
from checker.rule.plugins import load_plugins
from checker.section.packing import Found
from checker.section.shapes import Body, Box, Channel, Round
from checker.size import SizeQuestion, size
from tests.benchmarks.pairs import pairs

PLUGINS = load_plugins()
UK = PLUGINS.codes["bs-7671"]

#: Where fewer go in than the code's table says. It has 290 for a straight conduit of 16 mm, whatever its bore, and 31 for a cable of
#: 1.5 mm²: nine. Nine circles go into one of 3.6131 times their diameter and none smaller (proved; figures 7c), and 3.6131 · 3.4 = 12.28 mm
#: is more than the 12.2 mm of heavy plastic conduit. So it's the table that is wrong there: it goes by the outside, whatever the wall.
TABLE_IS_FOR_MORE = {
    ("bs-7671", "conduit-plastic-heavy-16", "h07v-k-1.5", 9),
    ("bs-7671", "conduit-plastic-heavy-16", "h07z-r-1.5", 9),
}


def empty(key: str) -> LoadedCompartment:
    return compartment_of(carrier_of_type(PLUGINS.carriers[key]), UK, ())


@pytest.mark.parametrize(("least", "most", "every"), [(1, 6, 11), (7, 40, 61), (41, 160, 499)])
def test_a_packing_is_found_for_as_many_as_the_code_lets_in(least: int, most: int, every: int) -> None:
    """Some of all pairs of cables and carriers at UK limits and those of NFPA 70, always the same; all of them by the benchmark."""
    asked = list(pairs(PLUGINS, most, least=least, every=every))
    assert len(asked) >= 8
    missed = {
        (pair.code, pair.carrier, pair.cable, pair.most) for pair in asked if pair.packed().outcome is not Found.FOUND
    }
    assert missed <= TABLE_IS_FOR_MORE


def test_where_fewer_go_in_than_the_code_says_that_is_told() -> None:
    found = answer(
        Question(UK, carrier="conduit-plastic-heavy-16", most="h07v-k-1.5", length_m=2.0, bends=0.0, geometry=True),
        PLUGINS,
    )
    assert (found.most, found.geometry_only_count) == (9, 8)
    assert "Fewer than by the code: go by the fewer" in as_text(found, UK)
    assert 3.613 * 3.4 > 12.2


def test_a_bundle_for_which_no_place_is_found_is_told() -> None:
    """By terms 9 · 31 = 279 of 290; but nine of 3.5 mm need 3.6131 · 3.5 = 12.65 mm, and the bore has 12.2.
    Eight need 3.3048 · 3.5 = 11.57."""
    lines = []
    for number in (9, 8):
        question = Question(
            UK,
            carrier="conduit-plastic-heavy-16",
            cables=(f"h07z-r-1.5={number}",),
            length_m=2.0,
            bends=0.0,
            geometry=True,
        )
        lines.append(as_text(answer(question, PLUGINS), UK))
    assert "No place was found for all of them in a drawing, which proves nothing" in lines[0]
    assert "A place was found for all of them in a drawing: geometry only, not an allowance." in lines[1]


def test_what_is_proved_not_to_go_in_fails_whatever_the_code_says() -> None:
    """On a run of up to 600 mm NFPA 70 grants 60 %: 2 · π/4 · 14² = 307.9 of 557.4 mm² is 55.2 %, but 2 · 14 mm is more
    than the bore of 26.6."""
    nfpa = PLUGINS.codes["nfpa-70"]
    found = answer(Question(nfpa, carrier="emt-1", cables=("14mm=2",), length_m=0.5, geometry=True), PLUGINS)
    assert found.exit_status == 1
    assert "by the figures of the code it passes" in found.verdict.reason
    assert "can't go in" in as_text(found, nfpa)
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
    assert "can't go in" in taken.smaller.judged.fill.reason


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
