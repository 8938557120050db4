"""Which sizes are next, and what a section is with one of them."""

from dataclasses import replace

import pytest

from checker.model import Carrier, CarrierKind, Lane, Section
from checker.remedies.sizes import larger_sizes, with_size
from checker.rule.catalogue import CarrierType
from tests.installations import carrier


def item(key: str, width: float | None, height: float | None, *, kind: str = "trunking", **more: object) -> CarrierType:
    told = {
        "family": key.split("-", maxsplit=1)[0],
        "material": "steel",
        "trade_size": "",
        "wall_mm": 1.0,
        "inside_diameter_mm": None,
    }
    return CarrierType(key=key, kind=kind, width_mm=width, height_mm=height, source="a book", **{**told, **more})  # type: ignore[arg-type]


def of(section: Section, kind: CarrierKind = CarrierKind.TRUNKING, material: str = "Steel") -> Carrier:
    return carrier("T", (0.0, 0.0, 0.0), (1000.0, 0.0, 0.0), section, kind, material=material)


BOX = Section(width_mm=100.0, height_mm=50.0, wall_mm=1.2)
SHELF = [
    item("flat-200x40", 200.0, 40.0),
    item("wide-150x50", 150.0, 50.0),
    item("wide-100x100", 100.0, 100.0),
    item("wide-100x75", 100.0, 75.0),
    item("wide-75x75", 75.0, 75.0),
    item("wide-100x50", 100.0, 50.0),
    item("other-110x60", 110.0, 60.0),
    item("tube-25", 25.0, 25.0, kind="conduit"),
]


def keys(carrier: Carrier, shelf: list[CarrierType] = SHELF) -> list[str]:
    return [one.key for one in larger_sizes(carrier, shelf)]


def test_no_side_is_smaller_and_the_smallest_area_comes_first() -> None:
    # 7500 of both: the narrower first; 75 × 75 and 200 × 40 have a smaller side; the other family isn't its own
    assert keys(of(BOX)) == ["wide-100x75", "wide-150x50", "wide-100x100"]


def test_where_no_family_has_its_size_all_of_its_kind_and_material_are_asked() -> None:
    odd = Section(width_mm=100.0, height_mm=55.0)
    # 110 × 60 = 6600 before 100 × 75 = 7500 before 100 × 100
    assert keys(of(odd)) == ["other-110x60", "wide-100x75", "wide-100x100"]
    assert keys(of(odd, material="PVC")) == []


def test_without_a_material_only_a_family_that_has_its_size_is_asked() -> None:
    assert keys(of(Section(width_mm=100.0, height_mm=55.0), material="")) == []
    assert keys(of(BOX, material=""))[0] == "wide-100x75"


def test_of_several_families_that_have_its_size_its_name_tells_which() -> None:
    shelf = [
        item("a", 400.0, 60.0, kind="tray", family="perforated tray, European"),
        item("b", 400.0, 85.0, kind="tray", family="perforated tray, European"),
        item("c", 400.0, 60.0, kind="tray", family="wire mesh basket"),
        item("d", 400.0, 105.0, kind="tray", family="wire mesh basket"),
        item("e", 400.0, 60.0, kind="tray", family=""),
    ]
    lying = of(Section(width_mm=400.0, height_mm=60.0), CarrierKind.TRAY)
    assert keys(replace(lying, type_name="Main basket"), shelf) == ["d"]
    # nothing tells: both, the smaller first
    assert keys(replace(lying, type_name="Type 7"), shelf) == ["b", "d"]


def test_an_upright_carrier_stays_upright() -> None:
    upright = Section(width_mm=50.0, height_mm=100.0, wall_mm=1.2)
    (first, *_) = larger_sizes(of(upright), SHELF)
    section = with_size(upright, first, None)
    assert section is not None
    assert (section.width_mm, section.height_mm) == (75.0, 100.0)


def test_conduits_go_by_their_outside_or_by_their_bore() -> None:
    shelf = [
        item("thin-25", 25.0, 25.0, kind="conduit", inside_diameter_mm=23.0),
        item("thin-20", 20.0, 20.0, kind="conduit", inside_diameter_mm=18.0),
        item("thick-25", 25.0, 25.0, kind="conduit", wall_mm=2.0, inside_diameter_mm=21.0),
        item("thick-20", 20.0, 20.0, kind="conduit", wall_mm=2.0, inside_diameter_mm=16.0),
    ]
    assert keys(of(Section(outside_diameter_mm=20.0, wall_mm=2.0), CarrierKind.CONDUIT), shelf) == ["thick-25"]
    assert keys(of(Section(bore_mm=18.0), CarrierKind.CONDUIT), shelf) == ["thin-25"]


def test_a_size_that_was_had_by_a_name_goes_by_that_family_though_others_measure_the_same() -> None:
    shelf = [
        item(f"{family}-{size}", None, None, kind="conduit", wall_mm=None, inside_diameter_mm=bore)
        for family in ("one", "two")
        for size, bore in (("a", 15.8), ("b", 20.9))
    ]
    named = Section(bore_mm=15.8, source="bore: catalogue two-a by its name; a book")
    assert keys(of(named, CarrierKind.CONDUIT, ""), shelf) == ["two-b"]


@pytest.mark.parametrize(("number", "widths"), [(1, [91.4, 48.0]), (2, [48.0, 91.4])])
def test_the_compartment_that_is_too_small_gets_what_there_is_more(number: int, widths: list[float]) -> None:
    section = Section(width_mm=100.0, height_mm=50.0, wall_mm=1.0, divider_mm=2.0, lanes=(Lane(1, 48.0), Lane(2, 48.0)))
    # 144 outside less two walls of 1.3 and the divider of 2 is 139.4; the other one keeps its 48
    made = with_size(section, item("wide-144x50", 144.0, 50.0, wall_mm=1.3), number)
    assert made is not None
    assert [lane.width_mm for lane in made.lanes] == widths


def test_compartments_that_dont_go_in_make_no_section() -> None:
    section = Section(width_mm=100.0, height_mm=50.0, wall_mm=1.0, divider_mm=1.0, lanes=(Lane(1, 48.0), Lane(2, 49.0)))
    # 100 less two walls of 2 and the divider of 1 is 95, and 48 + 49 are 97
    assert with_size(section, item("thick-100x75", 100.0, 75.0, wall_mm=2.0), 1) is None
