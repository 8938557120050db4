"""What the table says is done in the files, and the run after it knows as much as was promised."""

from pathlib import Path

import pytest

from checker.checking import Request, check
from checker.read.sources import find_sources
from checker.result.tables import FindingRow, Result
from tests.small_models import SmallModel

HEADER = "circuit,from,to,service,diameter_mm,count,loaded_conductors,voltage_v,rated_voltage_v\n"
#: Twenty cables of 7.8 mm take 955.7 mm², which is within 45 % of 50 x 50 with a wall of up to 1.9 mm; five take 238.9 mm².
ROWS = "".join(
    f"C{number},DB{number},S{number},power,7.8,{count},0,230,750\n" for number, count in enumerate((20, 20, 20, 5))
)


def building(folder: Path, project: str = "", rows: str = ROWS) -> Result:
    """Four lengths of one type of trunking apart from each other, drawn solid, so that no wall is known."""
    model = SmallModel()
    profile = model.profile("IfcRectangleProfileDef", 50.0, 50.0)
    lengths = []
    for number in range(4):
        y = 20_000.0 * number
        lengths.append(model.carrier(f"K{number}", (0.0, y, 0.0), (4000.0, y, 0.0), profile))
        model.element("IfcElectricDistributionBoard", f"DB{number}", (0.0, y + 200.0, 0.0))
        model.element("IfcOutlet", f"S{number}", (4000.0, y + 200.0, 0.0))
    model.type_of(lengths, "IfcCableCarrierSegmentType", "T-50", PredefinedType="CABLETRUNKINGSEGMENT")
    paths = [model.write(folder / "model.ifc")]
    if project:
        paths.append(folder / "wayroom.toml")
        paths[-1].write_text(project, encoding="utf-8")
    (folder / "circuits.csv").write_text(HEADER + rows, encoding="utf-8")
    return check(Request(find_sources(paths, folder / "circuits.csv"), "bs-7671"))


def open_fills(result: Result) -> list[FindingRow]:
    return [row for row in result.findings if row.verdict == "unknown" and row.rule == "fill.compartment"]


@pytest.mark.parametrize(
    ("wall", "verdict"), [("1.0", "pass"), ("2.5", "fail"), ("[0.8, 1.5]", "pass"), ("[2.0, 2.5]", "fail")]
)
def test_a_wall_declared_where_the_table_says_settles_what_it_promised(tmp_path: Path, wall: str, verdict: str) -> None:
    before = building(tmp_path)
    first = before.questions[0]
    assert (first.question, first.settles) == ("the wall of type 'T-50'", 3)
    assert first.where == "wayroom.toml, [[types]] name = 'T-50', wall_mm"
    assert len(open_fills(before)) == 3

    after = building(tmp_path, f"[[types]]\nname = 'T-50'\nwall_mm = {wall}\n")

    assert not open_fills(after)
    fills = {row.circuits[0]: row.verdict for row in after.findings if row.rule == "fill.compartment"}
    assert fills == {"C0": verdict, "C1": verdict, "C2": verdict, "C3": "pass"}


def test_a_range_that_the_answer_hangs_on_stays_a_question(tmp_path: Path) -> None:
    # with 1.8 mm the inside is 46.4², of which 45 % is 968.8 mm²; with 2.0 mm it is 952.2 mm²
    after = building(tmp_path, "[[types]]\nname = 'T-50'\nwall_mm = [1.8, 2.0]\n")
    assert len(open_fills(after)) == 3
    assert "the wall is given as 1.8 to 2 mm" in open_fills(after)[0].reason
    assert after.questions[0].question == "the wall of type 'T-50'"


def test_a_way_given_in_the_schedule_settles_what_it_promised(tmp_path: Path) -> None:
    project = "[[types]]\nname = 'T-50'\nwall_mm = 1.0\n"
    lone = "X,NOWHERE,S9,power,7.8,10,0,230,750\n"
    before = building(tmp_path, project, ROWS + lone)
    # ten more are 477.8 mm²: too much beside twenty, and not beside five, where 716.8 mm² are within 1036.8
    (question,) = before.questions
    assert (question.question, question.settles, len(open_fills(before))) == ("the way of circuit X", 3, 3)

    after = building(tmp_path, project, ROWS + lone.replace("NOWHERE,S9", "DB1,S1"))

    assert not open_fills(after)
    assert not after.questions
