"""Small buildings of our own in which a way round, another compartment or a box helps, which the samples don't show."""

import itertools
from pathlib import Path

from tests.small_models import Point, SmallModel

HEAD = "circuit,from,to,service,diameter_mm,count,csa_mm2,cores,rated_voltage_v,voltage_v,loaded_conductors,route,compartment\n"
PROJECT = '[project]\nkey = "small"\nmodels = ["model.ifc"]\nschedule = "circuits.csv"\ncode = "bs-7671"\n'


def write(folder: Path, model: SmallModel, rows: str, project: str = "") -> Path:
    folder.mkdir()
    model.write(folder / "model.ifc")
    (folder / "circuits.csv").write_text(HEAD + rows, encoding="utf-8")
    (folder / "wayroom.toml").write_text(PROJECT + project, encoding="utf-8")
    return folder


def ends(model: SmallModel, start: Point, end: Point) -> None:
    model.element("IfcElectricDistributionBoard", "DB", (start[0], start[1] + 200.0, start[2]))
    model.element("IfcOutlet", "S1", (end[0], end[1] + 200.0, end[2]))


def row(mark: str, count: int, compartment: str = "") -> str:
    """Cables of 10 mm, 78.5 mm² each, that carry no load."""
    return f"{mark},DB,S1,power,10,{count},2.5,1,750,230,0,,{compartment}\n"


def way_round(folder: Path) -> Path:
    """A narrow trunking in the middle of a wide one, and a wide way round it.

    D is 48 × 48 = 2304 mm² inside. Of P1 and P2 with eight cables each 16 · 78.5 = 1257 mm² lie in it: 54.5 %, over 45 %. With one of them
    alone it is 27.3 %.
    """
    model = SmallModel()
    wide = model.profile("IfcRectangleHollowProfileDef", 100.0, 100.0, 1.4)
    narrow = model.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.0)
    for tag, start, end in (
        ("A", (0.0, 0.0, 0.0), (2000.0, 0.0, 0.0)),
        ("U1", (2000.0, 0.0, 0.0), (2000.0, 2000.0, 0.0)),
        ("U2", (2000.0, 2000.0, 0.0), (6000.0, 2000.0, 0.0)),
        ("U3", (6000.0, 2000.0, 0.0), (6000.0, 0.0, 0.0)),
        ("E", (6000.0, 0.0, 0.0), (8000.0, 0.0, 0.0)),
    ):
        model.carrier(tag, start, end, wide)
    model.carrier("D", (2000.0, 0.0, 0.0), (6000.0, 0.0, 0.0), narrow)
    ends(model, (0.0, 0.0, 0.0), (8000.0, 0.0, 0.0))
    return write(folder, model, row("P1", 8) + row("P2", 8))


def beside(folder: Path, second: int = 0) -> Path:
    """A trunking of two compartments, each 48.5 × 48 = 2328 mm² inside, all cables laid in the first: 1257 mm², 54 %.

    Args:
        folder: Where to write it.
        second: How many more cables, of P3, lie in the second compartment.
    """
    model = SmallModel()
    model.carrier(
        "T1", (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0), model.profile("IfcRectangleHollowProfileDef", 100.0, 50.0, 1.0)
    )
    ends(model, (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0))
    more = row("P3", second, "2") if second else ""
    return write(folder, model, row("P1", 8, "1") + row("P2", 8, "1") + more, '[[types]]\nname = "T1"\ncount = 2\n')


def three_bends(folder: Path) -> Path:
    """A run of conduit that turns by 3 · 90° = 270°, over 180°: a box in its middle leaves 90° on either side."""
    model = SmallModel()
    tube = model.profile("IfcCircleHollowProfileDef", 10.0, 1.6)
    points = [(0.0, 0.0, 0.0), (2000.0, 0.0, 0.0), (2000.0, 2000.0, 0.0), (4000.0, 2000.0, 0.0), (4000.0, 4000.0, 0.0)]
    tubes = [
        model.carrier(f"C{number}", one, other, tube, "CONDUITSEGMENT")
        for number, (one, other) in enumerate(itertools.pairwise(points), start=1)
    ]
    for number, point in enumerate(points[1:-1], start=1):
        bend = model.element("IfcCableCarrierFitting", f"B{number}", point, PredefinedType="BEND")
        model.connect(tubes[number - 1], bend, point)
        model.connect(bend, tubes[number], point)
    ends(model, points[0], points[-1])
    return write(folder, model, "P1,DB,S1,power,3.5,2,1.5,1,750,230,0,,\n", '[[types]]\nname = "C*"\nwall_mm = 1.6\n')
