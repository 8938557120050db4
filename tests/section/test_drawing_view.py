"""From a loaded compartment to what is drawn of it: sizes, cables, what isn't known, and words."""

import subprocess
import sys
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.model import (
    Carrier,
    CarrierKind,
    Lane,
    Laying,
    LoadedCompartment,
    Place,
    PlacedCable,
    Section,
    Service,
    cable_area_mm2,
)
from checker.rule import Outcome, Verdict
from checker.section.drawing import sketch_of
from checker.section.overlap import overlap_um
from checker.section.shapes import Body, Box, Channel, Round
from checker.section.view import Asked, LaneView, Way, view_of


def carrier(kind: CarrierKind = CarrierKind.TRUNKING, section: Section | None = None) -> Carrier:
    return Carrier("k", Place("g", "m", tag="C-1"), kind, section or Section(50.0, 50.0, wall_mm=1.0), material="steel")


def loaded(cables: tuple[PlacedCable, ...] = (), **changes: object) -> LoadedCompartment:
    part = LoadedCompartment(carrier(), 1, 2304.0, width_mm=48.0, side_mm=48.0, cables=cables)
    return replace(part, **changes)


def cable(mark: str = "P1", count: int | None = 1, diameter: float | None = 5.0, **changes: object) -> PlacedCable:
    made = PlacedCable(mark, Service.POWER, "a key", count, cable_area_mm2(diameter, None, None), diameter)
    return replace(made, **changes)


def seen(part: LoadedCompartment, verdict: Verdict | None = None, way: Way | None = None) -> LaneView:
    asked = {} if verdict is None else {part.number: [Asked("fill.compartment", verdict)]}
    return view_of(part.carrier, [part], asked, way=way).lanes[0]


def test_the_inside_is_a_box_a_bore_or_a_channel() -> None:
    # 2304 mm² at 48 mm of width is 48 mm high
    assert seen(loaded()).inside == Box(48.0, 48.0)
    assert seen(loaded(carrier=carrier(CarrierKind.TRAY))).inside == Channel(48.0, 48.0)
    assert seen(loaded(carrier=carrier(CarrierKind.CONDUIT), bore_mm=16.8)).inside == Round(16.8)


def test_where_the_wall_isnt_known_the_smallest_inside_is_drawn_and_said() -> None:
    lane = seen(
        loaded(
            area_mm2=2500.0,
            width_mm=50.0,
            area_least_mm2=2116.0,
            width_least_mm=46.0,
            size_doubt="the wall isn't known",
        )
    )
    assert lane.inside == Box(46.0, 46.0)
    assert "Drawn with the smallest inside that it can have: the wall isn't known." in lane.cautions


def test_without_a_size_nothing_is_drawn_and_that_is_said() -> None:
    view = view_of(carrier(), [loaded((cable(),), area_mm2=None, width_mm=None, side_mm=None)], {})
    assert view.lanes[0].inside is None
    words = [text.text for text in sketch_of(view).texts()]
    assert "The size inside isn't known." in words
    assert any(word.startswith("P1, 1 × a key") for word in words)


def test_a_tray_of_which_no_depth_is_known_has_dashed_sides_a_little_above_its_cables() -> None:
    # the thickest is 20 mm: 1.25 · 20 + 10 = 35
    lane = seen(loaded((cable(diameter=20.0),), carrier=carrier(CarrierKind.TRAY), area_mm2=None, side_mm=None))
    assert lane.inside == Channel(48.0, 35.0)
    assert not lane.is_side_known
    assert "The height of the sides isn't known; they are drawn dashed." in lane.cautions


def test_cables_that_are_alike_are_one_bundle_and_none_is_lost() -> None:
    lane = seen(loaded((cable("P2", 2), cable("P10", 1), cable("P2", 3), cable("P2", 1, 9.0))))
    assert [(one.mark, one.count, one.body) for one in lane.bundles] == [
        ("P2", 1, Body(9.0, 9.0)), ("P2", 5, Body(5.0, 5.0)), ("P10", 1, Body(5.0, 5.0)),
    ]  # fmt: skip
    assert len(lane.placed) == 7


def test_no_cables_of_a_sort_are_nothing_to_list() -> None:
    assert seen(loaded((cable("P1", 0), cable("P2", 1)))).bundles == seen(loaded((cable("P2", 1),))).bundles


def test_a_number_that_isnt_known_of_some_isnt_known_of_all() -> None:
    (one,) = seen(loaded((cable("P1", 2), cable("P1", None)))).bundles
    assert (one.count, one.why) == (None, "how many there are isn't known")
    assert one.words == "P1, an unknown number of a key, 5 mm"


