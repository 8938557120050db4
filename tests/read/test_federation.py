"""Several files as one building: what doesn't match is told with figures, and nothing is moved."""

from collections.abc import Callable
from pathlib import Path

import pytest

from checker.model import Problem, ProblemKind, Vec
from checker.read.federation import FileFacts, compare, extent
from checker.read.installation import read_installation
from checker.read.site import Georeference, SiteFacts, Storey
from checker.read.sources import find_sources
from tests.small_models import SmallModel, two_trunkings

#: A grid of 6 × 6 points, 60 m by 30 m.
HALL = [(12_000.0 * i, 6_000.0 * j, 3_000.0) for i in range(6) for j in range(6)]


def moved(points: list[Vec], by: Vec, times: float = 1.0) -> list[Vec]:
    return [(x * times + by[0], y * times + by[1], z * times + by[2]) for x, y, z in points]


def facts(
    name: str,
    points: list[Vec] | None = None,
    levels: dict[str, float] | None = None,
    georeference: Georeference | None = None,
) -> FileFacts:
    storeys = tuple(Storey(level, elevation) for level, elevation in (levels or {}).items())
    return FileFacts(name, points or [], frozenset({name}), SiteFacts(storeys, georeference))


def test_files_that_share_a_building_need_no_word() -> None:
    levels = {"Level 0": 0.0, "Level 1": 3_500.0}
    assert (
        compare([facts("a", HALL, levels), facts("b", moved(HALL, (30_000.0, 0.0, 3_500.0)), levels), facts("c")]) == []
    )


def test_a_file_far_from_the_others_is_told_with_the_distance() -> None:
    """c begins 500 m along x from the origin; the hall ends at 60 m: 440 m."""
    far = moved(HALL, (500_000.0, 0.0, 0.0))
    (problem,) = compare([facts("c", far), facts("a", HALL), facts("b", HALL)])
    assert (problem.where, problem.what) == ("c", "it lies 440 m from a, b")
    assert problem.why == "so nothing of it meets anything of a, b"
    assert (problem.kind, problem.elements) == (ProblemKind.GAP, 36)


@pytest.mark.parametrize(
    ("gap_mm", "size_mm", "is_told"),
    [
        (99_000.0, 60_000.0, False),  # less than 100 m
        (101_000.0, 60_000.0, True),
        (30_000.0, 2_000.0, True),  # more than ten times the larger
        (15_000.0, 1_000.0, False),  # rooms of one building lie so
    ],
)
def test_far_is_100_m_or_ten_times_the_larger(gap_mm: float, size_mm: float, *, is_told: bool) -> None:
    one: list[Vec] = [(0.0, 0.0, 0.0), (size_mm, 0.0, 0.0)]
    problems = compare([facts("a", one), facts("b", moved(one, (size_mm + gap_mm, 0.0, 0.0)))])
    assert [problem.what for problem in problems] == ([f"it lies {gap_mm / 1000:.0f} m from a"] if is_told else [])


def test_an_element_astray_hides_nothing_and_is_mentioned() -> None:
    """One point in 37 lies at the other file's place: more is left out at each end, a twentieth."""
    far = [*moved(HALL, (500_000.0, 0.0, 0.0)), (0.0, 0.0, 0.0)]
    (problem,) = compare([facts("a", HALL), facts("b", far)])
    assert problem.why == "so most of it meets nothing of b; only a few elements lie nearer"


def test_two_buildings_of_two_files_each_are_told_once() -> None:
    far = moved(HALL, (900_000.0, 0.0, 0.0))
    problems = compare([facts("a", HALL), facts("x", far), facts("b", HALL), facts("y", far)])
    assert [problem.where for problem in problems] == ["x, y"]


def test_a_chain_of_files_that_each_meet_the_next_is_one_building() -> None:
    steps = [facts(str(n), moved(HALL, (90_000.0 * n, 0.0, 0.0))) for n in (3, 0, 2, 1)]
    assert compare(steps) == []


@pytest.mark.parametrize("times", [1000.0, 304.8])
def test_a_wrong_unit_shows_in_the_size(times: float) -> None:
    """67 m times 304.8 is 20 km, longer than any building."""
    problems = compare([facts("a", HALL), facts("b", HALL), facts("c", moved(HALL, (0.0, 0.0, 0.0), times))])
    assert [(problem.where, problem.what) for problem in problems] == [
        ("c", f"its figures are about {times:g} times those of a: one of them seems to have a wrong unit")
    ]


def test_a_wrong_unit_shows_in_the_size_the_other_way_round() -> None:
    problems = compare([facts("a", HALL), facts("b", HALL), facts("c", moved(HALL, (0.0, 0.0, 0.0), 0.001))])
    assert [problem.what for problem in problems if problem.where == "c"] == [
        "its figures are about one in 1000 of those of a: one of them seems to have a wrong unit"
    ]


@pytest.mark.parametrize("times", [25.4, 12.0])
def test_a_small_part_beside_a_large_one_is_no_wrong_unit(times: float) -> None:
    part = moved(HALL, (0.0, 0.0, 0.0), 1.0 / times)
    assert compare([facts("a", HALL), facts("b", part)]) == []


