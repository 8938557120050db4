"""``wayroom size`` against sizes by hand: UK steel trunking, conduit by terms, conduit of NFPA 70."""

import json
import math

import pytest

from checker.errors import InputError
from checker.model import CarrierKind
from checker.rule.plugins import load_plugins
from checker.size import SizeAnswer, SizeQuestion, size
from checker.size_text import as_object, as_text
from tests.test_cli import wayroom

PLUGINS = load_plugins()
UK, NFPA = PLUGINS.codes["bs-7671"], PLUGINS.codes["nfpa-70"]


def sized(*cables: str, code: object = UK, **asked: object) -> SizeAnswer:
    return size(SizeQuestion(code, cables, **asked), PLUGINS)  # type: ignore[arg-type]


def keys(found: SizeAnswer, family: int = 0) -> list[str]:
    return [taken.tried.carrier.key for taken in found.families[family].taken]


def test_the_smallest_trunking_and_another_shape() -> None:
    """40 · π/4 · 7.8² = 1911.3. 75 × 50: 72.6 · 47.6 · 0.45 = 1555.1, over. 100 × 50: 2090.6; 75 × 75: 2371.8; both within, and neither
    has both sides no larger than the other. 100 × 50 is the smaller outside."""
    found = sized("h07v-r-16=40", kind=CarrierKind.TRUNKING)
    assert keys(found) == ["trunking-steel-100x50", "trunking-steel-75x75"]
    first = found.families[0].taken[0]
    assert first.smaller is not None
    assert first.smaller.carrier.key == "trunking-steel-75x50"
    assert first.smaller.judged.fill.value == pytest.approx(40 * math.pi / 4 * 7.8**2 / (72.6 * 47.6))
    assert found.exit_status == 0


def test_a_spare_takes_the_next_size() -> None:
    """1911.3 · 1.25 = 2389.1, over 2371.8. 100 × 75: 97.6 · 72.6 · 0.45 = 3188.6; 150 × 50: 146.8 · 46.8 · 0.45 = 3091.6. Both are 7500 mm²
    outside; the narrower stands first."""
    found = sized("h07v-r-16=40", kind=CarrierKind.TRUNKING, spare="25%")
    assert keys(found) == ["trunking-steel-100x75", "trunking-steel-150x50"]
    assert "over 45 %" in as_text(found, UK)


def test_conduit_by_terms() -> None:
    """6 · 30 = 180. 5 m with two bends: 20 mm 10,000 / (31 + 20) = 196; 16 mm 6000 / (30 + 20) = 120."""
    found = sized("h07v-u-2.5=6", kind=CarrierKind.CONDUIT, family="steel conduit", length_m=5.0, bends=2.0)
    assert keys(found) == ["conduit-steel-20"]
    smaller = found.families[0].taken[0].smaller
    assert smaller is not None
    assert (smaller.carrier.key, smaller.judged.fill.value) == ("conduit-steel-16", pytest.approx(180 / 120))


def test_trade_sizes_in_inches() -> None:
    """12 · 13.6129 = 163.4 mm²: over 0.40 · 343.87 = 137.5 of 3/4, within 0.40 · 557.42 = 223.0 of 1."""
    found = sized("thhn-10=12", code=NFPA, kind=CarrierKind.CONDUIT, family="electrical metallic")
    assert keys(found) == ["emt-1"]
    text = as_text(found, NFPA)
    assert "smallest: 1 in (emt-1)" in text
    assert "next smaller, 3/4 in (emt-3/4), fails: 12 take 163.4 mm² of 343.9 mm², 47.5 %, over 40 %" in text


def test_where_nothing_is_large_enough_the_largest_says_why() -> None:
    found = sized("200mm=1", code=NFPA, kind=CarrierKind.CONDUIT, family="electrical metallic")
    assert (found.exit_status, keys(found)) == (1, [])
    assert found.families[0].largest.carrier.key == "emt-4"
    assert "Nothing takes them of:" in as_text(found, NFPA)


def test_of_what_takes_none_the_share_is_told_once() -> None:
    # 40 · π/4 · 7.8² = 1911.3 mm², and a bore of 46.8 mm has 1720.2: 111.1 %, which isn't 111.1 % of the 40 %
    found = sized("h07v-r-16=40", code=PLUGINS.codes["iec-60364"], kind=CarrierKind.CONDUIT, space_factor="40%")
    lines = [line for line in as_text(found, UK).splitlines() if "conduit-steel-50" in line]
    assert [line.count("111.1 %") for line in lines] == [1]
    assert "of 40 %" not in " ".join(lines)


def test_families_that_could_be_meant_are_told_apart() -> None:
    with pytest.raises(InputError) as caught:
        sized("h07v-r-16=4", family="none such")
    # their names have commas of their own
    assert "'perforated tray, European', 'perforated tray, heavy return flange'" in caught.value.hint


def test_what_cant_be_said_is_no_pass() -> None:
    found = sized("h07v-u-2.5=6", kind=CarrierKind.CONDUIT)
    assert found.exit_status == 3
    text = as_text(found, UK)
    assert "say --length" in text
    assert "UNKNOWN under bs-7671" in text
    assert "PASS" not in text


