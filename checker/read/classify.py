"""What an element is. Of what is asked, the first that answers decides.

Its class and its type's class; the predefined type, the occurrence's before the type's; what the user wrote where that is USERDEFINED; a
property set that only one kind has; the project's mapping; words in its names. Words are weak: what comes of them is listed.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from checker.model import CarrierKind, Confidence, FittingKind
from checker.read import names
from checker.read.mapping import Seen
from checker.read.project import Project
from checker.read.relations import Relations, all_of, many
from checker.read.words import first_meaning, names_another

Entity = Any
Kind = CarrierKind | FittingKind
UNTOLD = {"", "NOTDEFINED", "USERDEFINED", "NULL", "UNSET"}


@dataclass(frozen=True, slots=True)
class Classified:
    """An element with its kind, how that was told, and how sure it is. ``said``: what the user should know of it."""

    element: Entity
    kind: Kind
    source: str
    confidence: Confidence = Confidence.HIGH
    said: str = ""


@dataclass(slots=True)
class Elements:
    """Carrier segments and fittings of a model; what was left out, and by which entry of the project file; what only looks like one.

    ``used``: entries of the project file, by table and number, that fit an element.
    """

    carriers: list[Classified] = field(default_factory=list)
    fittings: list[Classified] = field(default_factory=list)
    ignored: dict[int, tuple[Entity, str]] = field(default_factory=dict)
    lookalikes: list[tuple[Entity, str]] = field(default_factory=list)
    used: set[tuple[str, int]] = field(default_factory=set)

    @property
    def taken(self) -> set[int]:
        """Step ids of all of them."""
        return {item.element.id() for item in (*self.carriers, *self.fittings)} | set(self.ignored)


class Classifier:
    """Sorts the elements of one model.

    Args:
        model: The opened file.
        found: Its relationships.
        project: The project's mapping.
        layers: Gives an element's layers; asked only where the mapping names any.
    """

    def __init__(
        self, model: Entity, found: Relations, project: Project, layers: Callable[[Entity], tuple[str, ...]]
    ) -> None:
        self._model = model
        self._found = found
        self._project = project
        self._above: dict[str, tuple[str, ...]] = {}
        self._layers = layers if any(spec.layer for spec in [*project.classes, *project.ignore]) else lambda _: ()

    def sort(self) -> Elements:
        """Carriers and fittings, in the order of the file by class."""
        elements = Elements()
        for element in self._candidates():
            seen = self._seen(element)
            ignored = next((n for n, spec in enumerate(self._project.ignore) if spec.match(seen)), None)
            if ignored is not None:
                elements.used.add(("ignore", ignored))
                elements.ignored[element.id()] = (element, self._project.ignore[ignored].reason)
                continue
            item = self._classify(element, seen, elements)
            if item is not None and isinstance(item.kind, CarrierKind):
                elements.carriers.append(item)
            elif item is not None:
                elements.fittings.append(item)
        return elements

    def _candidates(self) -> Iterator[Entity]:
        """Elements that may be carriers or fittings, each once; with a mapping by class, those that it names."""
        seen: set[int] = set()
        wanted = [
            "IfcCableCarrierSegment",
            "IfcCableCarrierFitting",
            "IfcJunctionBox",
            "IfcFlowSegment",
            "IfcFlowFitting",
        ]
        wanted += sorted(names.OPEN_SEGMENTS | names.OPEN_FITTINGS)
        if self._project.ignore or self._project.classes:
            wanted.append("IfcElement")
        for name in wanted:
            for element in all_of(self._model, name):
                if element.id() not in seen:
                    seen.add(element.id())
                    yield element

    def _seen(self, element: Entity) -> Seen:
        if not (self._project.ignore or self._project.classes):
            return NOTHING
        type_name = self.type_name(element)
        classes = self._classes(element.is_a())
        return Seen(classes=classes, type_name=type_name, name=str(element.Name or ""), layers=self._layers(element))

    def _classes(self, name: str) -> tuple[str, ...]:
        """A class and all above it."""
        if name not in self._above:
            import ifcopenshell  # slow to load: only where a mapping asks

            schema = ifcopenshell.schema_by_name(self._model.schema_identifier)
            entity, chain = schema.declaration_by_name(name).as_entity(), []
            while entity is not None:
                chain.append(str(entity.name()))
                entity = entity.supertype()
            self._above[name] = tuple(chain)
        return self._above[name]

    def type_name(self, element: Entity) -> str:
        """The name of an element's type, else what the element itself says of its type."""
        kind = self._found.types.get(element.id())
        return str(getattr(kind, "Name", None) or getattr(element, "ObjectType", None) or "")

    def _classify(self, element: Entity, seen: Seen, elements: Elements) -> Classified | None:
        kind = self._found.types.get(element.id())
        fitting = next((n for n, spec in enumerate(self._project.classes) if spec.match(seen)), None)
        mapped = self._project.classes[fitting].what if fitting is not None else None
        if fitting is not None:
            elements.used.add(("classes", fitting))
        by_class = element.is_a("IfcCableCarrierSegment") or element.is_a("IfcCableCarrierFitting")
        of_other = kind is not None and any(kind.is_a(name) for name in names.NEVER_TYPES)
        if any(element.is_a(name) for name in names.NEVER) or (of_other and not by_class):
            if mapped is not None:
                elements.lookalikes.append(
                    (element, "the mapping in wayroom.toml calls it a cable carrier, but by its class it isn't one")
                )
            return None
        if element.is_a("IfcJunctionBox") or (kind is not None and kind.is_a("IfcJunctionBoxType")):
            return Classified(element, FittingKind.BOX, "class")
        by_type = kind is not None and (
            kind.is_a("IfcCableCarrierSegmentType") or kind.is_a("IfcCableCarrierFittingType")
        )
        if by_class or by_type:
            is_segment = element.is_a("IfcCableCarrierSegment") or (
                not by_class and kind is not None and kind.is_a("IfcCableCarrierSegmentType")
            )
            found = self._kind_of(element, kind, mapped, is_segment=is_segment)
            if of_other and kind is not None:
                return replace(
                    found, said=f"by its class it is a cable carrier, which is believed; its type is an {kind.is_a()}"
                )
            if mapped is not None and not isinstance(mapped, CarrierKind if is_segment else FittingKind):
                what = "segment" if is_segment else "fitting"
                return replace(found, said=f"wayroom.toml calls it a {mapped}, but by its class it is a {what}")
            return found
        if mapped is not None:
            return Classified(element, mapped, "project file")
        return self._by_words(element, kind, elements)

    def _kind_of(self, element: Entity, kind: Entity | None, mapped: Kind | None, *, is_segment: bool) -> Classified:
        """The kind of what is a carrier segment or fitting by its class."""
        known: dict[str, Any] = names.CARRIER_KINDS if is_segment else names.FITTING_KINDS
        own = CarrierKind if is_segment else FittingKind
        fits = isinstance(mapped, own)
        written: list[str] = []
        for entity, free, whose in ((element, "ObjectType", ""), (kind, "ElementType", " of its type")):
            word = _word(entity)
            if word in known:
                told = ""
                if fits and mapped is not known[word]:
                    told = (
                        f"wayroom.toml calls it a {mapped}, but its predefined type says {known[word]}, which is used"
                    )
                told = told or _against_type(known, word, _word(kind))
                return Classified(element, known[word], f"predefined type{whose}", said=told)
            text = _word(entity, free)
            if text in known and word in UNTOLD:
                return Classified(element, known[text], f"user-defined type{whose}")
            written += [text] if word == "USERDEFINED" and text not in UNTOLD else []
        role = "carrier" if is_segment else "fitting"
        found = first_meaning(role, written)
        if found is not None and found[0] != "unknown":
            return Classified(element, own(found[0]), f"user-defined type, by the word {found[1]!r}", Confidence.MEDIUM)
        by_set = self._by_set(element, kind) if is_segment else None
        if by_set is not None:
            return by_set
        if fits and mapped is not None:
            return Classified(element, mapped, "project file")
        texts = self._texts(element, kind)
        found = first_meaning(role, texts)
        if is_segment and any(names_another(role, text, "other") for text in texts):
            found = None  # a busbar's trunking, a tray's lid
        if found is not None and found[0] != "unknown":
            return Classified(element, own(found[0]), f"by the word {found[1]!r} in its name", Confidence.LOW)
        return Classified(element, own("unknown"), "class", Confidence.LOW)

    def _by_set(self, element: Entity, kind: Entity | None) -> Classified | None:
        """By a property set of the standard that is for one kind only; two of different kinds tell nothing."""
        definitions = [*many(getattr(kind, "HasPropertySets", None)), *self._found.property_sets.get(element.id(), ())]
        found = {name for item in definitions if (name := str(getattr(item, "Name", None) or "")) in names.KIND_SETS}
        kinds = {names.KIND_SETS[name] for name in found}
        if len(kinds) != 1:
            return None
        return Classified(element, kinds.pop(), f"property set {min(found)}", Confidence.MEDIUM)

    def _by_words(self, element: Entity, kind: Entity | None, elements: Elements) -> Classified | None:
        """Elements of classes that say nothing. Words of other trades, and of accessories, keep them out; that is said."""
        may_be_segment = element.is_a() in names.OPEN_SEGMENTS
        may_be_fitting = element.is_a() in names.OPEN_FITTINGS
        if not (may_be_segment or may_be_fitting) or (kind is not None and kind.is_a() not in names.OPEN_TYPES):
            return None
        texts = self._texts(element, kind)
        carrier = first_meaning("carrier", texts)
        fitting = first_meaning("fitting", texts)
        if carrier is None and may_be_fitting and fitting is not None and fitting[0] == FittingKind.BOX:
            carrier = fitting  # a junction or pull box needs no other word; a bend or tee may be a pipe's
        if carrier is None:
            return None
        other = next((word for text in texts if (word := names_another("carrier", text, "other")) is not None), None)
        if other is not None:
            elements.lookalikes.append((element, f"its name says {carrier[1]!r}, but also {other!r}"))
            return None
        word = f"by the word {carrier[1]!r} in its name"
        if may_be_fitting and (fitting is not None or not may_be_segment):
            what = FittingKind(fitting[0]) if fitting is not None else FittingKind.UNKNOWN
            return Classified(element, what, word, Confidence.LOW)
        return Classified(element, CarrierKind(carrier[0]), word, Confidence.LOW)

    def _texts(self, element: Entity, kind: Entity | None) -> list[str]:
        """What an element is called, the most particular name first, and its layers last."""
        texts = (getattr(element, "ObjectType", None), getattr(kind, "Name", None), element.Name, getattr(kind, "ElementType", None),
                 getattr(element, "Description", None))  # fmt: skip
        return list(dict.fromkeys(str(text) for text in texts if text))


NOTHING = Seen()


def _against_type(known: Mapping[str, Any], word: str, of_type: str) -> str:
    """What is to be said where an element's predefined type is one, and its type's another."""
    if known.get(of_type, known[word]) is known[word]:
        return ""
    return f"its predefined type says {known[word]}, which is used, and its type's says {known[of_type]}"


def _word(entity: Entity | None, attribute: str = "PredefinedType") -> str:
    return str(getattr(entity, attribute, None) or "").strip().upper() if entity is not None else ""


def equipment_in(model: Entity, taken: set[int]) -> list[Entity]:
    """What circuits may start or end at: everything of the equipment classes that is neither carrier nor fitting."""
    elements: dict[int, Entity] = {}
    for name in names.EQUIPMENT_CLASSES:
        for element in all_of(model, name):
            if element.id() not in taken and not any(element.is_a(other) for other in names.NOT_EQUIPMENT):
                elements[element.id()] = element
    return list(elements.values())