def test_what_isnt_drawn_is_listed_with_why() -> None:
    several = cable("S", 1, None, is_several=True, area_mm2=100.0)
    sizeless = cable("N", 2, None, area_mm2=None)
    lane = seen(loaded((cable(), several, sizeless), possible=(cable("M", 3),), possible_doubts=("its way has a gap",)))
    assert "Not drawn: N, 2 × a key (their size isn't known); S, 1 × a key (only their area is known)." in lane.cautions
    assert "May lie here too, and isn't drawn: M, 3 × a key, 5 mm (its way has a gap)." in lane.cautions
    assert len(lane.placed) == 1


def test_what_cant_be_counted_is_said() -> None:
    lane = seen(loaded(unbounded=True, possible_doubts=("circuits have no way",)))
    assert "More may lie here that can't be counted: circuits have no way." in lane.cautions


def test_cables_whose_size_is_a_range_are_drawn_thick_and_that_is_said() -> None:
    ranged = cable("R", 1, 12.4, diameter_least_mm=10.9, area_least_mm2=cable_area_mm2(10.9, None, None))
    lane = seen(loaded((ranged,)))
    assert lane.bundles[0].body == Body(12.4, 12.4)
    assert lane.bundles[0].words == "R, 1 × a key, 10.9 to 12.4 mm"
    assert "Cables of R are drawn as thick as they may be." in lane.cautions


def test_more_cables_than_can_be_shown_are_told_not_drawn() -> None:
    lane = seen(loaded((cable("P1", 5000, 1.0),)))
    assert lane.placed == ()
    assert lane.cautions[0].startswith("Of 5000 cables nothing is drawn")


@pytest.mark.parametrize(
    ("value", "limit", "measure", "words"),
    [
        # 0.45 - 0.30 = 0.15 of 2304 mm² is 345.6, a third of the limit
        (0.30, 0.45, "area", "room left by the limit: 346 mm², 33.3 % of what it allows"),
        # 0.05 of 2304 is 115.2, a ninth
        (0.50, 0.45, "area", "beyond the limit by 115 mm², 11.1 % of the limit"),
        (0.45, 0.45, "area", "no room left: it is exactly at the limit"),
        (0.75, 1.0, "term", "room left by the limit: 25 % of what it allows"),
        # a quarter of 48 mm
        (0.75, 1.0, "width", "room left by the limit: 12 mm of width, 25 % of what it allows"),
        (None, 0.45, "area", ""),
        (0.3, None, "area", ""),
    ],
)
def test_room_left_is_told_in_words(value: float | None, limit: float | None, measure: str, words: str) -> None:
    assert seen(loaded(), Verdict(Outcome.PASS, "", value, limit, "ratio", measure)).room == words


def test_room_is_told_as_a_bound_where_the_fill_is_one() -> None:
    verdict = Verdict(Outcome.UNKNOWN, "", 0.30, 0.45, "ratio", "area", at_least=True)
    assert seen(loaded(), verdict).room == "room left by the limit: at most 346 mm², 33.3 % of what it allows"


def test_answers_of_other_rules_are_told_where_they_dont_pass_fails_first() -> None:
    part = loaded((cable(),))
    asked = [
        Asked("a.rule", Verdict(Outcome.UNKNOWN, "something isn't known"), tells_fill=False),
        Asked("z.rule", Verdict(Outcome.FAIL, "they lie together"), tells_fill=False, about="circuit P1"),
        Asked("b.rule", Verdict(Outcome.PASS, "all is well"), tells_fill=False),
    ]
    words = [text.text for text in sketch_of(view_of(part.carrier, [part], {1: asked})).texts()]
    told = [word for word in words if "rule" in word]
    assert told == ["z.rule (circuit P1) fails: they lie together.", "a.rule can't tell: something isn't known."]


def test_one_compartment_of_several_is_drawn_without_the_outside() -> None:
    three = carrier(section=Section(150.0, 50.0, wall_mm=1.0, lanes=(Lane(1), Lane(2), Lane(3))))
    view = view_of(three, [loaded(carrier=three, number=2)], {})
    assert (view.title, view.outside_mm) == ("Section of C-1, compartment 2 of 3", None)


def test_the_order_of_cables_and_compartments_makes_no_difference() -> None:
    two = carrier(section=Section(150.0, 50.0, wall_mm=1.0, lanes=(Lane(1), Lane(2))))
    cables = (cable("A", 3), cable("B", 2, 7.0), cable("C", 1, 3.0))
    parts = [loaded(cables, carrier=two), loaded(carrier=two, number=2)]
    other = [loaded(carrier=two, number=2), loaded(cables[::-1], carrier=two)]
    assert sketch_of(view_of(two, parts, {})) == sketch_of(view_of(two, other, {}))


