"""Reads one carrier segment: its axis, its section, its condition; and says what was inferred, assumed or corrected on the way."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from checker.model import Carrier, CarrierKind, Confidence, Laying, ProblemKind
from checker.read.axes import Axis, carrier_axis
from checker.read.classify import Classified
from checker.read.context import Context
from checker.read.mapping import Quantity
from checker.read.profiles import profile_of
from checker.read.relations import material_name, material_profile
from checker.read.sections import Evidence, Sized, resolve_section
from checker.rule.catalogue import CarrierType
from checker.units import metres

Entity = Any
#: No carrier segment is longer than this.
LONGEST_MM = 1_000_000.0
#: A length by property may differ from the axis by this much and this share: couplers and cuts.
LENGTH_SLACK_MM, LENGTH_SLACK_SHARE = 50.0, 0.05
NOT_CLASSIFIED = "which kind of carrier it is isn't said: by no class, type, property set, mapping or word in its name"


class CarrierReader:
    """Reads the carriers of one model.

    Args:
        context: The model.
        catalogue: Carriers whose inside goes by a family and a trade size.
    """

    def __init__(self, context: Context, catalogue: Sequence[CarrierType]) -> None:
        self._it = context
        self._catalogue = catalogue
        self._mapped = {quantity: specs for quantity in Quantity if (specs := context.project.mapped(quantity))}

    def read(self, item: Classified, type_name: str) -> Carrier:
        """One carrier."""
        it, element = self._it, item.element
        axis = self._axis(element)
        item = self._of_its_shape(item, axis)
        self._tell_kind(item)
        kind = item.kind if isinstance(item.kind, CarrierKind) else CarrierKind.UNKNOWN
        spec = it.project.type_spec(type_name)
        profile = it.safely(element, lambda: profile_of(material_profile(element, it.found), it.shapes.radians), None)
        texts = _texts(element, type_name)
        seen = Evidence(kind, it.held(element), profile, axis.sweep, spec, texts, it.mm)
        sized = it.safely(element, lambda: resolve_section(seen, self._mapped, self._catalogue), None)
        if sized is None:
            sized = resolve_section(Evidence(kind, spec=spec, file_mm=it.mm), {}, ())
        for said in sized.said:
            it.notes.tell(said.kind, said.what, said.why, said.hint, it.label(element))
        self._tell_size(element, sized)
        return Carrier(
            key=it.key(element),
            place=it.place(element),
            kind=kind,
            section=sized.section,
            type_name=type_name,
            material=it.mapped_text(element, Quantity.MATERIAL) or material_name(element, it.found),
            start_mm=axis.points_mm[0] if axis.points_mm else None,
            end_mm=axis.points_mm[-1] if axis.points_mm else None,
            corners_mm=axis.points_mm[1:-1],
            across=axis.across,
            length_mm=self._length_mm(element, axis, sized),
            turn_deg=axis.turn_deg,
            laying=spec.laying if spec is not None else Laying(),
            condition=it.condition(element),
            kind_source=item.source,
            kind_confidence=item.confidence,
        )

    def _axis(self, element: Entity) -> Axis:
        it = self._it
        frame = it.frame(element)
        if frame is None:
            why = "it has none, or its chain has a loop or a kind that isn't known"
            it.notes.tell(
                ProblemKind.GAP,
                "where it is isn't known: no usable placement",
                why,
                "export the model again",
                it.label(element),
            )
            return Axis()
        ports = it.port_points.get(element.id(), [])
        axis = it.safely(element, lambda: carrier_axis(it.shapes, element, frame, ports, it.mm), Axis())
        if axis.said:
            it.notes.tell(ProblemKind.GAP, axis.said, "so neither its way nor its section is known from its shape",
                          "model each length as an element", it.label(element))  # fmt: skip
        if axis.length_mm is not None and not axis.length_mm <= LONGEST_MM:
            what = f"it is {metres(axis.length_mm):g} m long, which no carrier is; where it runs is left out"
            it.notes.tell(
                ProblemKind.CORRECTION, what, "its unit or placement is wrong", "mend the model", it.label(element)
            )
            return Axis(sweep=axis.sweep)
        return axis

    @staticmethod
    def _of_its_shape(item: Classified, axis: Axis) -> Classified:
        """A round carrier whose kind isn't told is a conduit: none of the others is round."""
        is_round = axis.sweep is not None and axis.sweep.diameter is not None
        if item.kind is not CarrierKind.UNKNOWN or not is_round:
            return item
        return replace(item, kind=CarrierKind.CONDUIT, source="its shape: it is round", confidence=Confidence.MEDIUM)

    def _tell_kind(self, item: Classified) -> None:
        tell, where = self._it.notes.tell, self._it.label(item.element)
        if item.said:
            tell(
                ProblemKind.ASSUMPTION,
                item.said,
                "the two contradict each other",
                "mend the model or the mapping",
                where,
            )
        if item.kind is CarrierKind.UNKNOWN:
            tell(
                ProblemKind.GAP,
                NOT_CLASSIFIED,
                "so no rule of a kind can be asked",
                "map it: [[classes]] in wayroom.toml",
                where,
            )
        elif item.confidence is not Confidence.HIGH:
            what = f"it is taken for a {item.kind} ({item.source})"
            tell(
                ProblemKind.INFERENCE,
                what,
                "its class and predefined type don't say so",
                "map it: [[classes]] in wayroom.toml",
                where,
            )

    def _tell_size(self, element: Entity, sized: Sized) -> None:
        section = sized.section
        where = self._it.label(element)
        if not section.source:
            self._it.notes.tell(ProblemKind.GAP, "its size isn't known: by no property, quantity, profile, shape or name",
                                "so how full it is isn't either", "give it a size, or its type one in wayroom.toml", where)  # fmt: skip
        if section.confidence is Confidence.HIGH or not section.source:
            return
        source = _sources(section.source)
        if source == {"project file"}:
            self._it.notes.tell(ProblemKind.ASSUMPTION, "its size is the one that wayroom.toml gives its type",
                                "the model has none", "check that all of that type have it", where)  # fmt: skip
            return
        sure = "a guess" if section.confidence is Confidence.LOW else "measured or derived, not stated"
        self._it.notes.tell(ProblemKind.INFERENCE, f"its size is {sure} ({', '.join(sorted(source))})",
                            "nothing that is more certain gives it", "map the property that does: [[properties]] in wayroom.toml",
                            where)  # fmt: skip

    def _length_mm(self, element: Entity, axis: Axis, sized: Sized) -> float | None:
        """Its length along the axis; by property where the axis isn't known."""
        if axis.length_mm is None:
            if sized.length_mm is not None:
                self._it.notes.tell(ProblemKind.INFERENCE, "its length is the one of a property: where it runs isn't known",
                                    "it has no usable shape or ports", "export its shape", self._it.label(element))  # fmt: skip
            return sized.length_mm
        given = sized.length_mm
        if given is not None and abs(given - axis.length_mm) > max(
            LENGTH_SLACK_MM, LENGTH_SLACK_SHARE * axis.length_mm
        ):
            what = f"it is {metres(axis.length_mm):.2f} m long by {axis.found_by} and {metres(given):.2f} m by its property"
            self._it.notes.tell(ProblemKind.ASSUMPTION, f"{what}; the former is used", "the model contradicts itself, or is wrong",
                                "mend the model", self._it.label(element))  # fmt: skip
        return axis.length_mm


def _sources(text: str) -> set[str]:
    """The sources of sizes, without what they are of and without names quoted."""
    parts = [
        part.split(": ", 1)[1]
        for part in text.split("; ")
        if ": " in part and not part.startswith(("compartments", "wall"))
    ]
    return {"its name" if part.startswith("name ") else part for part in parts}


def _texts(element: Entity, type_name: str) -> list[str]:
    """Its names, the type's first: a type is named for its size, an element often for where it is."""
    texts = (type_name, getattr(element, "ObjectType", None), element.Name, getattr(element, "Description", None))
    return list(dict.fromkeys(str(text) for text in texts if text))
