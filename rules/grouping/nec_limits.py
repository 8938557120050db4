"""What the ampacity rule reads from a code."""

from pydantic import Field

from checker.rule import Limit, Limits, Table


class AmpacityLimits(Limits):
    """Tables and figures of ampacities.

    ``continuous``: what device and conductors must have of a continuous load. ``small_14_a``, ``small_12_a``, ``small_10_a``: the
    largest device of a small size. ``next_size_most_a``: up to where the next standard size is granted; ``receptacles_most_a``: up to
    where a branch circuit may feed several receptacles, to which it isn't. ``terminals_small_a``: up to where terminals are for 60 °C
    unless declared. ``metal_wireway_most``: conductors in a metal wireway that aren't adjusted; ``channel_least_mm2``: the section
    above which that holds for other metal raceways too; ``thickest_wall_mm``: of one whose wall isn't known. ``short_raceway_mm``: the
    length up to which nothing is adjusted. ``short_part_m``, ``short_part_share``: how long a part of lower ampacity may be that the
    code lets go by the higher one.
    """

    ampacities: Table
    ambient: Table
    adjustment: Table
    insulations: Table
    devices: Table
    continuous: Limit = Field(json_schema_extra={"stricter": "higher"})
    small_14_a: Limit
    small_12_a: Limit
    small_10_a: Limit
    next_size_most_a: Limit
    receptacles_most_a: Limit = Field(json_schema_extra={"stricter": "higher"})
    terminals_small_a: Limit = Field(json_schema_extra={"stricter": "higher"})
    metal_wireway_most: Limit
    channel_least_mm2: Limit = Field(json_schema_extra={"stricter": "higher"})
    thickest_wall_mm: Limit = Field(json_schema_extra={"stricter": "higher"})
    short_raceway_mm: Limit
    short_part_m: Limit
    short_part_share: Limit
