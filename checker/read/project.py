"""Reads ``wayroom.toml``, the project file."""

import hashlib
import tomllib
from collections.abc import Iterable
from pathlib import Path
from typing import Literal

from pydantic import Field, ValidationError, model_validator

from checker.errors import InputError, ProjectFileError
from checker.model import Laying, Place, Service, Surroundings
from checker.model.words import wildcard
from checker.read.mapping import ClassSpec, IgnoreSpec, Part, PropertySpec, Quantity
from checker.read.project_cables import CableSpec
from checker.read.project_fittings import FittingSpec
from checker.read.project_loosened import LoosenedSpec
from checker.read.project_notes import NotesSpec
from checker.read.project_schedule import ScheduleSpec
from checker.read.project_spans import Spanned
from checker.read.project_waivers import WaiverSpec
from checker.read.project_ways import ClosedSpec, LengthsSpec, RedundantSpec, RoutingSpec, WaySpec

FILE_NAME = "wayroom.toml"
#: What a user is told of the commonest mistakes.
SAID = {
    "extra_forbidden": "there is no such key",
    "missing": "it is missing",
    "string_type": "it must be a text, in quotes",
    "tuple_type": "it must be a list: in [ ], or with [[ ]] around its header",
    "list_type": "it must be a list: in [ ], or with [[ ]] around its header",
    "dict_type": "it must be a table with keys of its own",
    "model_type": "it must be a table with keys of its own",
    "float_type": "it must be a number, without quotes",
    "float_parsing": "it must be a number, without quotes",
    "int_type": "it must be a whole number, without quotes",
    "int_parsing": "it must be a whole number, without quotes",
    "int_from_float": "it must be a whole number",
    "bool_type": "it must be true or false",
    "bool_parsing": "it must be true or false",
    "date_type": "it must be a day, as 2027-06-30, without quotes",
    "date_from_datetime_parsing": "it must be a day, as 2027-06-30, without quotes",
    "date_from_datetime_inexact": "it must be a day, as 2027-06-30, without a time",
    "string_too_short": "it is empty",
    "string_pattern_mismatch": "it is empty",
    "greater_than": "it is {input}, and must be more than {gt:g}",
    "greater_than_equal": "it is {input}, and must be {ge:g} or more",
    "less_than": "it is {input}, and must be less than {lt:g}",
    "less_than_equal": "it is {input}, and must be {le:g} or less",
}
#: No carrier is wider.
MOST_MM = 3000.0
#: No carrier is supported more rarely, and none bears or weighs more: what is written beyond is in another unit.
MOST_SPAN_M, MOST_KG_PER_M = 20.0, 2000.0
#: More compartments than this is a mistake, wherever it stands.
MOST_COMPARTMENTS = 50


class Head(Part):
    """``[project]``: which models, which schedule, which code; ``revision`` and ``status`` of the documents, as the project names them."""

    key: str = ""
    name: str = ""
    models: tuple[str, ...] = ()
    schedule: str = ""
    code: str = ""
    reach_m: float = Field(default=3.0, gt=0, le=1000)
    revision: str = ""
    status: str = ""


class LaneSpec(Part):
    """One compartment of a type: its inside width, and the services that it is for (none given: any)."""

    width_mm: float | None = Field(default=None, gt=0)
    services: tuple[Service, ...] | None = None


class TypeSpec(Part):
    """``[[types]]``: how carriers of a type are to be read. ``*`` and ``?`` in ``name`` are wildcards; see ``names_of``."""

    name: str
    width_mm: float | None = Field(default=None, gt=0, le=MOST_MM)
    height_mm: float | None = Field(default=None, gt=0, le=MOST_MM)
    diameter_mm: float | None = Field(default=None, gt=0, le=MOST_MM)
    bore_mm: float | None = Field(default=None, gt=0, le=MOST_MM)
    wall: Spanned | None = Field(default=None, alias="wall_mm")
    divider_mm: float | None = Field(default=None, ge=0)
    usable_depth_mm: float | None = Field(default=None, gt=0)
    count: int | None = Field(default=None, ge=1, le=MOST_COMPARTMENTS)
    compartments: tuple[LaneSpec, ...] = ()
    installed: Surroundings | None = None
    perforated: bool | None = None
    single_layer: bool | None = None
    tiers: int | None = Field(default=None, ge=1, le=20)
    span_m: float | None = Field(default=None, gt=0, le=MOST_SPAN_M)
    safe_load_kg_per_m: float | None = Field(default=None, gt=0, le=MOST_KG_PER_M)
    mass_kg_per_m: float | None = Field(default=None, ge=0, le=MOST_KG_PER_M)
    access: Literal["open", "closed"] | None = None

    def fits(self, names: Iterable[str]) -> bool:
        """Whether it speaks of a carrier that is found by one of these names."""
        return any(wildcard(self.name).fullmatch(name) for name in names)

    @property
    def wall_mm(self) -> float | None:
        """The wall where it is one figure; None: it isn't given, or as a range."""
        return None if self.wall is None or self.wall.is_range else self.wall.most

    @property
    def wall_range_mm(self) -> tuple[float, float] | None:
        """Between what the wall lies, where that is a range."""
        return (self.wall.least, self.wall.most) if self.wall is not None and self.wall.is_range else None

    @property
    def laying(self) -> Laying:
        """What it declares of how cables lie."""
        return Laying(
            installed=self.installed,
            perforated=self.perforated,
            single_layer=self.single_layer,
            tiers=self.tiers,
            span_m=self.span_m,
            safe_load_kg_per_m=self.safe_load_kg_per_m,
            mass_kg_per_m=self.mass_kg_per_m,
            can_be_reopened=None if self.access is None else self.access == "open",
        )

    @model_validator(mode="after")
    def _one_way(self) -> "TypeSpec":
        if self.count is not None and self.compartments:
            raise ValueError("give either count or compartments")
        widths = [lane.width_mm for lane in self.compartments]
        if len(widths) > 1 and None in widths and any(width is not None for width in widths):
            raise ValueError("give the width_mm of every compartment, or of none")
        is_round = self.diameter_mm is not None or self.bore_mm is not None
        if is_round and (self.width_mm is not None or self.height_mm is not None):
            raise ValueError("give width_mm and height_mm, or diameter_mm and bore_mm")
        if self.diameter_mm is not None and self.bore_mm is not None and self.bore_mm > self.diameter_mm:
            raise ValueError("bore_mm is more than diameter_mm")
        return self


