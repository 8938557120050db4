"""Circuits that a model has: groups of the standard, and text properties of equipment. One that it has in several ways is one.

Two of the same name are two unless something tells that they are one: circuits are often named by a number alone.
"""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from checker.model import ModelCable, ModelCircuit
from checker.read.context import Context
from checker.read.mapping import PropertySpec, Quantity
from checker.read.model_cables import is_cable, sized_cable, stays, whole_cable
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
#: A text that lists more circuits than this, or is longer, is something else.
MOST_NUMBERS, MOST_LETTERS = 48, 100
#: Of more circuits of one number than this, the others are each one of their own.
MOST_ALIKE = 500
#: What programs and people write where nothing was given.
PLACEHOLDER = re.compile(r"<.*>|[-–?.]+|n/?a|none|null|tb[acd]|unassigned", re.IGNORECASE)
#: What may stand between a panel and a number.
BETWEEN = "/- :."
ROLES = ((Quantity.PANEL, "panel"), (Quantity.CIRCUIT, "circuit"))


@dataclass(slots=True)
class Draft:
    """A circuit before it is known which others it is the same as. ``of`` is the panel by which its mark goes, if that is told."""

    name: str
    panel: str
    of: str
    number: str
    source: str
    members: set[str] = field(default_factory=set)
    cables: dict[str, ModelCable] = field(default_factory=dict)
    board: str = ""

    def is_same(self, other: "Draft") -> bool:
        """Whether both, of one number, are one circuit: of one panel, or told in two ways that don't speak against each other."""
        if self.of and other.of and _even(self.of) == _even(other.of):
            return True
        shared = not self.members.isdisjoint(other.members) or not self.cables.keys().isdisjoint(other.cables)
        if self.source != other.source:
            feed_alike = shared or not (self.members and other.members)
            return shared or (feed_alike and not (self.of and other.of))
        return shared and not (self.of and other.of)

    def take(self, other: "Draft") -> None:
        """Adds what another knows of the same circuit."""
        self.panel, self.of, self.board = self.panel or other.panel, self.of or other.of, self.board or other.board
        self.source = ", ".join(dict.fromkeys([*self.source.split(", "), other.source]))
        self.members |= other.members
        self.cables |= other.cables


def read_circuits(it: Context, equipment: set[str], ignored: set[int]) -> list[ModelCircuit]:
    """The circuits of the model: of groups, and of text properties.

    Args:
        it: The model.
        equipment: Keys of what a circuit may feed.
        ignored: Step ids of elements that aren't read.
    """
    texts = list(_of_texts(it, equipment))
    groups = list(_of_groups(it, equipment, ignored))
    named = sorted({draft.panel for draft in (*groups, *texts) if draft.panel}, reverse=True)
    panels = {_even(panel): panel for panel in named}  # of several spellings the first
    by_number: dict[str, list[Draft]] = {}
    for draft in (*groups, *texts):
        _split(draft, panels)
        alike = by_number.setdefault(_even(draft.number), [])
        same = [other for other in alike[:MOST_ALIKE] if draft.of and _even(other.of) == _even(draft.of)]
        same = same or [other for other in alike[:MOST_ALIKE] if other.is_same(draft)]
        if len(same) == 1:
            same[0].take(draft)
        else:
            alike.append(draft)
    drafts = [draft for alike in by_number.values() for draft in alike]
    names = Counter(draft.name for draft in drafts)
    numbers = Counter(_even(draft.number) for draft in drafts)
    firsts = Counter((_even(draft.of), _even(draft.number)) for draft in drafts)
    found = []
    for draft in drafts:
        first = draft.number.split(",", maxsplit=1)[0]
        spoken = [draft.number] + ([first] if not firsts[_even(draft.of), _even(first)] else [])
        marks = {f"{draft.of}{between}{number}" for number in spoken for between in BETWEEN} if draft.of else set()
        marks |= {draft.number} if numbers[_even(draft.number)] == 1 else set()
        mark = draft.name if names[draft.name] == 1 or not draft.of else f"{draft.of}/{draft.number}"
        found.append(
            ModelCircuit(mark, it.name, draft.source, tuple(sorted({mark, *marks})), draft.panel, tuple(sorted(draft.members)),
                         tuple(draft.cables[key] for key in sorted(draft.cables)), draft.board)
        )  # fmt: skip
    return sorted(found, key=lambda circuit: (circuit.mark, circuit.panel, circuit.members))


