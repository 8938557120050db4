"""What is added to a model's text for its carriers: instances with numbers and GlobalIds that are free."""

import itertools
from array import array
from collections.abc import Collection, Iterator

from checker.annotate.earlier import PROGRAM
from checker.annotate.facts import Annotation, Fact
from checker.annotate.step_values import global_id, real, short, string
from checker.read.properties import OURS
from checker.result.guids import stable_guid

#: Readers count instances in 32 bits with a sign.
MOST_ID = 2**31 - 1
TEXT_TYPES = frozenset({"IfcLabel", "IfcIdentifier"})


def first_ids(key: str) -> tuple[str, str]:
    """The GlobalIds of a carrier's set and of the relationship that gives it to the carrier."""
    return global_id(stable_guid("annotation", "set", key)), global_id(stable_guid("annotation", "relationship", key))


class Writer:
    """Writes instances with numbers above all that there are, where there is room; else with those that are free.

    Args:
        text: The model.
        about: What each set says of itself.
        used: Numbers in use.
        gone: Those of them that will be free.
        taken: GlobalIds in use, as written, of those that may be made.
        line_end: What ends each line.
    """

    def __init__(
        self, text: bytes, about: str, used: "array[int]", gone: Collection[int], taken: set[bytes], line_end: bytes
    ) -> None:
        self._text, self._about, self._used, self._gone, self._taken = text, about, used, gone, taken
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

    def owner(self, seconds: int) -> str:
        """An owner history of ours."""
        person = self._add("IfcPerson", "$", string("Wayroom"), "$", "$", "$", "$", "$", "$")
        organization = self._add("IfcOrganization", "$", string("Wayroom"), "$", "$", "$")
        user = self._add("IfcPersonAndOrganization", person, organization, "$")
        program = self._add("IfcApplication", organization, string("1"), string("Wayroom, annotation"), string(PROGRAM))
        return self._add("IfcOwnerHistory", user, program, "$", ".NOCHANGE.", "$", "$", "$", str(seconds))

    def annotate(self, number: int, item: Annotation, owner: str) -> None:
        """The set of one carrier, its properties first."""
        of_set, of_relationship = map(self._unique, first_ids(item.key))
        properties = ",".join(self._property(fact) for fact in item.facts if fact.value != "")
        made = self._add("IfcPropertySet", of_set, owner, string(OURS), string(self._about), f"({properties})")
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
