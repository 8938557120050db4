"""Adds a property set for each carrier to a model's text, right before its data end; every byte before stays."""

import hashlib
import re
from array import array
from collections import Counter, defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from checker.annotate.earlier import WHOSE, Known, earlier_spans
from checker.annotate.facts import Annotation
from checker.annotate.instances import MOST_ID, Writer, first_ids
from checker.annotate.step_text import BETWEEN, END, END_SECTION, line_end_of, statements
from checker.errors import InputError

DATA = re.compile(rb"DATA\s*(?:\(|$)")
SIGNATURE = b"SIGNATURE"
#: A signature after the model's end, where the standard has it.
SIGNED = re.compile(BETWEEN + END + BETWEEN + b";" + BETWEEN + SIGNATURE, re.IGNORECASE | re.DOTALL)


@dataclass(frozen=True, slots=True)
class Annotated:
    """A model with its annotations. ``missed``: carriers that have none, since what their GlobalId stands for isn't plain."""

    text: bytes
    carriers: int
    missed: tuple[str, ...]


@dataclass(slots=True)
class _Seen:
    """What a look at a model's statements found. ``places``: instances by GlobalId, as written; ``end``: where the data end.

    ``used``: numbers of instances that can be in the way of ours.
    """

    used: "array[int]" = field(default_factory=lambda: array("I"))
    places: dict[bytes, list[int]] = field(default_factory=lambda: defaultdict(list))
    end: int = -1
    known: Known = field(default_factory=Known)


def annotated(
    text: bytes, where: str, wanted: Sequence[Annotation], *, needs_owner: bool, seconds: int = 0
) -> Annotated:
    """The model with its annotations, those of an earlier time taken out.

    Args:
        text: The model as STEP text.
        where: What messages call it.
        wanted: What to say of which carriers.
        needs_owner: Whether the release wants an owner history with everything (IFC2X3). It is ours: nobody else made what is added.
        seconds: When it was checked, since 1970, for that.

    Raises:
        InputError: It is signed, damaged, or an earlier annotation can't be taken out.
    """
    ids = {item.global_id for item in wanted} | {first for item in wanted for first in first_ids(item.key)}
    seen = _look(text, where, {_plain(name) for name in ids})
    spans = earlier_spans(text, where, seen.known)
    asked = Counter(item.global_id for item in wanted)
    twice = _twice(seen)
    numbered = set() if all(item.global_id for item in wanted) else set(seen.used)
    places: dict[int, Annotation] = {}
    missed = []
    for item in wanted:
        number = _place(item, seen.places, numbered, spans, asked)
        if number is None or number in places or number in twice:
            missed.append(item.label)
        else:
            places[number] = item
    taken = {name for name, numbers in seen.places.items() if any(number not in spans for number in numbers)}
    about = f"{WHOSE}{_digest_without(text, spans)}"
    writer = Writer(text, about, seen.used, spans.keys(), taken, line_end_of(text))
    owner = "$"
    if needs_owner and places:
        kept = sorted(number for number in seen.known.owners() if number not in spans)  # others hold on to it
        owner = f"#{kept[0]}" if kept else writer.owner(seconds)
    for number, item in sorted(places.items()):
        writer.annotate(number, item, owner)
    changes = [*((first, after, b"") for first, after in spans.values()), (seen.end, seen.end, writer.written())]
    return Annotated(b"".join(_changed(text, changes)), len(places), tuple(sorted(missed)))


def see_annotatable(text: bytes, where: str) -> None:
    """Sees that a model can be annotated.

    Raises:
        InputError: It is signed, damaged, or an earlier annotation can't be taken out.
    """
    earlier_spans(text, where, _look(text, where, set()).known)


def is_as_written(text: bytes, where: str) -> bool:
    """Whether a model has annotations, and nothing else of it was changed since they were written.

    Raises:
        InputError: It is no model that can be annotated again.
    """
    seen = _look(text, where, set())
    spans = earlier_spans(text, where, seen.known)
    return seen.known.claims == {_digest_without(text, spans).encode()}


def _digest_without(text: bytes, spans: Mapping[int, tuple[int, int]]) -> str:
    """The SHA-256 of a model's text less what stands at some places."""
    digest = hashlib.sha256()
    for piece in _changed(text, [(first, after, b"") for first, after in spans.values()]):
        digest.update(piece)
    return digest.hexdigest()


def _changed(text: bytes, changes: list[tuple[int, int, bytes]]) -> Iterator[bytes | memoryview]:
    """A text with some pieces, from a byte to before another, replaced by others."""
    whole, at = memoryview(text), 0
    for first, after, instead in sorted(changes):
        yield whole[at:first]
        yield instead
        at = after
    yield whole[at:]


def _look(text: bytes, where: str, wanted: set[bytes]) -> _Seen:
    """Looks at each statement once; ``wanted`` are the GlobalIds whose places are to be known."""
    seen, in_data, is_signed, last = _Seen(), False, False, 0
    for one in statements(text, where):
        last = one.end
        if one.id:
            if one.id <= MOST_ID:
                seen.used.append(one.id)
            if one.first in wanted:
                seen.places[one.first].append(one.id)
            seen.known.note(one)
            continue
        words = one.words
        if in_data and words == END_SECTION:
            seen.end, in_data = one.start, False
        in_data = in_data or DATA.match(words) is not None
        is_signed = is_signed or words == SIGNATURE
    if seen.end < 0:
        raise InputError(
            where, "its data have no end", "export the model again; without --annotate it is checked as it is"
        )
    if is_signed or SIGNED.match(text, last):
        what = "it is signed, and a signature holds for nothing but what was signed"
        raise InputError(where, what, "name a copy without the signature, or leave out --annotate")
    return seen


def _twice(seen: _Seen) -> set[int]:
    """Numbers of those that may be carriers that several instances have."""
    asked = {number for numbers in seen.places.values() for number in numbers}
    return {number for number, times in Counter(number for number in seen.used if number in asked).items() if times > 1}


def _place(
    item: Annotation,
    places: Mapping[bytes, list[int]],
    numbered: Collection[int],
    spans: Collection[int],
    asked: Counter[str],
) -> int | None:
    """The instance that is a carrier; None where several could be. ``numbered`` are those that a carrier may go by the number of."""
    if not item.global_id:  # its key is its number then
        number = item.key.partition("@")[0].removeprefix("#")
        return int(number) if number.isdecimal() and int(number) in numbered else None
    found = [number for number in places.get(_plain(item.global_id), ()) if number not in spans]
    return found[0] if len(found) == 1 and asked[item.global_id] == 1 else None


def _plain(text: str) -> bytes:
    return text.encode("utf-8", "replace")