def _split(draft: Draft, panels: Mapping[str, str]) -> None:
    """Takes a panel that is known off the beginning of a circuit's name: DB1/9 is 9 of DB1. ``panels`` are by their even spelling."""
    ends = [
        at
        for at, sign in enumerate(draft.number[:MOST_LETTERS])
        if sign in BETWEEN and _even(draft.number[:at]) in panels
    ]
    if draft.of:
        ends = [at for at in ends if _even(draft.number[:at]) == _even(draft.of)]
    at = max(ends, default=None)
    number = draft.number[at + 1 :].strip() if at is not None else ""
    if number:
        draft.of, draft.number = draft.of or panels[_even(draft.number[:at])], number


def _even(text: str) -> str:
    return text.casefold()


def _of_groups(it: Context, equipment: set[str], ignored: set[int]) -> Iterator[Draft]:
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
        if _is_circuit(it, group, inside, equipment):
            yield _circuit(it, group, inside, equipment, ignored)


def _is_circuit(it: Context, group: Entity, inside: list[Entity], equipment: set[str]) -> bool:
    if any(group.is_a(name) for name in CIRCUITS):
        return True
    if group.is_a() not in SYSTEMS:  # zones and other systems of a building are systems by class too
        return False
    within = it.found.children.get(group.id(), ())
    if any(member.is_a("IfcSystem") or member.is_a("IfcGroup") for member in (*inside, *within)):
        return False
    predefined = str(getattr(group, "PredefinedType", None) or "").upper()
    feeds = any(
        it.key(member) in equipment or is_cable(it, member) for member in inside
    )  # else it is a system of carriers
    return feeds and (predefined in ELECTRICAL_SYSTEMS or any(_is_electrical(it, member) for member in inside))


def _is_electrical(it: Context, member: Entity) -> bool:
    kind = it.found.types.get(member.id())
    return any(member.is_a(name) for name in ELECTRICAL) or (
        kind is not None and any(kind.is_a(name) for name in ELECTRICAL_TYPES)
    )


def _circuit(it: Context, group: Entity, inside: list[Entity], equipment: set[str], ignored: set[int]) -> Draft:
    """A circuit of a group. Of several boards in it, the one that its name begins with feeds it; else which one does isn't known."""
    name = name_of(group).strip()
    draft = Draft(name, "", "", name, group.is_a())
    boards = []
    for member in inside:
        if is_cable(it, member):
            cable = whole_cable(it, member)
            if stays(it, cable, ignored):
                draft.cables[it.key(cable)] = sized_cable(it, cable, (name,))
        elif it.key(member) in equipment:
            draft.members.add(it.key(member))
            if any(member.is_a(board) for board in BOARDS):
                boards.append(member)
    names = [str(board.Name or board.Tag or board.GlobalId) for board in boards]
    is_alone = len(boards) == 1 and len(draft.members) > 1  # a board that is all there is may as well be what is fed
    feeding = [place for place, board in enumerate(names) if is_alone or _even(name).startswith(_even(board))]
    if len(feeding) == 1:
        draft.panel = draft.of = names[feeding[0]]
        draft.board = it.key(boards[feeding[0]])
        draft.members.discard(it.key(boards[feeding[0]]))
    return draft


def _of_texts(it: Context, equipment: set[str]) -> Iterator[Draft]:
    """Circuits of text properties: a number, or several, and the panel that they belong to."""
    mapped = {quantity: it.project.mapped(quantity) for quantity, _ in ROLES}
    drafts: dict[tuple[str, str], Draft] = {}
    for element in all_of(it.file, "IfcElement"):
        if it.key(element) not in equipment:
            continue
        panel, number = (_text(it, element, role, mapped[quantity]) for quantity, role in ROLES)
        if number and number.count(",") < MOST_NUMBERS:
            name = f"{panel}/{number}" if panel and not _even(number).startswith(_even(panel)) else number
            draft = drafts.setdefault((panel, number), Draft(name, panel, panel, number, "text properties"))
            draft.members.add(it.key(element))
    yield from (drafts[key] for key in sorted(drafts))


def _text(it: Context, element: Entity, role: str, mapped: Sequence[PropertySpec]) -> str:
    """The first text of an element that a property holds which the project maps, else one that is named as that role is."""
    held = it.held(element)
    given = [item for spec in mapped for item in held if spec.matches(item.set_name, item.name)]
    given += [item for item in held if is_word(role, item.name)]
    texts = (_plain_number(item.value) for item in given if not isinstance(item.value, bool))
    return next((text for text in texts if 0 < len(text) <= MOST_LETTERS and not PLACEHOLDER.fullmatch(text)), "")


def _plain_number(value: object) -> str:
    """A property's value as a circuit is written: 9 for 9.0, and without blanks round commas."""
    text = f"{value:g}" if isinstance(value, float) else str(value)
    return re.sub(r"\s*,\s*", ",", text.strip())
