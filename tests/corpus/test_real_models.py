"""Files that other people's programs wrote are read as somebody who knows the trade would read them.

What is in each stands in ``real_models.toml``, read off the files themselves and not taken from this program.
"""

import csv
import functools
import itertools
import json
import re
import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from checker import cli
from checker.checking import Request, check
from checker.model import Installation, ProblemKind, Vec
from checker.model.geometry import distance, nearest_on_segment
from checker.read.installation import read_installation
from checker.read.sources import find_sources
from checker.result.accounting import count, exit_status

Facts = dict[str, Any]
TABLE = tomllib.loads(Path(__file__).with_name("real_models.toml").read_text("utf-8"))
FACTS: dict[str, Facts] = {facts["name"]: facts for facts in TABLE["files"]}
GLOBAL_ID = re.compile(r"[0-3][0-9A-Za-z_$]{21}")
#: Figures are written in whole millimetres or tenths; a turn is added up from hundreds of small ones.
WITHIN_MM, WITHIN_DEG = 1.0, 2.0
#: A board's centre is no farther from its placement than this.
BOARD_MM = 800.0

pytestmark = pytest.mark.corpus


@functools.cache
def read(path: Path) -> Installation:
    return read_installation(find_sources([path], None), {})


def of(name: str, shared: Path) -> tuple[Facts, Installation]:
    """What is known of a file, and what was read from it."""
    return FACTS[name], read(shared / "real_models" / name)


def files_with(*keys: str) -> list[str]:
    return [name for name, facts in FACTS.items() if any(key in facts for key in keys)]


def said(found: str, pattern: str) -> bool:
    return re.search(pattern, found, re.IGNORECASE) is not None


def near(found: tuple[float, ...] | None, facts: list[float], within_mm: float = WITHIN_MM) -> bool:
    return found is not None and distance((found[0], found[1], found[2]), (facts[0], facts[1], facts[2])) <= within_mm


def off_axis(axis: tuple[Vec, ...], point: list[float]) -> float:
    """How far a point lies from an axis, in mm."""
    spot = (point[0], point[1], point[2])
    return min(nearest_on_segment(spot, start, end)[1] for start, end in itertools.pairwise(axis))


def test_every_file_there_is_looked_at(shared: Path) -> None:
    assert {path.name for path in (shared / "real_models").glob("*.ifc")} == FACTS.keys()


@pytest.mark.parametrize("name", FACTS)
def test_what_is_written_of_a_file_names_elements_that_it_has(shared: Path, name: str) -> None:
    text = (shared / "real_models" / name).read_text("latin-1")
    ids = set(GLOBAL_ID.findall(str({key: value for key, value in FACTS[name].items() if key != "name"})))
    assert ids
    assert all(f"'{global_id}'" in text for global_id in ids)


@pytest.mark.parametrize("name", FACTS)
def test_release_and_project(shared: Path, name: str) -> None:
    facts, installation = of(name, shared)
    assert [(file.schema, file.ifc_project) for file in installation.files] == [(facts["schema"], facts["project"])]


@pytest.mark.parametrize("name", FACTS)
def test_nothing_is_left_out_and_nothing_made_up(shared: Path, name: str) -> None:
    facts, installation = of(name, shared)
    for kind in ("carriers", "fittings"):
        assert {item.key for item in getattr(installation, kind)} == {item["id"] for item in facts.get(kind, [])}, kind
    assert Counter(cable.place.global_id for cable in installation.model_cables) == Counter(
        cable["id"] for cable in facts.get("cables", [])
    )
    assert not installation.demolished
    # no schedule is given, so the circuits are those that the models have
    assert len(installation.circuits) == len(facts.get("circuits", []))
    equipment = {item.key for item in installation.equipment}
    members = {member for circuit in facts.get("circuits", []) for member in circuit["members"]}
    if facts.get("whole_equipment", True):
        assert equipment == members | set(facts.get("equipment_also", []))
    assert equipment >= set(facts.get("equipment", []))
    assert equipment.isdisjoint(facts.get("not_equipment", []))


