"""Does to the files of a sample what a remedy says: to its model, its schedule and its wayroom.toml, as a person would."""

import csv
import importlib.util
import io
import shutil
import sys
import tomllib
from pathlib import Path
from types import ModuleType
from typing import Any

import ifcopenshell
import ifcopenshell.api.root
import ifcopenshell.guid
import ifcopenshell.util.unit
from pydantic_core import to_json

from checker.result.remedy_tables import RemedyKind, RemedyRow
from checker.result.tables import Result
from checker.rule.plugins import load_plugins

SAMPLES = Path(__file__).parents[2] / "sample_models"
PLUGINS = load_plugins()
#: Columns that say of a cable what its key says, so that they go with it.
OF_CABLE = ("diameter_mm", "mass_kg_per_km", "csa_mm2", "awg_kcmil")


def copied(name: str, folder: Path) -> Path:
    """A sample's inputs in a folder of their own."""
    to = folder / name
    to.mkdir()
    for path in sorted((SAMPLES / name).iterdir()):
        if path.suffix in {".ifc", ".toml", ".xlsx"} or path.name == "circuits.csv":
            shutil.copy(path, to)
    return to


def apply(row: RemedyRow, result: Result, folder: Path) -> None:
    """Makes the change of one remedy in a folder of inputs.

    Raises:
        KeyError: It is of a kind that nobody can make: such may not be offered.
    """
    {
        RemedyKind.CARRIER: _larger,
        RemedyKind.DIVIDER: _divided,
        RemedyKind.CABLE: _recabled,
        RemedyKind.WAY: _led,
        RemedyKind.COMPARTMENT: _led,
        RemedyKind.BOX: _boxed,
    }[row.kind](row, result, folder)


def _larger(row: RemedyRow, result: Result, folder: Path) -> None:
    item = PLUGINS.carriers[row.after]
    entry: dict[str, Any] = {}
    if item.wall_mm == 0.0:
        entry["wall_mm"] = 0.0
    if item.usable_depth_mm is not None:
        entry["usable_depth_mm"] = item.usable_depth_mm
    if row.lanes:
        entry["compartments"] = [_lane(lane.width_mm, lane.services) for lane in row.lanes]
    model, path = _model(folder)
    one_mm = 0.001 / ifcopenshell.util.unit.calculate_unit_scale(model)
    for key in row.carriers:
        element = model.by_guid(result.carrier(key).place.global_id)
        if item.width_mm is None:  # its size is its name's
            before = next(
                own
                for own in PLUGINS.carriers.values()
                if f"catalogue {own.key} " in result.carrier(key).dimension_source
            )
            element.Name = element.Name.replace(before.trade_size, item.trade_size)
            continue
        height = item.height_mm if item.height_mm is not None else item.width_mm
        sizes = {"NominalWidth": item.width_mm * one_mm, "NominalHeight": height * one_mm}
        values = [
            model.create_entity(
                "IfcPropertySingleValue", Name=name, NominalValue=model.create_entity("IfcPositiveLengthMeasure", size)
            )
            for name, size in sizes.items()
        ]
        _define(model, element, "IfcPropertySet", "Pset_ElementSize", HasProperties=values)
        if item.wall_mm:
            wall = model.create_entity("IfcQuantityLength", Name="WallThickness", LengthValue=item.wall_mm * one_mm)
            _define(model, element, "IfcElementQuantity", "Qto_ConduitSegmentBaseQuantities", Quantities=[wall])
        if entry:
            _of_own_type(model, element, folder, entry)
    model.write(str(path))


def _divided(row: RemedyRow, result: Result, folder: Path) -> None:
    model, path = _model(folder)
    for key in row.carriers:
        element = model.by_guid(result.carrier(key).place.global_id)
        _of_own_type(model, element, folder, {"compartments": [_lane(it.width_mm, it.services) for it in row.lanes]})
    for key in row.fittings:
        _append(folder, "fittings", {"name": _label(model.by_guid(key)), "partition": "kept", "reason": "tried"})
    model.write(str(path))


def _boxed(row: RemedyRow, _: Result, folder: Path) -> None:
    model, path = _model(folder)
    for key in row.fittings:
        ifcopenshell.api.root.reassign_class(model, product=model.by_guid(key), ifc_class="IfcJunctionBox")
    model.write(str(path))


def _recabled(row: RemedyRow, _: Result, folder: Path) -> None:
    item = PLUGINS.cables[row.after]
    of_table = {"csa_mm2": item.csa_mm2, "awg_kcmil": item.awg_kcmil}
    rows = _schedule(folder)
    changed = 0
    for line in rows:
        if line["circuit"] in row.circuits and line["cable"] == row.before:
            for column in OF_CABLE:
                if line.get(column):
                    line[column] = f"{of_table.get(column) or ''}"
            line["cable"] = row.after
            changed += 1
    assert changed
    _write_schedule(folder, rows)