def test_each_family_is_told_in_one_object(capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ("size", "--code", "bs-7671", "--cable", "h07v-r-16=40", "--cable", "cat6-u-utp=2")
    status, out, _ = wayroom(capsys, *arguments, "--json")
    found = json.loads(out)
    assert status == 0
    usual = {(item.kind, item.family) for item in PLUGINS.carriers.values() if "bs-7671" in item.codes}
    assert {(family["kind"], family["family"]) for family in found["families"]} == usual
    trunking = next(family for family in found["families"] if family["kind"] == "trunking")
    assert trunking["smallest"] == "trunking-steel-100x50"
    assert {"working", "next_smaller", "geometry_only", "fill", "limit", "source"} <= trunking["carriers"][0].keys()
    _, text, _ = wayroom(capsys, *arguments)
    assert "licensed" in text
    assert "maker's: cat6-u-utp" in text


def test_a_cable_to_plan_with_is_named_once_however_often_it_is_listed() -> None:
    text = as_text(sized("cat6-u-utp=2", "cat6-u-utp=3", kind=CarrierKind.TRUNKING), UK)
    assert "so take the maker's: cat6-u-utp.\n" in text


def test_no_carrier_smaller_on_both_sides_passes_and_all_that_pass_have_one_that_is_offered() -> None:
    for cables in (("h07v-r-16=40",), ("h07v-u-2.5=90", "h07v-r-25=4"), ("cat6-u-utp=48",), ("6242y-2.5=14",)):
        found = sized(*cables, kind=CarrierKind.TRUNKING)
        offered = [PLUGINS.carriers[key] for key in keys(found)]
        sides = [(item.width_mm or 0.0, item.height_mm or 0.0) for item in offered]
        # by the definition of the space factor, from the table alone
        taken = sum(cable.occupied_mm2 or 0.0 for cable in found.cables)
        for item in PLUGINS.carriers.values():
            if item.kind != "trunking" or "bs-7671" not in item.codes:
                continue
            width, height, wall = item.width_mm or 0.0, item.height_mm or 0.0, item.wall_mm or 0.0
            passes = taken <= 0.45 * (width - 2 * wall) * (height - 2 * wall)
            smaller = [side for side in sides if side[0] <= width and side[1] <= height]
            assert passes == bool(smaller), (cables, item.key)


@pytest.mark.parametrize(
    ("asked", "where"),
    [
        ({"cables": ()}, "--cable"),
        ({"cables": ("h07v-u-2.5=6",), "family": "glass"}, "--family"),
        ({"cables": ("h07v-u-2.5=6",), "kind": CarrierKind.TRAY, "length_m": 3.0}, "--length, --bends"),
        ({"cables": ("h07v-u-2.5=6",), "length_m": -3.0}, "--length"),
        ({"cables": ("h07v-u-2.5=6",), "spare": "none"}, "--spare"),
        ({"cables": ("trunking-steel-50x50=6",)}, "--cable"),
        ({"cables": ("h07v-u-2.5=6",), "space_factor": "60%", "kind": CarrierKind.TRUNKING}, "--space-factor"),
    ],
)
def test_what_is_asked_wrongly_is_told(asked: dict[str, object], where: str) -> None:
    with pytest.raises(InputError) as caught:
        size(SizeQuestion(UK, **asked), PLUGINS)  # type: ignore[arg-type]
    assert caught.value.where == where
    assert caught.value.hint


def test_a_tray_by_a_limit_of_ones_own() -> None:
    """6 × 4 in: 152.4 · 101.6 = 15483.8 mm², 40 % of it 6193.5. Sixty of 12 mm: 6785.8, over; 9 × 3 in has 6967.7, and 6 × 5 in
    7741.9 on a larger outside."""
    found = sized("12mm=60", kind=CarrierKind.TRAY, family="trough", space_factor="40%")
    assert keys(found)[0] == "trough-nema-9x3"
    assert as_object(found, UK)["families"][0]["carriers"][0]["basis"] == "project"


def test_sizes_are_those_that_are_usual_where_the_code_is_and_others_by_their_family() -> None:
    inches = {family.name for family in sized("thhn-10=12", code=NFPA).families}
    assert "metal wireway" in inches
    assert "steel trunking" not in inches
    assert "metal wireway" not in {family.name for family in sized("h07v-u-2.5=6").families}
    assert [family.name for family in sized("h07v-u-2.5=6", family="metal wireway").families] == ["metal wireway"]


def test_families_that_fail_to_answer_alike_stand_in_one_line() -> None:
    found = size(SizeQuestion(PLUGINS.codes["bs-7671"], ("h07v-u-2.5=3",)), PLUGINS)
    lines = as_text(found, PLUGINS.codes["bs-7671"]).split("\n")
    told = [line for line in lines if line.endswith(": the length of the conduit's run isn't known")]
    assert len(told) == 1
    families = [family.name for family in found.families if family.kind == "conduit"]
    assert len(families) > 1
    assert all(f"{name} (conduit), up to " in told[0] for name in families)
    limitless = [line for line in lines if "the code sets no limit for trays and ladders" in line]
    assert len(limitless) == 1


def test_the_smallest_is_shown_with_the_arithmetic_of_the_largest_cables() -> None:
    """Eight of 10.9 to 12.4 mm: 8 · π/4 · 12.4² = 966.1 mm² of 48 · 48 = 2304, 41.9 %; of the smallest 746.5, 32.4 %."""
    code = PLUGINS.codes["bs-7671"]
    text = as_text(size(SizeQuestion(code, ("10.9-12.4mm=8",), CarrierKind.TRUNKING), PLUGINS), code)
    assert "    with the largest cables, which decides:\n      10.9-12.4mm: 8 × π/4 · 12.4² = 966.1 mm²\n" in text
    assert "      fill 966.1 / 2304.0 = 0.4193\n    with the smallest cables: fill 746.5 / 2304.0 = 0.3240\n" in text