@pytest.mark.parametrize("name", files_with("carriers"))
def test_what_carriers_are_and_where(shared: Path, name: str) -> None:
    facts, installation = of(name, shared)
    known = {item["id"]: item for item in facts["carriers"]}
    for carrier in installation.carriers:
        fact = known[carrier.key]
        assert carrier.kind == fact["kind"]
        assert carrier.kind_confidence in fact["kind_confidence"]
        assert said(carrier.kind_source, fact["kind_source"])
        assert (carrier.place.storey, carrier.place.space, carrier.place.zone) == (fact["storey"], "", "")
        assert (carrier.place.tag, carrier.place.name) == (fact.get("tag", ""), fact.get("name", ""))
        assert carrier.type_name == fact.get("type_name", "")
        assert carrier.material == carrier.condition == ""


@pytest.mark.parametrize("name", files_with("carriers"))
def test_sizes_of_carriers(shared: Path, name: str) -> None:
    facts, installation = of(name, shared)
    known = {item["id"]: item for item in facts["carriers"]}
    for carrier in installation.carriers:
        fact, section = known[carrier.key], carrier.section
        for size in ("width_mm", "height_mm", "outside_diameter_mm"):
            assert getattr(section, size) == pytest.approx(fact.get(size), abs=0.01), size
        assert section.bore_mm is section.wall_mm is section.inside_area_mm2 is section.usable_depth_mm is None
        assert len(section.lanes) == 1
        assert section.confidence in fact["confidence"]
        assert said(section.source, fact["source"])


@pytest.mark.parametrize("name", files_with("carriers"))
def test_the_way_that_carriers_take(shared: Path, name: str) -> None:
    facts, installation = of(name, shared)
    known = {item["id"]: item for item in facts["carriers"]}
    for carrier in installation.carriers:
        fact, axis = known[carrier.key], carrier.axis_mm
        assert carrier.length_mm == pytest.approx(fact["length_mm"], abs=WITHIN_MM)
        assert carrier.turn_deg == pytest.approx(fact["turn_deg"], abs=WITHIN_DEG)
        first, last = fact["ends_mm"]
        assert axis
        assert (near(axis[0], first) and near(axis[-1], last)) or (near(axis[0], last) and near(axis[-1], first))
        assert sum(map(distance, axis, axis[1:])) == pytest.approx(fact["length_mm"], abs=WITHIN_MM)
        assert all(off_axis(axis, point) <= WITHIN_MM for point in fact.get("passes_mm", []))
        if "across" in fact:
            assert carrier.across is not None
            assert [abs(value) for value in carrier.across] == pytest.approx(fact["across"], abs=1e-6)


@pytest.mark.parametrize("name", files_with("fittings"))
def test_fittings(shared: Path, name: str) -> None:
    facts, installation = of(name, shared)
    known = {item["id"]: item for item in facts["fittings"]}
    for fitting in installation.fittings:
        fact = known[fitting.key]
        assert fitting.kind == fact["kind"]
        assert fitting.place.storey == fact["storey"]
        if "box_mm" in fact:
            assert fitting.body is not None
            centre, half = fact["box_mm"]
            assert near(fitting.body.centre_mm, centre)
            assert fitting.body.half_mm == pytest.approx(half, abs=WITHIN_MM)
        else:
            assert fitting.body is None
            assert fitting.centre_mm is None


@pytest.mark.parametrize("name", files_with("storeys", "near_mm", "no_points"))
def test_where_equipment_is(shared: Path, name: str) -> None:
    facts, installation = of(name, shared)
    equipment = {item.key: item for item in installation.equipment}
    storeys = Counter(item.place.storey for item in equipment.values())
    assert storeys == facts.get("storeys", {"": len(equipment)})
    for key, space in facts.get("spaces", {}).items():
        assert equipment[key].place.space == space
    for fact in facts.get("near_mm", []):
        assert near(equipment[fact["id"]].point_mm, fact["at"], BOARD_MM)
    if facts.get("no_points"):
        assert all(item.point_mm is None for item in equipment.values())