def _led(row: RemedyRow, _: Result, folder: Path) -> None:
    routes = dict(row.routes)
    rows = _schedule(folder)
    assert routes.keys() <= {line["circuit"] for line in rows}
    for line in rows:
        line["route"] = routes.get(line["circuit"], line["route"])
    _write_schedule(folder, rows)


def _model(folder: Path) -> tuple[ifcopenshell.file, Path]:
    (path,) = folder.glob("*.ifc")
    return ifcopenshell.open(str(path)), path


def _label(element: Any) -> str:
    return str(element.Tag or element.Name)


def _define(model: ifcopenshell.file, element: Any, sort: str, name: str, **held: Any) -> None:
    owner = element.OwnerHistory
    held = {"GlobalId": ifcopenshell.guid.new(), "OwnerHistory": owner, "Name": name, **held}
    told = {"RelatedObjects": [element], "RelatingPropertyDefinition": model.create_entity(sort, **held)}
    model.create_entity("IfcRelDefinesByProperties", GlobalId=ifcopenshell.guid.new(), OwnerHistory=owner, **told)


def _of_own_type(model: ifcopenshell.file, element: Any, folder: Path, entry: dict[str, Any]) -> None:
    """Gives an element a type of its own, if it has one, and an entry for it: what was said of the old type, and what is new."""
    rel = next((it for it in model.by_type("IfcRelDefinesByType") if element in it.RelatedObjects), None)
    old = rel.RelatingType.Name if rel is not None else element.Tag or element.Name
    project = tomllib.loads((folder / "wayroom.toml").read_text(encoding="utf-8"))
    said = next((spec for spec in project.get("types", ()) if Path(old).match(spec["name"])), {})
    name = f"{old}, changed {element.Tag or element.Name}" if rel is not None else old
    if rel is not None:
        told = {
            key: value for key, value in rel.RelatingType.get_info(recursive=False).items() if key not in {"id", "type"}
        }
        told |= {"GlobalId": ifcopenshell.guid.new(), "Name": name}
        own = model.create_entity(rel.RelatingType.is_a(), **told)
        others = [one for one in rel.RelatedObjects if one != element]
        if others:
            rel.RelatedObjects = others
        else:
            model.remove(rel)
        model.create_entity(
            "IfcRelDefinesByType", GlobalId=ifcopenshell.guid.new(), OwnerHistory=element.OwnerHistory,
            RelatedObjects=[element], RelatingType=own,
        )  # fmt: skip
    _append(folder, "types", {**said, **entry, "name": name})


def _lane(width_mm: float | None, services: tuple[str, ...]) -> dict[str, Any]:
    lane: dict[str, Any] = {} if width_mm is None else {"width_mm": width_mm}
    return lane | ({"services": list(services)} if services else {})


def _append(folder: Path, table: str, entry: dict[str, Any]) -> None:
    """Adds an entry to wayroom.toml, in front of those of its sort."""
    path = folder / "wayroom.toml"
    text = path.read_text(encoding="utf-8")
    lines = "".join(f"{key} = {_toml(value)}\n" for key, value in entry.items())
    new = f"[[{table}]]\n{lines}\n"
    at = text.find(f"[[{table}]]")
    path.write_text(f"{text[:at]}{new}{text[at:]}" if at >= 0 else f"{text}\n{new}", encoding="utf-8")


def _toml(value: Any) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_toml(one)}" for key, one in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml, value)) + "]"
    return to_json(value).decode()


def _schedule(folder: Path) -> list[dict[str, str]]:
    path = folder / "circuits.csv"
    if path.exists():
        return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8"))))
    return [dict(row) for row in _part("workshop", "shop_circuits").ROWS]


def _write_schedule(folder: Path, rows: list[dict[str, str]]) -> None:
    path = folder / "circuits.csv"
    if path.exists():
        text = io.StringIO()
        writer = csv.DictWriter(text, list(rows[0]), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
        path.write_text(text.getvalue(), encoding="utf-8")
        return
    workbook = _part("workshop", "shop_workbook")
    workbook.ROWS = tuple(rows)
    workbook.write_workbook(folder / "circuits.xlsx")


def _part(sample: str, name: str) -> ModuleType:
    """A module of what builds a sample."""
    where = str(SAMPLES / sample)
    spec = importlib.util.spec_from_file_location(f"tried_{name}", SAMPLES / sample / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.path.insert(0, where)
    try:
        spec.loader.exec_module(module)
    finally:
        sys.path.remove(where)
    return module
