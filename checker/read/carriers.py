"""Reads one carrier segment: its axis, its section, its condition; and says what was inferred, assumed or corrected on the way."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from checker.model import Carrier, CarrierKind, Confidence, Laying, ProblemKind, Section, Vec
from checker.model.geometry import cross, sub, unit
from checker.read.axes import Axis, carrier_axis
from checker.read.classify import Classified
from checker.read.context import Context, tell_kind
from checker.read.extents import stands_on_edge
from checker.read.mapping import Quantity
from checker.read.placements import Z_AXIS
from checker.read.profiles import profile_of
from checker.read.project import names_of
from checker.read.relations import material_name, material_profile
from checker.read.sections import Evidence, Sized, resolve_section
from checker.read.size_words import BROAD
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
        self.far_mm: list[Vec] = []
        self._mapped = {quantity: specs for quantity in Quantity if (specs := context.project.mapped(quantity))}

    def read(self, item: Classified, type_name: str) -> Carrier:
        """One carrier."""
        it, element = self._it, item.element
        axis = self._axis(element)
        item = self._of_its_shape(item, axis)
        tell_kind(it, item, NOT_CLASSIFIED, "so no rule of a kind can be asked")
        kind = item.kind if isinstance(item.kind, CarrierKind) else CarrierKind.UNKNOWN
        axis = self._off_its_edge(element, axis, kind)
        place = it.place(element)
        spec = it.project.type_spec(*names_of(type_name, place))
        profile = it.safely(element, lambda: profile_of(material_profile(element, it.found), it.shapes.radians), None)
        texts = _texts(element, type_name)
        seen = Evidence(kind, it.held(element), profile, axis.sweep, spec, texts, it.mm)
        sized = it.safely(element, lambda: resolve_section(seen, self._mapped, self._catalogue), None)
        if sized is None:
            sized = resolve_section(Evidence(kind, spec=spec, file_mm=it.mm), {}, ())
        for said in sized.said:
            tell = it.notes.fold if said.of_type else it.notes.tell
            tell(said.kind, said.what, said.why, said.hint, it.label(element))
        self._tell_size(element, sized)
        item = self._doubted(item, kind, sized.section)
        return Carrier(
            key=it.key(element),
            place=place,
            kind=kind,
            section=sized.section,
            type_name=type_name,
            material=it.mapped_text(element, Quantity.MATERIAL) or material_name(element, it.found),
            start_mm=axis.points_mm[0] if axis.points_mm else None,
            end_mm=axis.points_mm[-1] if axis.points_mm else None,
            corners_mm=axis.points_mm[1:-1],
            across=axis.across,
            is_across_known=axis.is_across_known,
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
            self.far_mm += [axis.points_mm[0], axis.points_mm[-1]]
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

    def _off_its_edge(self, element: Entity, axis: Axis, kind: CarrierKind) -> Axis:
        """A tray or ladder that lies on its side, as on a wall: its longer side is its width nevertheless."""
        sweep, points = axis.sweep, axis.points_mm
        if (
            kind not in {CarrierKind.TRAY, CarrierKind.LADDER}
            or sweep is None
            or not stands_on_edge(sweep)
            or not points
        ):
            return axis
        self._it.notes.tell(ProblemKind.INFERENCE, "it stands on edge: the longer side of its section is taken for its width",
                            f"no {kind} is so much higher than wide", "nothing, unless it is wrong", self._it.label(element))  # fmt: skip
        up = unit(cross(sub(points[-1], points[0]), axis.across or Z_AXIS))
        own = cross(unit(sub(sweep.end, sweep.start)) or Z_AXIS, sweep.across)
        turned = replace(sweep, width=sweep.height, height=sweep.width, across=own)
        return replace(axis, sweep=turned, across=up or axis.across)

    def _doubted(self, item: Classified, kind: CarrierKind, section: Section) -> Classified:
        """A round tray, or a conduit that is a broad rectangle: the class and the section can't both be right."""
        if kind is CarrierKind.CONDUIT:
            sides = sorted((section.width_mm or 0.0, section.height_mm or 0.0))
            is_odd = sides[0] > 0.0 and sides[1] > BROAD * sides[0]
        else:
            is_odd = section.is_round and kind is not CarrierKind.UNKNOWN
        if not is_odd:
            return item
        shape = "round" if section.is_round else f"{section.width_mm:g} x {section.height_mm:g} mm"
        what = f"it is read as a {kind} ({item.source}), but its section is {shape}; it is judged as a {kind}"
        self._it.notes.tell(ProblemKind.ASSUMPTION, what, "the model contradicts itself: one of the two is wrong",
                            "mend its predefined type or its size", self._it.label(item.element))  # fmt: skip
        return replace(item, confidence=Confidence.LOW)

    def _tell_size(self, element: Entity, sized: Sized) -> None:
        section = sized.section
        where = self._it.label(element)
        if not section.source and sized.is_read:
            what = "its size isn't known: by no property, quantity, profile, shape or name"
            known, missing = ("width", "height") if section.width_mm is not None else ("height", "width")
            if section.width_mm is not None or section.height_mm is not None:
                what = f"its {missing} isn't known, only its {known}: by no property, quantity, profile, shape or name"
            self._it.notes.tell(ProblemKind.GAP, what, "so how full it is isn't either",
                                "give it a size, or its type one: [[types]] in wayroom.toml", where)  # fmt: skip
        if section.confidence is Confidence.HIGH or not section.source:
            return
        source = {part for part in _sources(section.source) if not part.endswith("corrected")}  # that is said already
        if not source:
            return
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
        if ": " in part and not part.startswith(("compartments: property", "compartments: project file", "wall"))
    ]
    return {"its name" if part.startswith("name ") else part for part in parts}


def _texts(element: Entity, type_name: str) -> list[str]:
    """Its names, the type's first: a type is named for its size, an element often for where it is."""
    texts = (type_name, getattr(element, "ObjectType", None), element.Name, getattr(element, "Description", None))
    return list(dict.fromkeys(str(text) for text in texts if text))
