"""The section of a carrier of a model, with the verdicts of a check."""

import difflib
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from checker.checking import code_for
from checker.draw_file import Drawn, safe_name
from checker.earlier_notes import NOTES, opened
from checker.errors import InputError
from checker.found import find
from checker.loosening import in_force, see_time
from checker.model import Carrier, Installation
from checker.model.texts import natural
from checker.pictures import AskedOf
from checker.progress import Progress
from checker.read.installation import read_installation
from checker.read.sources import find_sources
from checker.result.archive import newest_time
from checker.rule.plugins import load_plugins
from checker.section.drawing import sketch_of
from checker.section.view import Way, view_of

#: So many choices are named where a name is of several carriers.
_MOST_CHOICES = 12
#: Where a check leaves its notes, and goes on with them, unless it is told otherwise.
USUAL_NOTES = Path("wayroom-out") / NOTES


@dataclass(frozen=True, slots=True)
class Wanted:
    """What of a model is drawn: the carrier as it is called, one compartment (None: all), with which schedule and code.

    ``previous`` and ``now`` are what a check may be given: earlier notes, whose issues waivers may name, and a time, by which waivers hold.
    """

    where: tuple[Path, ...]
    segment: str
    compartment: int | None = None
    circuits: Path | None = None
    code: str | None = None
    way: Way = field(default_factory=Way)
    previous: Path | None = None
    now: str | None = None


def draw_carrier(wanted: Wanted, progress: Progress | None = None) -> Drawn:
    """Draws a carrier of a model, with the verdicts that ``wayroom check`` has.

    Raises:
        WayroomError: There is no such carrier, nothing could be read, or the time is none.
    """
    see_time(wanted.now)
    progress = progress or Progress()
    plugins = load_plugins()
    sources = find_sources(list(wanted.where), wanted.circuits)
    code, _ = code_for(sources, wanted.code, plugins)
    installation = read_installation(sources, plugins.cables, progress.stage, tuple(plugins.carriers.values()))
    carrier = find_carrier(installation, wanted.segment)
    numbers = [lane.number for lane in carrier.section.lanes]
    if wanted.compartment is not None and wanted.compartment not in numbers:
        what = f"{carrier.place.label} has no compartment {wanted.compartment}"
        raise InputError(
            "--compartment", what, f"it has {len(numbers)}, counted from 1" if len(numbers) > 1 else "it has one"
        )
    time = wanted.now or newest_time(installation.files)
    code, _ = in_force(code, time)
    waivers = [spec.waiver for spec in sources.project.waivers]
    notes = wanted.previous or (USUAL_NOTES if any(one.issue for one in waivers) and USUAL_NOTES.is_file() else None)
    with opened(notes) as data:
        found = find(
            installation, code, plugins, waivers, time, progress, previous=data, previous_name=str(notes or "")
        )
    parts = [part for part in found.loading.compartments if part.carrier.key == carrier.key]
    if wanted.compartment is not None:
        parts = [part for part in parts if part.number == wanted.compartment]
    told = AskedOf(found.answers, [carrier.key])
    asked = {part.number: tuple(told.of(part)) for part in parts}
    progress.stage("drawing")
    view = view_of(carrier, parts, asked, code=code.full_title, way=wanted.way)
    alone = "" if wanted.compartment is None else f"-{wanted.compartment}"
    return Drawn(sketch_of(view), f"{safe_name(carrier.place.label)}{alone}.svg", sources.inputs())


def find_carrier(installation: Installation, name: str) -> Carrier:
    """The carrier of a name: its GlobalId, its tag, or its name.

    Raises:
        InputError: There is none of that name, or several.
    """
    wanted = name.strip()
    for same in (str, str.casefold):
        found = [one for one in installation.carriers if same(wanted) in map(same, _names(one))]
        if len(found) == 1:
            return found[0]
        if found:
            raise InputError("SEGMENT", f"{name!r} is what {len(found)} carriers are called", _choices(found))
    for place, why in installation.left_out:
        if wanted in place.names:
            raise InputError("SEGMENT", f"{name!r} isn't read as a carrier: {why}", "problems.csv of a check says more")
    places = [one.place for one in installation.fittings] + [one.place for one in installation.equipment]
    if any(wanted in place.names for place in places):
        raise InputError(
            "SEGMENT", f"{name!r} is no carrier segment", "only trunking, conduit, trays and ladders have a section"
        )
    known = sorted({label for one in installation.carriers for label in _names(one)}, key=natural)
    close = sorted(difflib.get_close_matches(wanted, known, 5, 0.5), key=natural)
    hint = (
        f"did you mean {', '.join(close)}?"
        if close
        else "name it by its GlobalId, Tag or Name; segments.csv lists them"
    )
    raise InputError("SEGMENT", f"there is no carrier {name!r}", hint)


def _names(carrier: Carrier) -> frozenset[str]:
    return carrier.place.names | {carrier.key}


def _choices(found: Sequence[Carrier]) -> str:
    told = []
    for one in sorted(found, key=lambda one: (natural(one.place.label), one.key)):
        where = f", {one.place.storey}" if one.place.storey else ""
        told.append(f"{one.key} ({one.place.label}{where})")
    more = f" and {len(told) - _MOST_CHOICES} more" if len(told) > _MOST_CHOICES else ""
    return f"name one by its GlobalId: {'; '.join(told[:_MOST_CHOICES])}{more}"
