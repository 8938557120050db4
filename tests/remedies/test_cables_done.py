"""Thicker cables are offered as the schedule would really be read: what a row or the project says itself comes before the catalogue."""

from pathlib import Path

import pytest

from checker.checking import WITHOUT_NEAR, Request, check, without_own
from checker.read.project import Project
from checker.read.sources import find_sources
from checker.result.remedy_tables import RemedyKind
from checker.result.tables import Result
from checker.rule.plugins import load_plugins
from tests.remedies import made
from tests.small_models import SmallModel

HEAD = (
    "circuit,from,to,service,cable,count,csa_mm2,voltage_v,loaded_conductors,design_current_a,device_rating_a,ambient_c,"
    "third_harmonic,method,route\n"
)


def six(folder: Path, cable: str = "h07v-u-2.5", csa: str = "2.5", project: str = "") -> Result:
    """Six circuits of 2.5 mm² in one trunking, which carry 24 · 0.57 = 13.68 A each and need 16; P1 may have another cable."""
    model = SmallModel()
    profile = model.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.0)
    model.carrier("T1", (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0), profile)
    made.ends(model, (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0))
    rows = [("P1", cable, csa), *((f"P{number}", "h07v-u-2.5", "2.5") for number in range(2, 7))]
    lines = (f"{mark},DB,S1,power,{key},2,{area},230,2,12,16,30,0,B1,\n" for mark, key, area in rows)
    made.write(folder, model, "", project)
    (folder / "circuits.csv").write_text(HEAD + "".join(lines), encoding="utf-8")
    return check(Request(find_sources([folder], None)))


def verdict(result: Result, mark: str) -> str:
    (found,) = [row.verdict for row in result.findings if row.rule == "grouping.rating" and row.circuits == (mark,)]
    return found


def test_a_size_that_stays_in_the_row_stays_and_the_advice_says_so(tmp_path: Path) -> None:
    before = six(tmp_path / "before")
    assert verdict(before, "P1") == "fail"
    (row,) = [it for it in before.remedies if it.circuits == ("P1",) and it.kind is RemedyKind.CABLE]
    assert verdict(six(tmp_path / "alone", row.after), "P1") == "unknown"  # 2.5 mm² stands there still
    assert verdict(six(tmp_path / "empty", row.after, ""), "P1") == "pass"
    assert verdict(six(tmp_path / "its own", row.after, "4"), "P1") == "pass"
    assert "leave csa_mm2, awg_kcmil and mass_kg_per_km empty, or give those of that cable" in row.text


def test_a_cable_whose_key_the_project_gives_to_another_isnt_offered(tmp_path: Path) -> None:
    own = '[[cables]]\nkey = "H07V-U-4"\ndiameter_mm = 30.0\nsource = "tests"\n'
    before = six(tmp_path / "before", project=own)
    assert verdict(before, "P1") == "fail"
    assert "h07v-u-4" not in {row.after for row in before.remedies}


@pytest.mark.parametrize(("near", "told"), [("", 0), ("[routing]\nnear_m = 5.0\n", 1)])
def test_where_near_ways_are_looked_at_it_says_that_advice_doesnt_ask_about_them(
    tmp_path: Path, near: str, told: int
) -> None:
    made.way_round(tmp_path / "site")
    path = tmp_path / "site" / "wayroom.toml"
    path.write_text(path.read_text(encoding="utf-8") + near, encoding="utf-8")
    result = check(Request(find_sources([tmp_path / "site"], None)))
    assert bool(result.remedies)
    assert result.cautions.count(WITHOUT_NEAR) == told


def test_other_cables_of_the_catalogue_stay() -> None:
    plugins = load_plugins()
    assert without_own(plugins, Project()).cables == plugins.cables
