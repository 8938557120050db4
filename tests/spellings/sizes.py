"""Where sizes are written: property sets, quantities, profiles of materials, the project file."""

from typing import Any

from tests.spellings.kinds import type_name
from tests.spellings.network import Segment
from tests.spellings.pen import Entity, Pen
from tests.spellings.shapes import own_profile
from tests.spellings.spelling import Spelling

SETS = {
    "trunking": "Pset_CableCarrierSegmentTypeCableTrunkingSegment",
    "tray": "Pset_CableCarrierSegmentTypeCableTraySegment",
    "ladder": "Pset_CableCarrierSegmentTypeCableLadderSegment",
    "conduit": "Pset_CableCarrierSegmentTypeConduitSegment",
}
FOREIGN = """\
[[properties]]
quantity = "width"
set = "abmessungen*"
property = "Breite*"
unit = "mm"

[[properties]]
quantity = "height"
set = "Abmessungen*"
property = "H?he"
unit = "mm"

[[properties]]
quantity = "diameter"
property = "Außendurchmesser"
unit = "cm"

[[properties]]
quantity = "wall"
property = "Wandung"
unit = "mm"

[[properties]]
quantity = "usable_depth"
set = "Abmessungen Trasse"
property = "Nutzhöhe"

[[properties]]
quantity = "compartments"
property = "Anzahl Züge"

"""


def write_sizes(pen: Pen, segment: Segment, element: Entity, of_type: Entity | None, spelling: Spelling) -> None:
    """Writes the sizes of a carrier where the spelling has them."""
    if spelling.size in {"occurrence", "type"}:
        sets = [_set(pen, name, values) for name, values in _standard(pen, segment).items()]
        if of_type is not None and spelling.size == "type":
            of_type.HasPropertySets = sets
            return
        for properties in sets:
            _define(pen, element, properties)
    elif spelling.size == "foreign":
        _define(pen, element, _set(pen, "Abmessungen Trasse", _foreign(pen, segment)))
    elif spelling.size == "quantity":
        _define(pen, element, _quantities(pen, segment))
    elif spelling.size == "material":
        profile = pen.make(
            "IfcMaterialProfile", Material=pen.make("IfcMaterial", "none"), Profile=own_profile(pen, segment)
        )
        profiles = pen.make("IfcMaterialProfileSet", MaterialProfiles=[profile])
        usage = pen.make("IfcMaterialProfileSetUsage", profiles)
        pen.rooted("IfcRelAssociatesMaterial", RelatedObjects=[element], RelatingMaterial=usage)


def toml(segments: tuple[Segment, ...], spelling: Spelling) -> str:
    """What the project file says of sizes."""
    lines = {}
    for segment in segments:
        keys: dict[str, float] = {}
        if spelling.size == "project":
            names = (
                {"diameter_mm": segment.width}
                if segment.is_round
                else {"width_mm": segment.width, "height_mm": segment.height}
            )
            keys |= names
        if spelling.declared == "yes":
            keys["wall_mm"] = segment.wall
            if segment.base:
                keys["usable_depth_mm"] = segment.depth
        if segment.lanes > 1 and spelling.size not in {"occurrence", "type", "foreign"}:
            keys["count"] = segment.lanes
        if keys:
            told = "".join(f"{key} = {value}\n" for key, value in keys.items())
            lines[type_name(segment, spelling)] = told
    types = "".join(f'[[types]]\nname = "{name}"\n{told}\n' for name, told in lines.items())
    return types + (FOREIGN if spelling.size == "foreign" else "")


def _standard(pen: Pen, segment: Segment) -> dict[str, list[Entity]]:
    """Property set → properties, as the release has them: the latest keeps widths and heights elsewhere."""
    own = SETS[segment.kind]
    is_latest = pen.release == "IFC4X3_ADD2"
    sets: dict[str, list[Entity]] = {own: []}
    if segment.lanes > 1:
        sets[own].append(pen.label("NumberOfCompartments", "IfcInteger", segment.lanes))
    if is_latest and segment.is_round:
        sets[own].append(_length(pen, "NominalDiameter", segment.width))
        return sets
    both = [_length(pen, "NominalWidth", segment.width), _length(pen, "NominalHeight", segment.height)]
    if not is_latest:
        sets[own].extend(both)
        return sets
    return {name: values for name, values in {**sets, "Pset_ElementSize": both}.items() if values}


def _foreign(pen: Pen, segment: Segment) -> list[Entity]:
    """Numbers, texts with a unit and decimal commas, and a figure of another unit."""
    if segment.is_round:
        sizes = [pen.label("Außendurchmesser", "IfcReal", segment.width / 10.0)]
    else:
        sizes = [
            pen.label("Breite (B)", "IfcReal", segment.width),
            pen.label("Höhe", "IfcText", f"{segment.height:.1f} mm".replace(".", ",")),
        ]
    sizes.append(pen.label("Wandung", "IfcLabel", f"{segment.wall:g}".replace(".", ",")))
    if segment.base:
        sizes.append(_length(pen, "Nutzhöhe", segment.depth))  # in the file's own unit
    if segment.lanes > 1:
        sizes.append(pen.label("Anzahl Züge", "IfcText", str(segment.lanes)))
    return sizes


def _quantities(pen: Pen, segment: Segment) -> Entity:
    sizes = {"Length": segment.length, "Width": segment.width, "Height": segment.height}
    name = "Qto_CableCarrierSegmentBaseQuantities"
    if segment.is_round:
        sizes = {
            "Length": segment.length,
            "OuterDiameter": segment.width,
            "InnerDiameter": segment.width - 2 * segment.wall,
        }
        name = "Qto_ConduitSegmentBaseQuantities"
    quantities = [pen.make("IfcQuantityLength", Name=key, LengthValue=pen.long(value)) for key, value in sizes.items()]
    return pen.rooted("IfcElementQuantity", Name=name, Quantities=quantities)


def _length(pen: Pen, name: str, mm: float) -> Entity:
    return pen.label(name, "IfcPositiveLengthMeasure", pen.long(mm))


def _set(pen: Pen, name: str, properties: list[Any]) -> Entity:
    return pen.rooted("IfcPropertySet", Name=name, HasProperties=properties)


def _define(pen: Pen, element: Entity, definition: Entity) -> None:
    pen.rooted("IfcRelDefinesByProperties", RelatedObjects=[element], RelatingPropertyDefinition=definition)