@pytest.mark.parametrize("times", [1000.0, 304.8, 25.4, 12.0])
def test_a_wrong_unit_shows_in_the_storeys(times: float) -> None:
    levels = {"Ground": 0.0, "First": 4_000.0, "Second": 7_500.0}
    wrong = {name: elevation / times for name, elevation in levels.items()}
    (problem,) = compare([facts("a", None, levels), facts("b", None, wrong)])
    assert (
        problem.what == f"its figures are about one in {times:g} of those of a: one of them seems to have a wrong unit"
    )


def test_one_storey_in_common_proves_no_unit() -> None:
    problems = compare([facts("a", None, {"Roof": 36_000.0}), facts("b", None, {"Roof": 3_000.0})])
    assert [problem.what.split(":")[0] for problem in problems] == [
        "its storeys aren't at the elevations that they have in a"
    ]


def test_storeys_of_one_name_at_two_elevations_are_told_with_both() -> None:
    one = facts("a", None, {"L0": 0.0, "L1": 3_500.0, "L2": 7_000.0})
    other = facts("b", None, {"L0": 100.0, "L1": 3_650.0, "Roof": 10_500.0})  # 0.1 m is allowed, 0.15 m isn't
    (problem,) = compare([one, other])
    assert problem.where == "b"
    assert problem.what == "its storeys aren't at the elevations that they have in a: 'L1' at 3.650 m, there 3.500 m"
    assert (problem.kind, problem.elements) == (ProblemKind.GAP, 1)


def test_a_name_that_a_file_has_twice_is_compared_with_nothing() -> None:
    """A site with two buildings has two storeys called 0."""
    site = SiteFacts((Storey("0", 0.0), Storey("0", 9_000.0)))
    assert compare([FileFacts("a", [], frozenset(), site), facts("b", None, {"0": 4_000.0})]) == []


def test_one_storey_under_two_names_is_told() -> None:
    """The lookup of carriers on the same storey goes by the name as it stands, case and all."""
    one = facts("a", None, {"Level 0": 0.0, "Level 1": 3_500.0, "Roof": 7_000.0})
    other = facts("b", None, {"LEVEL 0": 0.0, "L1": 3_540.0, "Roof": 7_000.0, "Mast": 20_000.0})
    (problem,) = compare([one, other])
    assert problem.what == (
        "its storeys have other names than in a: 'LEVEL 0' at 0.000 m is 'Level 0' there; 'L1' at 3.540 m is 'Level 1' there"
    )
    assert (problem.where, problem.elements) == ("b", 2)


def test_different_places_on_the_map_are_told() -> None:
    one = facts("a", georeference=Georeference(500_000.0, 200_000.0, 0.0, 30.0, 1.0))
    same = facts("b", georeference=Georeference(500_000.0, 200_000.0, 0.0, 390.0, 1.0))  # a whole turn more
    other = facts("c", georeference=Georeference(500_000.0, 200_012.5, 0.0, 31.5, 0.9996))
    (problem,) = compare([one, same, facts("none"), other])
    assert problem.where == "c"
    assert problem.what == (
        "it is put onto the map otherwise than a: northing 200012.5, there 200000; turn 31.5°, there 30°; scale 0.9996, there 1"
    )


def test_revisions_of_one_model_are_told_by_their_globalids() -> None:
    old = FileFacts("P01", HALL, frozenset(f"g{n}" for n in range(10)))
    new = FileFacts("P02", HALL, frozenset(f"g{n}" for n in range(3, 15)))
    (problem,) = compare([old, new, facts("other", HALL)])
    assert problem.where == "P02"
    assert problem.what == "7 of its 12 elements are in P01 too, by their GlobalIds"
    assert problem.elements == 7


def test_the_bulk_leaves_a_twentieth_out_at_each_end() -> None:
    """100 points along x, of which 5 at each end are left out."""
    box = extent([(float(n), 0.0, 0.0) for n in range(100)], 0.05)
    assert box is not None
    assert (box.low[0], box.high[0]) == (5.0, 94.0)
    assert extent([]) is None


def model(path: Path, change: Callable[[SmallModel], None], **unit: str | None) -> Path:
    small = SmallModel(**unit)  # type: ignore[arg-type]
    change(small)
    small.carrier(path.stem, (0.0, 0.0, 0.0), (4_000.0, 0.0, 0.0), small.profile("IfcRectangleProfileDef", 50.0, 50.0),
                  GlobalId=f"{path.stem:0<22}")  # fmt: skip
    return small.write(path)


def storeys(rows: dict[str, tuple[float | None, float | None]]) -> Callable[[SmallModel], None]:
    """Storeys by name: the height of the placement and the elevation, either left out."""

    def change(small: SmallModel) -> None:
        for name, (at, stated) in rows.items():
            placement = None if at is None else small.place((0.0, 0.0, at))
            small.rooted("IfcBuildingStorey", Name=name, ObjectPlacement=placement, Elevation=stated)

    return change


