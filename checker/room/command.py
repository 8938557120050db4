"""The command ``wayroom room``: its options made a question, the answer printed."""

import gc
import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from checker.read.sources import find_sources
from checker.room.answering import answer
from checker.room.objects import as_object
from checker.room.question import RoomQuestion, also_of
from checker.room.text import as_text
from checker.run import shown_progress


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


def run_room(options: RoomOptions, *, as_json: bool) -> int:
    """Answers, and prints the answer. The collector of cycles is off meanwhile, as in a run of a check.

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
    was_on = gc.isenabled()
    gc.disable()
    try:
        with shown_progress(quiet=as_json) as progress:
            found = answer(question, progress)
    finally:
        if was_on:
            gc.enable()
    text = json.dumps(as_object(found), ensure_ascii=False, indent=1) if as_json else as_text(found)
    print(text)  # noqa: T201 - this is the output
    return found.exit_status
