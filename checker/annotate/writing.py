"""Adds a property set for each carrier to a model's text, right before its data end; every byte before stays."""

import itertools
import re
from array import array
from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from checker.annotate.earlier import PROGRAM, Known, earlier_spans
from checker.annotate.facts import Annotation, Fact
from checker.annotate.step_text import END_SECTION, line_end_of, statements
from checker.annotate.step_values import global_id, real, short, string
from checker.errors import InputError
from checker.read.properties import OURS
from checker.result.guids import stable_guid

#: Readers count instances in 32 bits with a sign.
MOST_ID = 2**31 - 1
TEXT_TYPES = frozenset({"IfcLabel", "IfcIdentifier"})
#: What a set says of itself to who sees it.
WHOSE = "Written by wayroom check --annotate, which replaces it."
DATA = re.compile(rb"DATA\s*(?:\(|$)")
SIGNED = re.compile(rb"END-ISO-10303-21\s*;\s*SIGNATURE", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Annotated:
    """A model with its annotations. ``missed``: carriers that have none, since what their GlobalId stands for isn't plain."""

    text: bytes
    carriers: int
    missed: tuple[str, ...]


@dataclass(slots=True)
class _Seen:
    """What a look at a model's statements found. ``places``: instances by GlobalId, as written; ``end``: where the data end."""

    used: "array[int]" = field(default_factory=lambda: array("Q"))
    places: dict[bytes, list[int]] = field(default_factory=lambda: defaultdict(list))
    end: int = -1
    known: Known = field(default_factory=Known)


def annotated(text: bytes, where: str, wanted: Sequence[Annotation], *, needs_owner: bool) -> Annotated:
    """The model with its annotations, those of an earlier time taken out.

    Args:
        text: The model as STEP text.
        where: What messages call it.
        wanted: What to say of which carriers.
        needs_owner: Whether the release wants an owner history with everything (IFC2X3).

    Raises:
        InputError: It is signed, damaged, or an earlier annotation can't be taken out.
    """
    ids = {item.global_id for item in wanted} | {first for item in wanted for first in _first_ids(item.key)}
    seen = _look(text, where, {_plain(name) for name in ids})
    spans = earlier_spans(text, where, seen.known)
    asked = Counter(item.global_id for item in wanted)
    numbered = set() if all(item.global_id for item in wanted) else set(seen.used)
    places: dict[int, Annotation] = {}
    missed = []
    for item in wanted:
        number = _place(item, seen.places, numbered, spans, asked)
        if number is None or number in places:
            missed.append(item.label)
        else:
            places[number] = item
    taken = {name for name, numbers in seen.places.items() if any(number not in spans for number in numbers)}
    writer = _Writer(text, seen.used, spans.keys(), taken, line_end_of(text))
    owner = "$"
    if needs_owner and places:
        histories = sorted(seen.known.histories.keys() - spans.keys())
        owner = f"#{histories[0]}" if histories else writer.owner()
    for number, item in sorted(places.items()):
        writer.annotate(number, item, owner)
    changes = [*((first, after, b"") for first, after in spans.values()), (seen.end, seen.end, writer.written())]
    return Annotated(_changed(text, changes), len(places), tuple(sorted(missed)))


def _changed(text: bytes, changes: list[tuple[int, int, bytes]]) -> bytes:
    """A text with some pieces, from a byte to before another, replaced by others."""
    whole, at = memoryview(text), 0
    pieces: list[bytes | memoryview] = []
    for first, after, instead in sorted(changes):
        pieces += [whole[at:first], instead]
        at = after
    return b"".join([*pieces, whole[at:]])


def _look(text: bytes, where: str, wanted: set[bytes]) -> _Seen:
    """Looks at each statement once; ``wanted`` are the GlobalIds whose places are to be known."""
    seen, in_data, last = _Seen(), False, 0
    for one in statements(text, where):
        last = one.end
        if one.id:
            seen.used.append(one.id)
            if one.first in wanted:
                seen.places[one.first].append(one.id)
            seen.known.note(one)
            continue
        words = one.rest.strip().upper()
        if in_data and words == END_SECTION:
            seen.end, in_data = one.start, False
        in_data = in_data or DATA.match(words) is not None
    if seen.end < 0:
        raise InputError(
            where, "its data have no end", "export the model again; without --annotate it is checked as it is"
        )
    if SIGNED.search(text, last):
        what = "it is signed, and a signature holds for nothing but what was signed"
        raise InputError(where, what, "name a copy without the signature, or leave out --annotate")
    return seen


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


def _first_ids(key: str) -> tuple[str, str]:
    """The GlobalIds of a carrier's set and of the relationship that gives it to the carrier."""
    return global_id(stable_guid("annotation", "set", key)), global_id(stable_guid("annotation", "relationship", key))


class _Writer:
    """Writes instances with numbers above all that there are, where there is room; else with those that are free.

    Args:
        text: The model.
        used: Numbers in use.
        gone: Those of them that will be free.
        taken: GlobalIds in use, as written, of those that may be made.
        line_end: What ends each line.
    """

    def __init__(
        self, text: bytes, used: Iterable[int], gone: Collection[int], taken: set[bytes], line_end: bytes
    ) -> None:
        self._text, self._used, self._gone, self._taken = text, used, gone, taken
        self._end = line_end.decode("ascii")
        self._numbers = self._free()
        self._lines: list[str] = []
        self._written: list[bytes] = []

    def _free(self) -> Iterator[int]:
        yield from range(max((number for number in self._used if number not in self._gone), default=0) + 1, MOST_ID + 1)
        used = set(self._used).difference(self._gone)
        yield from (number for number in itertools.count(1) if number not in used)

    def _add(self, word: str, *values: str) -> str:
        number = next(self._numbers)
        self._lines.append(f"#{number}={word.upper()}({','.join(values)});{self._end}")
        return f"#{number}"

    def written(self) -> bytes:
        """All that was added."""
        self._pack()
        return b"".join(self._written)

    def _pack(self) -> None:
        """Keeps lines as one piece: a text of its own for each takes twice the room."""
        self._written.append("".join(self._lines).encode("ascii"))
        self._lines.clear()

    def _unique(self, first: str) -> str:
        """A GlobalId as a value: another one where somebody has copied ours."""
        made, time = first, 1
        while made.encode() in self._taken or (time > 1 and made.encode() in self._text):
            time += 1
            made = global_id(stable_guid("annotation", first, time))
        return string(made)

    def owner(self) -> str:
        """An owner history, for a model without any."""
        person = self._add("IfcPerson", "$", string("Wayroom"), "$", "$", "$", "$", "$", "$")
        organization = self._add("IfcOrganization", "$", string("Wayroom"), "$", "$", "$")
        user = self._add("IfcPersonAndOrganization", person, organization, "$")
        program = self._add("IfcApplication", organization, string("1"), string("Wayroom, annotation"), string(PROGRAM))
        return self._add("IfcOwnerHistory", user, program, "$", ".NOCHANGE.", "$", "$", "$", "0")

    def annotate(self, number: int, item: Annotation, owner: str) -> None:
        """The set of one carrier, its properties first."""
        of_set, of_relationship = map(self._unique, _first_ids(item.key))
        properties = ",".join(self._property(fact) for fact in item.facts if fact.value != "")
        made = self._add("IfcPropertySet", of_set, owner, string(OURS), string(WHOSE), f"({properties})")
        self._add("IfcRelDefinesByProperties", of_relationship, owner, "$", "$", f"(#{number})", made)
        self._pack()

    def _property(self, fact: Fact) -> str:
        if isinstance(fact.value, tuple):
            values = ",".join(_value(fact.measure, value) for value in fact.value)
            return self._add("IfcPropertyListValue", string(fact.name), "$", f"({values})", "$")
        return self._add("IfcPropertySingleValue", string(fact.name), "$", _value(fact.measure, fact.value), "$")


def _value(measure: str, value: object) -> str:
    if isinstance(value, bool):
        text = ".T." if value else ".F."
    elif isinstance(value, int):
        text = str(value)
    elif isinstance(value, float):
        text = real(value)
    else:
        text = string(short(str(value)) if measure in TEXT_TYPES else str(value))
    return f"{measure.upper()}({text})"
