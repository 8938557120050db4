"""What cables weigh and what carriers bear: from the schedule's column, the tables and the project file."""

import csv
from pathlib import Path

import pytest

from checker.errors import ProjectFileError
from checker.model import Cable, Laying, ProblemKind
from checker.network.placing import cables_of
from checker.read.project import Project, read_project
from checker.read.schedule import Schedule, read_schedule
from checker.rule.plugins import load_plugins
from rules.support.mass import mass_of
from tests.installations import circuit

CABLES = load_plugins().cables


def read(folder: Path, columns: str, row: str, project: str = "") -> Schedule:
    path = folder / "circuits.csv"
    path.write_text(f"circuit,from,to,count,{columns}\nP1,DB,S1,1,{row}\n", encoding="utf-8")
    (folder / "wayroom.toml").write_text(project, encoding="utf-8")
    return read_schedule(path, read_project(folder / "wayroom.toml")[0] if project else Project(), CABLES)


def cable(schedule: Schedule) -> Cable:
    ((found,),) = (item.cables for item in schedule.circuits)
    return found


@pytest.mark.parametrize(
    ("columns", "row", "mass"),
    [
        ("diameter_mm,mass_kg_per_km", "12.6,310", 310.0),
        ("diameter_mm,mass_kg_per_km", "12.6,310 kg/km", 310.0),
        ("diameter_mm,mass_kg_per_km", "12.6,310 g/m", 310.0),  # the same
        ("cable", "h07v-r-16", 170.0),  # the table's
        ("cable,mass_kg_per_km", "h07v-r-16,181", 181.0),  # the schedule's wins
        ("cable", "h07v-k-16", None),  # the table has none
        ("cable,csa_mm2", "h07v-r-16,25", None),  # another cable than the table's
    ],
)
def test_a_mass_is_the_schedules_else_the_tables(tmp_path: Path, columns: str, row: str, mass: float | None) -> None:
    assert cable(read(tmp_path, columns, row)).mass_kg_per_km == mass


@pytest.mark.parametrize(
    ("row", "words", "kind"),
    [
        ("h07v-r-16,heavy", "isn't a number", ProblemKind.GAP),
        ("h07v-r-16,1.700", "thousands or thousandths", ProblemKind.GAP),
        # even of aluminium 16 mm² weigh 16 · 2.70 = 43.2 kg/km: 0.17 was meant for kg/m
        ("h07v-r-16,0.17", "less than its conductors weigh", ProblemKind.GAP),
    ],
)
def test_a_mass_that_cannot_be_is_unread_and_the_tables_is_not_used(
    tmp_path: Path, row: str, words: str, kind: ProblemKind
) -> None:
    schedule = read(tmp_path, "cable,mass_kg_per_km", row)
    assert cable(schedule).mass_kg_per_km is None
    (problem,) = (item for item in schedule.problems if "mass_kg_per_km" in item.where)
    assert words in problem.what
    assert problem.kind is kind


def test_a_cable_of_the_projects_own_has_the_mass_that_it_gives(tmp_path: Path) -> None:
    own = '[[cables]]\nkey = "imaging"\ndiameter_mm = 23.4\nmass_kg_per_km = 990\nsource = "data sheet"\n'
    assert cable(read(tmp_path, "cable", "imaging", own)).mass_kg_per_km == 990.0


def test_a_type_declares_what_it_bears_at_its_span_and_what_it_weighs(tmp_path: Path) -> None:
    path = tmp_path / "wayroom.toml"
    text = '[[types]]\nname = "T-*"\nspan_m = 2.0\nsafe_load_kg_per_m = 45.0\nmass_kg_per_m = 3.2\n'
    path.write_text(text, encoding="utf-8")
    (spec,) = read_project(path)[0].types
    assert spec.laying == Laying(span_m=2.0, safe_load_kg_per_m=45.0, mass_kg_per_m=3.2)


@pytest.mark.parametrize("line", ["span_m = 2000", "span_m = 0", "safe_load_kg_per_m = 45000", "mass_kg_per_m = -1"])
def test_figures_in_another_unit_are_refused_with_their_key(tmp_path: Path, line: str) -> None:
    path = tmp_path / "wayroom.toml"
    path.write_text(f'[[types]]\nname = "T-*"\n{line}\n', encoding="utf-8")
    with pytest.raises(ProjectFileError, match=line.split(" ", 1)[0]):
        read_project(path)


def test_where_it_lies_a_cable_keeps_its_mass_and_metal() -> None:
    made = circuit("P1", "DB", "S1")
    heavy = Cable(2, "x", 1, 12.0, mass_kg_per_km=310.0, conductor="aluminium")
    (placed,) = cables_of(type(made)(made.mark, made.origin, made.calls, made.service, cables=(heavy,)))
    assert (placed.mass_kg_per_km, placed.conductor) == (310.0, "aluminium")


def test_the_table_masses_lie_between_the_bounds_that_a_cable_without_one_has() -> None:
    """The bounds know nothing of the table, whose masses are others' figures: singles lie between, armour is in no bound but the least."""
    singles, armoured = 0, 0
    for item in CABLES.values():
        if item.mass_kg_per_km is None:
            continue
        made = Cable(2, item.key, 1, item.diameter_mm, csa_mm2=item.csa_mm2, cores=item.cores, conductor="copper")
        (placed,) = cables_of(type(circuit("P", "A"))("P", "A", ("B",), None, cables=(made,)))
        bounds = mass_of(placed)
        assert bounds.least <= item.mass_kg_per_km
        if item.cores == 1:
            singles += 1
            assert bounds.is_estimated
            assert bounds.most is not None
            assert item.mass_kg_per_km <= bounds.most <= 1.5 * item.mass_kg_per_km, item.key
        else:
            armoured += 1
            assert bounds.most is None, item.key
    assert (singles, armoured) == (24, 56)  # H07V-U 5 and H07V-R 19; 61 armoured less the five without a published mass


@pytest.mark.corpus
def test_the_masses_are_the_published_ones(shared: Path) -> None:
    for name in ("1a_single_core_diameters.csv", "1c_swa_bs5467.csv"):
        with (shared / "figures" / name).open(encoding="utf-8", newline="") as stream:
            rows = [row for row in csv.DictReader(stream) if row["mass_kg_km"]]
        assert rows
        for row in rows:
            family = row["type"].split(" ")[0].lower() if "type" in row else ""
            key = f"{family}-{row['csa_mm2']}" if family else f"bs5467-{row['cores']}x{row['csa_mm2']}"
            assert CABLES[key].mass_kg_per_km == float(row["mass_kg_km"]), key
