"""Whether a carrier can be opened again, as the project file declares it by type."""

from pathlib import Path

import pytest

from checker.checking import Request, check
from checker.errors import ProjectFileError
from checker.model import Surroundings
from checker.read.project import TypeSpec, read_project
from checker.read.sources import find_sources
from tests.read.houses import House

TYPE = '[[types]]\nname = "T-*"\n{}\n'


def spec(folder: Path, lines: str) -> TypeSpec:
    path = folder / "wayroom.toml"
    path.write_text(TYPE.format(lines), encoding="utf-8")
    found = read_project(path)[0].type_spec("T-300")
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("lines", "can_be"), [('access = "open"', True), ('access = "closed"', False), ("", None), ("tiers = 1", None)]
)
def test_access_says_whether_a_carrier_can_be_reopened(tmp_path: Path, lines: str, *, can_be: bool | None) -> None:
    assert spec(tmp_path, lines).laying.can_be_reopened is can_be


def test_access_goes_with_what_it_is_installed_in(tmp_path: Path) -> None:
    laying = spec(tmp_path, 'installed = "cast-in"\naccess = "open"').laying
    assert (laying.installed, laying.can_be_reopened) == (Surroundings.CAST_IN, True)


@pytest.mark.parametrize("lines", ['access = "shut"', "access = true", 'access = ""'])
def test_any_other_access_is_told_with_its_line(tmp_path: Path, lines: str) -> None:
    with pytest.raises(ProjectFileError) as caught:
        spec(tmp_path, lines)
    assert "line 3" in caught.value.where
    assert "'open' or 'closed'" in caught.value.what


LIMITS = '[limits."access.closed"]\nspace_factor = 0.35\nspare_share = 0.25\nreason = "the slab stays whole"\n'


@pytest.mark.parametrize(("number", "verdict"), [(10, "pass"), (11, "fail")])
def test_a_type_declared_closed_in_a_file_is_found_in_its_model(tmp_path: Path, number: int, verdict: str) -> None:
    """Of 48 · 48 = 2304 mm²: 1.25 · 10 · π/4 · 9² = 795.2 is 34.5 %, 1.25 · 11 · 63.617 = 874.7 is 38.0 %."""
    model = House()
    section = model.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.0)
    model.carrier("T1", (0.0, 0.0, 2500.0), (3000.0, 0.0, 2500.0), section)
    model.element("IfcElectricDistributionBoard", "DB", (0.0, 300.0, 2500.0))
    model.element("IfcOutlet", "S1", (3000.0, 200.0, 2500.0))
    path = model.write(tmp_path / "services.ifc")
    project = tmp_path / "wayroom.toml"
    project.write_text(
        '[project]\ncode = "bs-7671"\n[[types]]\nname = "*"\naccess = "closed"\n' + LIMITS, encoding="utf-8"
    )
    schedule = tmp_path / "circuits.csv"
    schedule.write_text(f"circuit,from,to,service,diameter_mm,count\nC1,DB,S1,power,9.0,{number}\n", encoding="utf-8")
    result = check(Request(find_sources([path, project], schedule)))
    (found,) = [row for row in result.findings if row.rule == "access.closed"]
    assert (found.verdict, found.limit, found.circuits) == (verdict, 0.35, ("C1",))
    assert "the slab stays whole" in found.source
