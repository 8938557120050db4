"""Elements and their types, and how they say what they are."""

from dataclasses import dataclass
from typing import Any

from tests.spellings.network import Piece, Segment
from tests.spellings.pen import Entity, Pen
from tests.spellings.spelling import Spelling

#: The standard's words. Boxes have a class of their own.
PREDEFINED = {
    "trunking": "CABLETRUNKINGSEGMENT", "tray": "CABLETRAYSEGMENT", "ladder": "CABLELADDERSEGMENT", "conduit": "CONDUITSEGMENT",
    "tee": "TEE", "bend": "BEND", "box": "NOTDEFINED",
}  # fmt: skip
#: The same as people write them into a free text.
BY_HAND = {
    "trunking": "CABLETRUNKINGSEGMENT ", "tray": "CableTraySegment", "ladder": " cableladdersegment", "conduit": "ConduitSegment ",
    "tee": "Tee ", "bend": "bend",
}  # fmt: skip
#: The trade's words.
WORDS = {
    "trunking": "Cable trunking", "tray": "Cable tray", "ladder": "Cable ladder", "conduit": "Steel conduit", "tee": "Trunking tee",
    "bend": "Conduit bend", "box": "Conduit junction box",
}  # fmt: skip
#: Names of types that tell nothing, for spellings that tell the kind in another way.
NAMES = {
    "T1": "Sort A", "Y1": "Sort B", "L1": "Sort C", "C1": "Sort D", "C2": "Sort D", "TEE": "Sort E", "BEND": "Sort F", "BOX": "Sort G",
}  # fmt: skip


@dataclass(frozen=True)
class Classes:
    """The class of an element and of its type; an empty one: it has none."""

    element: str
    type: str


def classes(thing: Segment | Piece, spelling: Spelling) -> Classes:
    """What a carrier or fitting is an instance of."""
    is_carrier = isinstance(thing, Segment)
    plain = "IfcFlowSegment" if is_carrier else "IfcFlowFitting"
    if not spelling.has_type:
        return Classes(plain, "")
    if spelling.kind == "proxy":
        return Classes("IfcBuildingElementProxy", "IfcBuildingElementProxyType")
    known = (
        "IfcCableCarrierSegment"
        if is_carrier
        else "IfcJunctionBox"
        if thing.kind == "box"
        else "IfcCableCarrierFitting"
    )
    return Classes(plain if spelling.release == "IFC2X3" else known, f"{known}Type")


def type_name(thing: Segment | Piece, spelling: Spelling) -> str:
    """The name of its type, or the object type where it has none; with the size in it where the spelling tells it there."""
    word = WORDS[thing.kind] if spelling.kind in {"words", "bare words"} else NAMES[thing.tag]
    if spelling.size != "name" or isinstance(thing, Piece):
        return word
    unit = (
        " mm" if spelling.unit in {"cm", "inch", "foot"} else ""
    )  # elsewhere figures without a unit are millimetres to everybody
    if thing.is_round:
        return f"{word} Ø{thing.width:g}{unit}"
    return f"{word} {thing.width:g}{unit} x {thing.height:g}{unit}"


def element(pen: Pen, thing: Segment | Piece, spelling: Spelling, **attributes: Any) -> tuple[Entity, Entity | None]:
    """The element and its type."""
    kinds = classes(thing, spelling)
    own, of_type = _words(thing, spelling)
    has_own = spelling.release != "IFC2X3" and kinds.element.startswith(("IfcCableCarrier", "IfcJunctionBox"))
    if has_own:
        attributes["PredefinedType"] = own
    if not kinds.type:
        attributes["ObjectType"] = type_name(thing, spelling)
    elif own == "USERDEFINED":
        attributes["ObjectType"] = BY_HAND[thing.kind]
    made = pen.rooted(kinds.element, Tag=thing.tag, Name=thing.tag, **attributes)
    if not kinds.type:
        return made, None
    by_hand = BY_HAND[thing.kind] if of_type == "USERDEFINED" else None
    of_kind = pen.rooted(kinds.type, Name=type_name(thing, spelling), ElementType=by_hand, PredefinedType=of_type)
    pen.rooted("IfcRelDefinesByType", RelatedObjects=[made], RelatingType=of_kind)
    return made, of_kind


def _words(thing: Segment | Piece, spelling: Spelling) -> tuple[str, str]:
    """The predefined type of an element and of its type."""
    word, nothing = PREDEFINED[thing.kind], "NOTDEFINED"
    if thing.kind == "box":
        return nothing, nothing
    return {
        "occurrence": (word, nothing),
        "type": (nothing, word),
        "user": ("USERDEFINED", nothing),
        "user type": (nothing, "USERDEFINED"),
    }.get(spelling.kind, (nothing, nothing))


def toml(things: tuple[Segment | Piece, ...], spelling: Spelling) -> str:
    """What the project file says of kinds."""
    if spelling.kind not in {"mapped", "proxy"}:
        return ""
    kinds = {type_name(thing, spelling): (thing.kind, classes(thing, spelling).element) for thing in things}
    return "".join(
        f'[[classes]]\nkind = "{kind}"\nclass = "{name if spelling.kind == "proxy" else "IfcDistributionFlowElement"}"\n'
        f'type = "{pattern.lower()}*"\n\n'
        for pattern, (kind, name) in kinds.items()
    )
