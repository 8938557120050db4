"""What a user must be told of what was left out, fitted nothing, or can't be as it says."""

from pathlib import Path

import pytest

from checker.checking import Request, check
from checker.model import Installation, ProblemKind
from checker.read.installation import read_installation
from checker.read.sources import find_sources
from tests.small_models import SmallModel, two_trunkings

SCHEDULE = "circuit,from,to,service,diameter_mm,count{more}\nP1,DB,S1,power,5,3{extra}\n"


def read(path: Path, project: str) -> Installation:
    (path.parent / "wayroom.toml").write_text(project, encoding="utf-8")
    return read_installation(find_sources([path, path.parent / "wayroom.toml"], None), {})


@pytest.mark.parametrize(
    ("entry", "where", "fits"),
    [
        ('[[properties]]\nquantity = "width"\nset = "Mass*"\nproperty = "Breite"\n', "[[properties]] 1", False),
        ('[[properties]]\nquantity = "width"\nset = "mass*"\nproperty = "B*"\n', "[[properties]] 1", True),
        ('[[classes]]\nkind = "tray"\nname = "nothing*"\n', "[[classes]] 1", False),
        ('[[classes]]\nkind = "trunking"\nclass = "IfcCableCarrierSegment"\n', "[[classes]] 1", True),
        ('[[ignore]]\nname = "nothing*"\nreason = "none"\n', "[[ignore]] 1", False),
        ('[[ignore]]\nname = "T2*"\nreason = "none"\n', "[[ignore]] 1", True),
    ],
)
def test_an_entry_that_fits_nothing_is_said(tmp_path: Path, entry: str, where: str, fits: bool) -> None:  # noqa: FBT001
    model = SmallModel()
    for tag in ("T1", "T2"):
        element = model.carrier(
            tag, (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0), model.profile("IfcRectangleProfileDef", 50.0, 50.0)
        )
        element.Name = f"{tag} trunking"
        model.properties(element, "Masse", Breitemass=100.0)
    installation = read(model.write(tmp_path / "model.ifc"), entry)
    told = [problem for problem in installation.problems if where in problem.where]
    assert bool(told) is not fits
    assert all(problem.kind is ProblemKind.GAP for problem in told)


def test_several_properties_that_fit_one_entry_and_differ_are_said(tmp_path: Path) -> None:
    model = SmallModel()
    element = model.carrier("T1", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0), None, "CABLETRAYSEGMENT")
    model.properties(element, "One", Breite=100.0)
    model.properties(element, "Two", Breite=600.0)
    installation = read(
        model.write(tmp_path / "model.ifc"), '[[properties]]\nquantity = "width"\nproperty = "Breite"\n'
    )
    told = [problem for problem in installation.problems if "several properties fit the width" in problem.what]
    assert len(told) == 1
    assert "One.Breite = 100" in told[0].what
    assert "Two.Breite = 600" in told[0].what


@pytest.mark.parametrize(("state", "verdict"), [("new", "unknown"), ("existing", "pass")])
def test_an_existing_carrier_is_empty_only_if_the_schedule_knows_existing_circuits(
    tmp_path: Path, state: str, verdict: str
) -> None:
    path = two_trunkings(tmp_path / "model.ifc")
    text = path.read_text(encoding="utf-8")
    carrier = next(line for line in text.splitlines() if "IFCCABLECARRIERSEGMENT(" in line and "'T1'" in line).split(
        "="
    )[0]
    lines = [
        "#9001=IFCPROPERTYENUMERATEDVALUE('Status',$,(IFCLABEL('EXISTING')),$);",
        "#9002=IFCPROPERTYSET('0000000000000000009002',$,'Pset_CableCarrierSegmentTypeCommon',$,(#9001));",
        f"#9003=IFCRELDEFINESBYPROPERTIES('0000000000000000009003',$,$,$,({carrier}),#9002);",
    ]
    path.write_text(text.replace("ENDSEC;\nEND-ISO", "\n".join([*lines, "ENDSEC;", "END-ISO"])), encoding="utf-8")
    (tmp_path / "circuits.csv").write_text(SCHEDULE.format(more=",state", extra=f",{state}"), encoding="utf-8")
    result = check(Request(find_sources([path], tmp_path / "circuits.csv"), code="bs-7671"))
    verdicts = {row.carrier: row.verdict for row in result.compartments}
    by_tag = {row.place.tag: verdicts[row.key] for row in result.carriers}
    assert by_tag == {"T1": verdict, "T2": "pass"}


def test_what_is_left_out_is_not_called_unheard_of(tmp_path: Path) -> None:
    path = two_trunkings(tmp_path / "model.ifc")
    (tmp_path / "wayroom.toml").write_text('[[ignore]]\nclass = "IfcOutlet"\nreason = "furniture"\n', encoding="utf-8")
    (tmp_path / "circuits.csv").write_text(SCHEDULE.format(more="", extra=""), encoding="utf-8")
    sources = find_sources([path, tmp_path / "wayroom.toml"], tmp_path / "circuits.csv")
    (row,) = check(Request(sources, code="bs-7671")).circuits
    assert row.reason == "'S1' isn't read: wayroom.toml leaves it out: furniture"


def test_a_file_in_the_wrong_unit_gets_one_word_of_its_own(tmp_path: Path) -> None:
    model = SmallModel(prefix=None)  # metres are declared, millimetres written
    profile = model.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.0)
    for number in range(3):
        model.carrier(f"T{number}", (0.0, 4000.0 * number, 0.0), (3000.0, 4000.0 * number, 0.0), profile)
    installation = read_installation(find_sources([model.write(tmp_path / "model.ifc")], None), {})
    told = [problem for problem in installation.problems if "its length unit is declared as 1 m" in problem.what]
    assert [(problem.where, problem.kind) for problem in told] == [("model.ifc", ProblemKind.GAP)]


def test_a_project_file_beside_a_model_that_is_not_read_is_said(tmp_path: Path) -> None:
    path = two_trunkings(tmp_path / "model.ifc")
    (tmp_path / "wayroom.toml").write_text("", encoding="utf-8")
    installation = read_installation(find_sources([path], None), {})
    assert [problem.kind for problem in installation.problems if "lies beside a model" in problem.what] == [
        ProblemKind.ASSUMPTION
    ]
