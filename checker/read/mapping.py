"""What ``wayroom.toml`` says of how this project's models are to be read: where they keep what, what elements are, what to leave out."""

from enum import StrEnum

from pydantic import BaseModel, ConfigDict, Field, field_validator, model_validator

from checker.model import CarrierKind, FittingKind
from checker.model.words import wildcard
from checker.units import MM_PER_INCH, MM_PER_M


class Part(BaseModel):
    """A table of the project file: no key but those it knows."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class Quantity(StrEnum):
    """What a property of the project's own may hold."""

    WIDTH = "width"
    HEIGHT = "height"
    DIAMETER = "diameter"
    BORE = "bore"
    WALL = "wall"
    DIVIDER = "divider"
    USABLE_DEPTH = "usable_depth"
    LENGTH = "length"
    COMPARTMENTS = "compartments"
    MATERIAL = "material"
    CONDITION = "condition"
    CIRCUIT = "circuit"
    PANEL = "panel"
    TAG = "tag"
    FIRE_RATING = "fire_rating"


#: Millimetres in the units that the project file knows.
UNITS_MM = {"mm": 1.0, "cm": 10.0, "m": MM_PER_M, "in": MM_PER_INCH, "ft": 12.0 * MM_PER_INCH}


class PropertySpec(Part):
    """``[[properties]]``: a property, by patterns of its set's and its own name, in which the models keep a quantity."""

    quantity: Quantity
    set: str = "*"
    property: str = Field(min_length=1)
    unit: str | None = None

    @field_validator("unit")
    @classmethod
    def _known_unit(cls, unit: str | None) -> str | None:
        if unit is not None and unit not in UNITS_MM:
            raise ValueError(f"{unit!r} isn't one of {', '.join(UNITS_MM)}")
        return unit

    def matches(self, set_name: str, name: str) -> bool:
        """Whether it speaks of a property."""
        return _fits(self.set, set_name) and _fits(self.property, name)


class Traits(Part):
    """Patterns of what an element is called. All that are given must match; ``layer`` and ``class`` match any of several."""

    ifc_class: str | None = Field(default=None, alias="class")
    type: str | None = None
    name: str | None = None
    layer: str | None = None

    @model_validator(mode="after")
    def _says_something(self) -> "Traits":
        if not any((self.ifc_class, self.type, self.name, self.layer)):
            raise ValueError("give at least one of class, type, name, layer")
        return self

    def match(self, seen: "Seen") -> bool:
        """Whether all its patterns match."""
        return (
            _any_fits(self.ifc_class, seen.classes)
            and _any_fits(self.type, (seen.type_name,))
            and _any_fits(self.name, (seen.name,))
            and _any_fits(self.layer, seen.layers)
        )


class ClassSpec(Traits):
    """``[[classes]]``: what elements with such traits are."""

    kind: str

    @field_validator("kind")
    @classmethod
    def _known_kind(cls, kind: str) -> str:
        known = [item.value for item in (*CarrierKind, *FittingKind) if item.value != "unknown"]
        if kind not in known:
            raise ValueError(f"{kind!r} isn't one of {', '.join(known)}")
        return kind

    @property
    def what(self) -> CarrierKind | FittingKind | None:
        """The kind as we call it."""
        kinds: list[CarrierKind | FittingKind] = [*CarrierKind, *FittingKind]
        return next((kind for kind in kinds if kind.value == self.kind and self.kind != "unknown"), None)


class IgnoreSpec(Traits):
    """``[[ignore]]``: elements that aren't read, with the reason."""

    reason: str = Field(min_length=1)


class Seen(BaseModel):
    """What the patterns look at: an element's class and those above it, its type's name, its own, and its layers."""

    model_config = ConfigDict(frozen=True)

    classes: tuple[str, ...] = ()
    type_name: str = ""
    name: str = ""
    layers: tuple[str, ...] = ()


def _fits(pattern: str, text: str) -> bool:
    return wildcard(pattern.casefold().strip()).fullmatch(text.casefold().strip()) is not None


def _any_fits(pattern: str | None, texts: tuple[str, ...]) -> bool:
    return pattern is None or any(_fits(pattern, text) for text in texts)