def said(*paths: Path) -> list[Problem]:
    """What was said of the files, less what has nothing to do with them."""
    problems = read_installation(find_sources(list(paths), None), {}).problems
    return [
        problem
        for problem in problems
        if problem.where.split(",")[0] in {path.name for path in paths} and "storeys" in problem.what
    ]


def test_storeys_are_read_by_placement_and_else_by_elevation(tmp_path: Path) -> None:
    one = model(tmp_path / "a.ifc", storeys({"L1": (3_500.0, None), "L2": (None, 7_000.0)}))
    other = model(tmp_path / "b.ifc", storeys({"L1": (3_500.0, 3_500.0), "L2": (8_000.0, 8_000.0)}))
    assert [problem.what for problem in said(one, other)] == [
        "its storeys aren't at the elevations that they have in a.ifc: 'L2' at 8.000 m, there 7.000 m"
    ]


def test_elevations_count_from_the_buildings_own_zero(tmp_path: Path) -> None:
    """52 m above the sea: the same offset for all storeys contradicts nothing."""
    path = model(tmp_path / "a.ifc", storeys({"L0": (52_000.0, 0.0), "L1": (55_500.0, 3_500.0)}))
    assert said(path) == []


def test_a_storey_that_contradicts_itself_is_told(tmp_path: Path) -> None:
    rows: dict[str, tuple[float | None, float | None]] = {
        "L0": (52_000.0, 0.0), "L1": (55_500.0, 3_500.0), "L2": (59_000.0, 8_000.0)
    }  # fmt: skip
    (problem,) = said(model(tmp_path / "a.ifc", storeys(rows)))
    assert problem.what == "storeys contradict themselves: 'L2' is placed at 59.000 m, by its elevation at 60.000 m"
    assert problem.why == "the model contradicts itself; the placement is believed"
    assert problem.kind is ProblemKind.ASSUMPTION


def test_where_all_placements_are_at_one_height_the_elevations_are_believed(tmp_path: Path) -> None:
    flat = model(tmp_path / "a.ifc", storeys({"L0": (0.0, 0.0), "L1": (0.0, 3_500.0)}))
    good = model(tmp_path / "b.ifc", storeys({"L0": (0.0, 0.0), "L1": (3_500.0, 3_500.0)}))
    (problem,) = said(flat, good)
    assert problem.where == "a.ifc"
    assert problem.why == "the model contradicts itself; the elevation is believed"


def test_placements_that_bite_their_own_tail_and_odd_elevations_end_nowhere(tmp_path: Path) -> None:
    def change(small: SmallModel) -> None:
        one, other = small.place((0.0, 0.0, 1.0)), small.place((0.0, 0.0, 2.0))
        one.PlacementRelTo, other.PlacementRelTo = other, one
        small.rooted("IfcBuildingStorey", Name="L1", ObjectPlacement=one, Elevation=3_500.0)
        small.rooted("IfcBuildingStorey")

    bad = model(tmp_path / "a.ifc", change)
    good = model(tmp_path / "b.ifc", storeys({"L1": (3_600.0, None)}))
    assert said(bad, good) == []
    good = model(tmp_path / "b.ifc", storeys({"L1": (3_700.0, None)}))
    assert len(said(bad, good)) == 1


def test_the_map_conversion_is_read_with_the_schemas_defaults(tmp_path: Path) -> None:
    """(0, 1) is a quarter turn: atan2(1, 0) = 90°."""

    def on_map(**more: float) -> Callable[[SmallModel], None]:
        def change(small: SmallModel) -> None:
            crs = small.file.create_entity("IfcProjectedCRS", Name="EPSG:27700")
            small.file.create_entity("IfcMapConversion", SourceCRS=small.context, TargetCRS=crs, Eastings=1000.0, Northings=2000.0,
                                     OrthogonalHeight=0.0, **more)  # fmt: skip

        return change

    one = model(tmp_path / "a.ifc", on_map())
    turned = model(tmp_path / "b.ifc", on_map(XAxisAbscissa=0.0, XAxisOrdinate=1.0))
    problems = read_installation(find_sources([one, turned], None), {}).problems
    assert "it is put onto the map otherwise than a.ifc: turn 90°, there 0°" in [problem.what for problem in problems]


def test_a_globalid_in_three_files_is_told_and_all_elements_stay(tmp_path: Path) -> None:
    paths = [two_trunkings(tmp_path / name) for name in ("a.ifc", "b.ifc", "c.ifc")]
    for path in paths:
        with path.open("a", encoding="utf-8") as stream:
            stream.write(f"/* {path.stem} */\n")
    installation = read_installation(find_sources(paths, None), {})
    assert len({carrier.key for carrier in installation.carriers}) == len(installation.carriers) == 6
    assert len({port.key for port in installation.ports}) == len(installation.ports) == 6
    told = [(problem.where, problem.what) for problem in installation.problems if "by their GlobalIds" in problem.what]
    assert told == [
        ("b.ifc", "4 of its 4 elements are in a.ifc too, by their GlobalIds"),
        ("c.ifc", "4 of its 4 elements are in a.ifc too, by their GlobalIds"),
    ]
