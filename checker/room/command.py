"""The command ``wayroom room``: its options made a question, the answer printed."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from checker.errors import InputError
from checker.read.sources import find_sources
from checker.room.answering import answer
from checker.room.objects import as_object
from checker.room.question import RoomQuestion, also_of
from checker.room.text import as_text
from checker.run import shown_progress, uncollected


@dataclass(frozen=True, slots=True)
class RoomOptions:
    """What the command was given. ``columns`` are texts by column of the schedule; empty: not given."""

    where: tuple[Path, ...]
    origin: str
    call: str
    cables: tuple[str, ...]
    times: int | None
    circuits: Path | None
    code: str | None
    columns: Mapping[str, str]
    also: tuple[str, ...]
    avoid: tuple[str, ...]
    via: tuple[str, ...]


def places_of(given: Sequence[str]) -> tuple[tuple[Path, ...], str, str]:
    """What is written before the options: the models, and the two ends.

    Raises:
        InputError: One of them is missing.
    """
    if len(given) >= 3:
        return tuple(map(Path, given[:-2])), given[-2], given[-1]
    missing = {0: "WHERE, FROM and TO are missing", 1: "FROM and TO are missing", 2: "TO is missing"}[len(given)]
    if len(given) == 2 and not Path(given[0]).exists():
        missing = f"one of WHERE, FROM and TO is missing, and there is no file or folder {given[0]!r}"
    hint = "write: wayroom room WHERE FROM TO, as wayroom room model.ifc DB-1 S-12 --cable h07v-u-2.5=3"
    raise InputError("wayroom room", missing, hint)


def run_room(options: RoomOptions, *, as_json: bool) -> int:
    """Answers, and prints the answer.

    Returns:
        The exit status.

    Raises:
        WayroomError: It is asked wrongly, or nothing can be read.
    """
    columns = [(name, text) for name, text in options.columns.items() if text.strip()]
    question = RoomQuestion(
        find_sources(list(options.where), options.circuits),
        options.origin,
        options.call,
        options.cables,
        options.code,
        options.times,
        (*columns, *also_of(options.also)),
        options.avoid,
        options.via,
    )
    with uncollected(), shown_progress(quiet=as_json) as progress:
        found = answer(question, progress)
    text = json.dumps(as_object(found), ensure_ascii=False, indent=1) if as_json else as_text(found)
    print(text)  # noqa: T201 - this is the output
    return found.exit_status
