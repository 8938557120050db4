"""What the rating rule reads from a code."""

from pydantic import Field

from checker.rule import EASES_OVERLOAD, ONLY_A_CODES, SHARE, Limit, Limits, Table


class RatingLimits(Limits):
    """Tables and figures of ratings.

    ``load_share``: the part of its capacity that a circuit's load may take. ``light_share``: the part of its own grouped rating up to which
    a circuit is left out for the others. ``adjacent_sizes``: how many adjacent sizes a group may span. ``ring_leg_a``: what each leg of a
    ring must carry whose device is from ``ring_device_least_a`` to ``ring_device_a``. ``overload_term``: the figure in the formula for
    circuits that aren't overloaded together, where the code has one.
    """

    base_ratings: Table
    ambient: Table
    bunched: Table
    multicore_layers: Table
    single_core_layers: Table
    harmonics: Table
    insulations: Table
    sizes: Table
    load_share: Limit = Field(json_schema_extra=SHARE)
    light_share: Limit = Field(json_schema_extra=SHARE)
    adjacent_sizes: Limit
    ring_leg_a: Limit | None = Field(default=None, json_schema_extra={"stricter": "higher", **ONLY_A_CODES})
    ring_device_a: Limit | None = Field(default=None, json_schema_extra=ONLY_A_CODES)
    ring_device_least_a: Limit | None = Field(default=None, json_schema_extra={"stricter": "higher", **ONLY_A_CODES})
    overload_term: Limit | None = Field(
        default=None, json_schema_extra={"stricter": "higher", **ONLY_A_CODES, **EASES_OVERLOAD}
    )
