"""What ``wayroom.toml`` says of cables of the project's own, and what no cable can be."""

from collections.abc import Sequence

from pydantic import Field, model_validator

from checker.model import cable_area_mm2
from checker.read.mapping import Part
from checker.read.project_spans import SpannedAboveZero

#: No cable is rated for less: what is lower is in kilovolts.
LEAST_RATED_V = 30.0
V_PER_KV = 1000.0
#: A conductor is made to a resistance, and may have somewhat less metal than its nominal size: a bare solid one is its own outside.
LEAST_METAL_SHARE = 0.9


def has_no_room(
    metal_mm2: float | None, sizes_mm: Sequence[float | None], least_mm: Sequence[float | None] = (None, None, None)
) -> bool:
    """Whether a cable is smaller than the metal in it, so that one of the two is a mistake or in another unit.

    Args:
        metal_mm2: The cross-section of all its conductors together; None: it isn't known, and nothing can be said.
        sizes_mm: Its diameter, width and height.
        least_mm: The lower ends of those that are ranges. A range of which any part can't be is none.
    """
    thin = (size if lower is None else lower for size, lower in zip(sizes_mm, least_mm, strict=True))
    area_mm2 = cable_area_mm2(*thin)
    return metal_mm2 is not None and area_mm2 is not None and area_mm2 < LEAST_METAL_SHARE * metal_mm2


class CableSpec(Part):
    """``[[cables]]``: a cable of the project's own, to be named in the schedule by ``key``."""

    key: str
    source: str = Field(min_length=1)
    diameter: SpannedAboveZero | None = Field(default=None, alias="diameter_mm")
    width: SpannedAboveZero | None = Field(default=None, alias="width_mm")
    height: SpannedAboveZero | None = Field(default=None, alias="height_mm")
    csa_mm2: float | None = Field(default=None, gt=0)
    cores: int | None = Field(default=None, ge=1)
    stranded: bool | None = None
    rated_voltage_v: float | None = Field(default=None, gt=0)
    mass_kg_per_km: float | None = Field(default=None, gt=0)

    @model_validator(mode="after")
    def _can_be(self) -> "CableSpec":
        metal_mm2 = None if self.csa_mm2 is None else self.csa_mm2 * (self.cores or 1)
        sizes, least = (self.diameter_mm, self.width_mm, self.height_mm), self.least_mm
        if has_no_room(metal_mm2, sizes, least):
            raise ValueError(
                f"its size has no room for the {metal_mm2:g} mm² of its conductors: give it in mm, or mend csa_mm2 or cores"
            )
        if self.rated_voltage_v is not None and self.rated_voltage_v < LEAST_RATED_V:
            low = self.rated_voltage_v
            raise ValueError(
                f"a rated_voltage_v of {low:g} can't be: give it in volts, {low:g} kV is {low * V_PER_KV:g}"
            )
        return self

    @property
    def diameter_mm(self) -> float | None:
        """The outside diameter; of a range the most, which is what fill counts."""
        return None if self.diameter is None else self.diameter.most

    @property
    def width_mm(self) -> float | None:
        """The same of the width of a flat one."""
        return None if self.width is None else self.width.most

    @property
    def height_mm(self) -> float | None:
        """The same of its height."""
        return None if self.height is None else self.height.most

    @property
    def least_mm(self) -> tuple[float | None, float | None, float | None]:
        """The other ends of diameter, width and height; None where one isn't a range."""
        spans = (self.diameter, self.width, self.height)
        diameter, width, height = (span.least if span is not None and span.is_range else None for span in spans)
        return diameter, width, height
