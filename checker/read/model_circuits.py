"""Circuits and cables that a model has: groups of the standard, and text properties of equipment. Each is counted once.

Conductors that a cable nests or is made of are that cable: what is assigned to them is assigned to it.
"""

import re
from collections.abc import Iterator, Sequence
from typing import Any

from checker.model import Condition, ModelCable, ModelCircuit
from checker.read.context import Context
from checker.read.figures import possible
from checker.read.mapping import PropertySpec, Quantity
from checker.read.relations import all_of, name_of
from checker.read.words import is_word

Entity = Any
#: Groups of the standard that are circuits, and those that are only if they hold something electrical and no circuits of their own.
CIRCUITS = ("IfcElectricalCircuit", "IfcDistributionCircuit")
SYSTEMS = ("IfcDistributionSystem", "IfcSystem")
ELECTRICAL_SYSTEMS = {
    "AUDIOVISUAL", "COMMUNICATION", "CONTROL", "DATA", "ELECTRICAL", "ELECTROACOUSTIC", "EMERGENCY", "FIREALARM", "LIGHTING",
    "LIGHTNINGPROTECTION", "POWERGENERATION", "SECURITY", "SIGNAL", "TELEPHONE", "TV", "BACKUPPOWER",
}  # fmt: skip
#: What feeds a circuit, if it is among its members.
BOARDS = (
    "IfcElectricDistributionBoard",
    "IfcElectricDistributionPoint",
    "IfcTransformer",
    "IfcElectricFlowStorageDevice",
)
#: Members by which a plain system is known to be electrical.
ELECTRICAL = (
    *BOARDS, "IfcCableSegment", "IfcOutlet", "IfcLightFixture", "IfcElectricAppliance", "IfcElectricMotor", "IfcSwitchingDevice",
    "IfcProtectiveDevice", "IfcCommunicationsAppliance", "IfcAudioVisualAppliance", "IfcAlarm", "IfcLamp", "IfcElectricGenerator",
)  # fmt: skip
ELECTRICAL_TYPES = tuple(f"{name}Type" for name in ELECTRICAL)
#: A text that lists more circuits than this is something else.
MOST_NUMBERS = 48
#: What programs write where nothing was given.
PLACEHOLDER = re.compile(r"<.*>|[-–?.]+")
ROLES = ((Quantity.PANEL, "panel"), (Quantity.CIRCUIT, "circuit"))


def read_cables(it: Context) -> list[ModelCable]:
    """The cables that the model draws; not the conductors in them, and none that will be gone."""
    cables = []
    for element in all_of(it.file, "IfcCableSegment"):
        if whole_cable(it, element).id() != element.id() or it.condition(element) is Condition.DEMOLISHED:
            continue
        parts = [element, *(part for part in it.found.children.get(element.id(), ()) if part.is_a("IfcCableSegment"))]
        groups = [group for part in parts for group in it.found.groups.get(part.id(), ())]
        marks = {str(group.Name) for group in groups if group.Name} | {
            str(text) for text in (element.Name, element.Tag) if text
        }
        cables.append(_sized(it, element, tuple(sorted(marks))))
    return cables


def whole_cable(it: Context, element: Entity) -> Entity:
    """The cable that a conductor belongs to; a cable itself."""
    seen: set[int] = set()
    while (
        (whole := it.found.parents.get(element.id())) is not None
        and whole.is_a("IfcCableSegment")
        and whole.id() not in seen
    ):
        seen.add(element.id())
        element = whole
    return element


def _sized(it: Context, element: Entity, marks: tuple[str, ...]) -> ModelCable:
    """A cable with the sizes that its properties give, if a cable can have them."""
    diameter = _number(it, element, ("OverallDiameter", "NominalWidthOrDiameter", "OuterDiameter"))
    area = _number(it, element, ("CrossSectionalArea",))
    cores = _number(it, element, ("NumberOfCores",))
    size = diameter * it.mm if diameter is not None else None
    return ModelCable(
        place=it.place(element),
        marks=marks,
        diameter_mm=size if size is not None and size <= 200.0 and possible(Quantity.WALL, size / 10.0) else None,
        csa_mm2=area * it.mm * it.mm if area is not None and 0.0 < area * it.mm * it.mm <= 2500.0 else None,
        cores=int(cores) if cores is not None and 1 <= cores <= 500 else None,
        condition=it.condition(element),
    )


def _number(it: Context, element: Entity, names: tuple[str, ...]) -> float | None:
    values = (item.value for name in names for item in it.held(element) if item.name == name)
    return next((value for value in values if isinstance(value, float) and value > 0.0), None)


def read_circuits(it: Context, equipment: set[str]) -> list[ModelCircuit]:
    """The circuits of the model: of groups, and of text properties where no group has the same mark.

    Args:
        it: The model.
        equipment: Keys of what a circuit may feed.
    """
    by_mark: dict[str, ModelCircuit] = {}
    for circuit in (*_of_groups(it, equipment), *_of_texts(it, equipment)):
        known = next((mark for mark in (circuit.mark, *circuit.marks) if mark in by_mark), None)
        if known is None:
            by_mark[circuit.mark] = circuit
        else:
            by_mark[known] = _merged(by_mark[known], circuit)
    return [by_mark[mark] for mark in sorted(by_mark)]