class TerminationSpec(Part):
    """``[[terminations]]``: what terminals are made for. ``name`` is the equipment's in the schedule; ``*`` and ``?`` are wildcards."""

    name: str
    temperature_c: float = Field(ge=60, le=150)


class RatingSpec(Part):
    """``[rating]``: what the designer declares of the circuits' loads, with the ``reason``."""

    not_overloaded_together: bool = False
    reason: str = ""

    @model_validator(mode="after")
    def _says_why(self) -> "RatingSpec":
        if self.not_overloaded_together and not self.reason.strip():
            raise ValueError("give a reason: it is printed with every rating that it touches")
        return self


class Project(Part):
    """The whole file. ``limits`` is rule id → limit → figure, with a ``reason``."""

    project: Head = Head()
    types: tuple[TypeSpec, ...] = ()
    properties: tuple[PropertySpec, ...] = ()
    classes: tuple[ClassSpec, ...] = ()
    ignore: tuple[IgnoreSpec, ...] = ()
    cables: tuple[CableSpec, ...] = ()
    terminations: tuple[TerminationSpec, ...] = ()
    rating: RatingSpec = RatingSpec()
    schedule: ScheduleSpec = ScheduleSpec()
    fittings: tuple[FittingSpec, ...] = ()
    routing: RoutingSpec = RoutingSpec()
    closed: tuple[ClosedSpec, ...] = ()
    ways: tuple[WaySpec, ...] = ()
    redundant: tuple[RedundantSpec, ...] = ()
    lengths: LengthsSpec = LengthsSpec()
    notes: NotesSpec = NotesSpec()
    limits: dict[str, dict[str, float | str]] = Field(default_factory=dict)
    loosened: tuple[LoosenedSpec, ...] = ()
    waivers: tuple[WaiverSpec, ...] = ()

    def mapped(self, quantity: Quantity) -> tuple[PropertySpec, ...]:
        """The entries for a quantity, in the order of the file."""
        return tuple(spec for spec in self.properties if spec.quantity is quantity)

    def type_spec(self, *names: str) -> TypeSpec | None:
        """The first entry of ``[[types]]`` that matches one of the names by which entries find a carrier; see ``names_of``."""
        return next((spec for spec in self.types if spec.fits(names)), None)


def names_of(type_name: str, place: Place) -> tuple[str, ...]:
    """The names by which entries of ``[[types]]`` find a carrier: its type's; of one without a type its own, and its tag."""
    return (type_name,) if type_name else ("", *dict.fromkeys((place.mark, place.name, place.tag)))


def read_project(path: Path) -> tuple[Project, str]:
    """Reads a project file.

    Returns:
        The project, and the SHA-256 of the file.

    Raises:
        InputError: The file can't be read.
        ProjectFileError: It isn't TOML, or a key or value is wrong; the message names line and key.
    """
    try:
        data = path.read_bytes()
        text = data.decode("utf-8-sig")
    except OSError as error:
        raise InputError(
            str(path), f"it can't be read: {error.strerror}", "check the name and the permissions"
        ) from error
    except UnicodeDecodeError as error:
        raise ProjectFileError(str(path), f"it isn't UTF-8 text: {error.reason}", "save it as UTF-8") from error
    try:
        return Project.model_validate(tomllib.loads(text)), hashlib.sha256(data).hexdigest()
    except tomllib.TOMLDecodeError as error:
        raise ProjectFileError(str(path), f"it isn't TOML: {error}", "mend the line that the message names") from error
    except ValidationError as error:
        errors = error.errors()
        first = errors[0]
        place = ".".join(str(part + 1) if isinstance(part, int) else part for part in first["loc"])
        line = _line_of(text, first["loc"])
        what = SAID.get(first["type"], first["msg"].removeprefix("Value error, ").replace("{", "{{").replace("}", "}}"))
        what = what.format_map({**first.get("ctx", {}), "input": first["input"]})
        more = f" (and {len(errors) - 1} more)" if len(errors) > 1 else ""
        raise ProjectFileError(
            f"{path}, line {line}" if line else str(path),
            f"{place}: {what}{more}",
            "see the keys in README.md, section wayroom.toml",
        ) from error


def _line_of(text: str, place: tuple[int | str, ...]) -> int | None:
    """The line where a key stands: each name of the place is sought after the one before, each number skips array headers."""
    lines = text.splitlines()
    at = -1
    for position, part in enumerate(place):
        if isinstance(part, int):
            header = f"[[{place[position - 1]}]]"
            found = [number for number, line in enumerate(lines) if line.strip().startswith(header)]
            at = found[part] if part < len(found) else at
            continue
        at = next((number for number in range(max(at, 0), len(lines)) if _names(lines[number], part)), at)
    return at + 1 if at >= 0 else None


def _names(line: str, key: str) -> bool:
    bare = line.split("#", 1)[0]
    return any(
        token.strip(" []{}\t").strip("\"'") == key for token in bare.replace("=", ",").replace(".", ",").split(",")
    ) or (f'"{key}"' in bare or bare.strip().startswith(f"[{key}"))