@pytest.mark.parametrize("name", FACTS)
def test_ports_and_what_they_join(shared: Path, name: str) -> None:
    facts, installation = of(name, shared)
    owner = {port.key: port.element for port in installation.ports}
    links = Counter(frozenset((port.element, owner[other])) for port in installation.ports for other in port.linked)
    told = 2 * [frozenset(pair) for pair in facts.get("links", [])]  # each at both of its ports
    assert links == Counter(told)
    assert all(port.point_mm is None for port in installation.ports)
    ports = Counter(owner.values())
    for cable in facts.get("cables", []):
        assert ports[cable["id"]] == cable["ports"]


@pytest.mark.parametrize("name", files_with("cables"))
def test_cables_have_no_size_where_none_is_given(shared: Path, name: str) -> None:
    facts, installation = of(name, shared)
    names = {item["id"]: item["name"] for item in facts["cables"]}
    for cable in installation.model_cables:
        assert cable.place.name == names[cable.place.global_id]
        assert cable.diameter_mm is cable.csa_mm2 is cable.cores is None
        assert cable.condition == ""


@pytest.mark.parametrize("name", FACTS)
def test_circuits_that_are_text(shared: Path, name: str) -> None:
    facts, installation = of(name, shared)
    circuits = {f"{item['panel']}/{item['number']}": item for item in facts.get("circuits", [])}
    assert sorted(circuit.mark for circuit in installation.model_circuits) == sorted(circuits)
    for circuit in installation.model_circuits:
        fact = circuits[circuit.mark]
        assert circuit.panel == fact["panel"]
        assert Counter(circuit.members) == Counter(fact["members"])
        assert circuit.model == name
        assert circuit.source
        assert circuit.mark in circuit.marks
        assert fact["number"] not in circuit.marks  # two panels at least have each number here
        assert not circuit.cables


@pytest.mark.parametrize("name", FACTS)
def test_what_has_to_be_said(shared: Path, name: str) -> None:
    facts, installation = of(name, shared)
    for fact in [*facts.get("problems", []), {"kinds": ["gap"], "says": "no circuit schedule"}]:
        fitting = [problem for problem in installation.problems if said(f"{problem.what} {problem.why}", fact["says"])]
        assert any(problem.kind in fact["kinds"] for problem in fitting), (fact, fitting)
    assert all(problem.where and problem.what and problem.why and problem.hint for problem in installation.problems)
    # no figure in these files that is read is one that can't be
    assert not [problem for problem in installation.problems if problem.kind is ProblemKind.CORRECTION]


@pytest.mark.parametrize("code", ["bs-7671", "iec-60364", "nfpa-70"])
@pytest.mark.parametrize("name", FACTS)
def test_without_a_schedule_nothing_passes_or_fails(shared: Path, name: str, code: str) -> None:
    result = check(Request(find_sources([shared / "real_models" / name], None), code=code))
    counts, segments = count(result), FACTS[name].get("carriers", [])
    assert exit_status(result) == 3
    assert (counts.carriers_read, counts.carriers_checked, counts.carriers_unknown) == (len(segments), 0, len(segments))
    assert counts.findings_pass == counts.findings_fail == counts.topics == 0
    assert {(row.key, row.kind) for row in result.carriers} == {(item["id"], item["kind"]) for item in segments}


@pytest.mark.parametrize("name", FACTS)
def test_each_segment_is_a_row_and_is_unknown_with_a_reason(
    shared: Path, tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        cli.main(["check", str(shared / "real_models" / name), "--code", "bs-7671", "--out", str(tmp_path)])
    assert ended.value.code == 3  # no schedule, so nothing can pass or fail
    assert "Traceback" not in "".join(capsys.readouterr())
    with (tmp_path / "segments.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert {row["segment"] for row in rows} == {item["id"] for item in FACTS[name].get("carriers", [])}
    assert all(row["verdict"] == "unknown" and row["reason"] for row in rows)
    counts = json.loads((tmp_path / "result.json").read_text(encoding="utf-8"))["counts"]
    assert counts["carriers_checked"] + counts["carriers_unknown"] == counts["carriers_read"] == len(rows)