def _merged(one: ModelCircuit, other: ModelCircuit) -> ModelCircuit:
    """A circuit that the model has twice."""
    cables = {cable.place.global_id: cable for cable in (*one.cables, *other.cables)}
    sources = dict.fromkeys([*one.source.split(", "), *other.source.split(", ")])
    return ModelCircuit(
        mark=one.mark, model=one.model, source=", ".join(sources), marks=tuple(sorted({*one.marks, *other.marks})),
        panel=one.panel or other.panel, members=tuple(sorted({*one.members, *other.members})),
        cables=tuple(cables[key] for key in sorted(cables)),
    )  # fmt: skip


def _of_groups(it: Context, equipment: set[str]) -> Iterator[ModelCircuit]:
    members: dict[int, list[Entity]] = {}
    groups: dict[int, Entity] = {}
    for group, member in it.found.group_members:
        groups[group.id()] = group
        members.setdefault(group.id(), []).append(member)
    for name in CIRCUITS:
        for group in all_of(it.file, name):
            groups.setdefault(group.id(), group)
    for key in sorted(groups):
        group, inside = groups[key], members.get(key, [])
        if _is_circuit(it, group, inside):
            yield _circuit(it, group, inside, equipment)


def _is_circuit(it: Context, group: Entity, inside: list[Entity]) -> bool:
    if any(group.is_a(name) for name in CIRCUITS):
        return True
    if (
        not any(group.is_a(name) for name in SYSTEMS)
        or group.is_a("IfcBuildingSystem")
        or group.is_a("IfcStructuralAnalysisModel")
    ):
        return False
    within = it.found.children.get(group.id(), ())
    if any(member.is_a("IfcSystem") or member.is_a("IfcGroup") for member in (*inside, *within)):
        return False
    predefined = str(getattr(group, "PredefinedType", None) or "").upper()
    return predefined in ELECTRICAL_SYSTEMS or any(_is_electrical(it, member) for member in inside)


def _is_electrical(it: Context, member: Entity) -> bool:
    kind = it.found.types.get(member.id())
    return any(member.is_a(name) for name in ELECTRICAL) or (
        kind is not None and any(kind.is_a(name) for name in ELECTRICAL_TYPES)
    )


def _circuit(it: Context, group: Entity, inside: list[Entity], equipment: set[str]) -> ModelCircuit:
    cables = {}
    keys = set()
    panel = ""
    for member in inside:
        if member.is_a("IfcCableSegment"):
            cable = whole_cable(it, member)
            cables[cable.id()] = cable
        elif it.key(member) in equipment:
            if any(member.is_a(name) for name in BOARDS) and not panel:
                panel = str(member.Name or member.GlobalId)
            else:
                keys.add(it.key(member))
    mark = name_of(group)
    drawn = tuple(_sized(it, cables[key], (mark,)) for key in sorted(cables))
    return ModelCircuit(mark, it.name, group.is_a(), (mark,), panel, tuple(sorted(keys)), drawn)


def _of_texts(it: Context, equipment: set[str]) -> Iterator[ModelCircuit]:
    """Circuits of text properties: a number, or several, and the panel that they belong to."""
    mapped = {quantity: it.project.mapped(quantity) for quantity, _ in ROLES}
    members: dict[tuple[str, str], set[str]] = {}
    for element in all_of(it.file, "IfcElement"):
        if it.key(element) not in equipment:
            continue
        panel, number = (_text(it, element, role, mapped[quantity]) for quantity, role in ROLES)
        if number and number.count(",") < MOST_NUMBERS:
            members.setdefault((panel, number), set()).add(it.key(element))
    counts: dict[str, int] = {}
    for _, number in members:
        counts[number] = counts.get(number, 0) + 1
    for (panel, number), keys in sorted(members.items()):
        mark = f"{panel}/{number}" if panel else number
        yield ModelCircuit(
            mark,
            it.name,
            "text properties",
            _marks(panel, number, alone=counts[number] == 1),
            panel,
            tuple(sorted(keys)),
        )


def _text(it: Context, element: Entity, role: str, mapped: Sequence[PropertySpec]) -> str:
    """The first text of an element that a property of that role, or one that the project maps, holds."""
    for item in it.held(element):
        if is_word(role, item.name) or any(spec.matches(item.set_name, item.name) for spec in mapped):
            text = _plain_number(item.value)
            if text and not PLACEHOLDER.fullmatch(text):
                return text
    return ""


def _plain_number(value: object) -> str:
    """A property's value as a circuit is written: 9 for 9.0, and without blanks round commas."""
    text = f"{value:g}" if isinstance(value, float) else str(value)
    return re.sub(r"\s*,\s*", ",", text.strip())


def _marks(panel: str, number: str, *, alone: bool) -> tuple[str, ...]:
    """The ways in which a schedule may write a circuit of a panel: with several numbers by the first of them, too."""
    firsts = dict.fromkeys((number, number.split(",", maxsplit=1)[0]))
    marks = [f"{panel}{between}{first}" for first in firsts for between in ("/", "-", " ", ":", ".")] if panel else []
    return tuple(sorted({*marks, *([number] if alone or not panel else [])}))