@given(diameters=st.lists(st.floats(2.0, 14.0), min_size=1, max_size=12), by_hand=st.booleans())
def test_cables_are_drawn_where_they_lie_without_overlap(*, diameters: list[float], by_hand: bool) -> None:
    cables = tuple(cable(f"P{number}", 1, diameter) for number, diameter in enumerate(diameters))
    lane = seen(loaded(cables), way=Way(by_hand, 7))
    bodies = [lane.bundles[index].body or Body(1.0, 1.0) for index in lane.drawn]
    tall = Channel(48.0, 1000.0)  # laid by hand they may stand out above
    assert lane.inside is not None
    assert overlap_um(tall if by_hand else lane.inside, bodies, lane.placed) < 1.0


def test_a_drawing_says_whether_it_is_the_best_found_or_as_laid() -> None:
    part = loaded((cable("P1", 4),))
    assert (
        seen(part).way
        == "Drawn as best found: this is one way in which they go in. Laid by hand they will lie otherwise."
    )
    # four cables of 5 mm on a floor of 48 mm: between one layer and four
    told = seen(part, way=Way(as_laid=True, seed=2)).way
    assert told.startswith("Drawn as laid by hand, one cable after the other where it falls (seed 2): the pile is ")
    assert "all lie under the lid" in told


def test_of_many_trials_the_middle_one_is_drawn_and_all_are_told_of() -> None:
    # nine cables of 5 mm side by side take 45 of 48 mm: none stands higher than nine on each other, 45 mm, and the inside has 48
    part = loaded((cable("P1", 9),))
    told = seen(part, way=Way(as_laid=True, seed=2, trials=30)).way
    assert "It is the middle one of 30 trials by height: the highest pile is " in told
    assert told.endswith("and all lie under the lid in 30.")
    # one cable is no pile: it lies on the floor each time
    alone = seen(loaded((cable("P1", 1),)), way=Way(as_laid=True, trials=30)).way
    assert "the pile is 5 mm high" in alone
    assert "the highest pile is 5 mm high" in alone


def test_cables_of_one_layer_lie_side_by_side_on_the_floor() -> None:
    tray = replace(carrier(CarrierKind.TRAY), laying=Laying(single_layer=True))
    lane = seen(loaded((cable("A", 2, 10.0), cable("B", 1, None, width_mm=6.0, height_mm=12.0)), carrier=tray))
    # 10 + 10, and the flat one lies flat: 12 wide from 20 to 32, 6 high
    assert [(one.x_mm, one.y_mm, one.turned) for one in lane.placed] == [
        (5.0, 5.0, False),
        (15.0, 5.0, False),
        (26.0, 3.0, True),
    ]
    assert lane.way.startswith("Drawn side by side in one layer, as the project declares")


def test_cables_that_dont_go_into_one_layer_are_drawn_in_several_and_that_is_said() -> None:
    tray = replace(carrier(CarrierKind.TRAY), laying=Laying(single_layer=True))
    lane = seen(loaded((cable("A", 5, 10.0),), carrier=tray))
    assert "The project declares one layer, and side by side they take 50 mm of 48 mm." in lane.cautions
    assert len(lane.placed) == 5


def test_cables_that_stand_out_above_a_tray_are_all_drawn() -> None:
    # 20 mm thick where the sides are 10 mm high
    tray = loaded((cable("A", 2, 20.0),), carrier=carrier(CarrierKind.TRAY), area_mm2=480.0)
    lane = seen(tray)
    assert [one.y_mm for one in lane.placed] == [pytest.approx(10.0)] * 2
    assert "can't all lie below the sides" in lane.way


def test_of_cables_that_dont_go_into_a_trunking_as_many_as_are_found_to_are_drawn() -> None:
    # their centres lie in a square of 48 - 30 = 18 mm, whose corners are 25.5 mm apart, less than the 30 that they need
    lane = seen(loaded((cable("A", 2, 30.0),)))
    assert len(lane.placed) == 1
    assert "1 of 2 are drawn" in lane.way


def test_nothing_of_packing_is_loaded_before_something_is_packed() -> None:
    asked = (
        "import sys, checker.section.view, checker.section.drawing; sys.exit('checker.section.packing' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", asked], check=False).returncode == 0  # noqa: S603 - our own words
