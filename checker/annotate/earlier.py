"""What earlier annotations left in a model, to be taken out before it is annotated again.

A set is ours by its name alone: another program may have given it another number, another place in the file, or copied it with its element.
"""

import re
from collections import defaultdict
from dataclasses import dataclass, field

from checker.annotate.step_text import BETWEEN, Statement, after_line_end, statements
from checker.errors import InputError
from checker.model.texts import listed
from checker.read.properties import OURS

#: What an owner history of ours names as its program. Only models that have no owner history and need one get it.
PROGRAM = "wayroom-annotate"
REL, SET = b"IFCRELDEFINESBYPROPERTIES", b"IFCPROPERTYSET"
HISTORY, APPLICATION, USER = b"IFCOWNERHISTORY", b"IFCAPPLICATION", b"IFCPERSONANDORGANIZATION"
#: From after a set's first value to its name.
NAMED_OURS = re.compile(
    BETWEEN + rb"," + BETWEEN + rb"(?:\$|\*|#\d++)" + BETWEEN + rb"," + BETWEEN + b"'" + OURS.encode() + b"'",
    re.DOTALL,
)
OF_OURS = re.compile(rb"'" + re.escape(PROGRAM.encode()) + rb"'\s*\)\s*$")
#: The last value of a relationship, if it is one reference and nothing more.
LAST = re.compile(rb",\s*#(\d++)\s*\)\s*$")


@dataclass(slots=True)
class Known:
    """What a first look at a model's statements found that may be of an earlier annotation, by id with what it refers to."""

    sets: dict[int, list[int]] = field(default_factory=dict)
    histories: dict[int, list[int]] = field(default_factory=dict)
    users: dict[int, list[int]] = field(default_factory=dict)
    programs: dict[int, list[int]] = field(default_factory=dict)

    def note(self, statement: Statement) -> None:
        """Looks at one statement."""
        if statement.word == SET:
            if NAMED_OURS.match(statement.rest):
                self.sets[statement.id] = statement.references
        elif statement.word == HISTORY:
            self.histories[statement.id] = statement.references
        elif statement.word == USER:
            self.users[statement.id] = statement.references
        elif statement.word == APPLICATION and OF_OURS.search(statement.rest):
            self.programs[statement.id] = statement.references

    def chain(self) -> list[list[int]]:
        """Owner histories of ours and what only they may need, in the order in which one holds the next."""
        histories = [number for number, parts in self.histories.items() if self.programs.keys() & parts]
        held = [part for number in histories for part in self.histories[number]]
        users = [part for part in held if part in self.users]
        last = [part for number in (*users, *self.programs) for part in (self.users | self.programs)[number]]
        return [histories, [*users, *self.programs], last]


def earlier_spans(text: bytes, where: str, known: Known) -> dict[int, tuple[int, int]]:
    """Where the instances of earlier annotations stand, by id: first byte, and the one after the last with its line end.

    Args:
        text: The model.
        where: What messages call it.
        known: What a look at all its statements found.

    Raises:
        InputError: A set of ours is used by what isn't ours, which would have to be changed.
    """
    if not known.sets:
        return {}
    chain = known.chain()
    sets = known.sets.keys()
    properties = [part for parts in known.sets.values() for part in parts if part not in known.histories]
    watched = sets | set(properties).union(*chain)
    holders: defaultdict[int, set[int]] = defaultdict(set)
    spans: dict[int, tuple[int, int]] = {}
    rels: set[int] = set()
    for one in statements(text, where):
        references = one.references
        for number in references:
            if number in watched:
                holders[number].add(one.id)
        is_rel = one.word == REL and not sets.isdisjoint(references) and _is_plain_rel(one, known)
        if is_rel:
            rels.add(one.id)
        if is_rel or one.id in watched:
            spans[one.id] = (one.start, after_line_end(text, one.end))
    others = sorted({user for number in sets for user in holders[number] - rels})
    if others:
        what = f"a property set {OURS} in it is used by what wayroom didn't write: {listed([f'#{n}' for n in others])}"
        raise InputError(
            where, what, "take the set out in the program that wrote that, or annotate the model without it"
        )
    gone = sets | rels
    for numbers in (properties, *chain):
        gone |= {number for number in numbers if number in spans and holders[number] <= gone}
    return {number: spans[number] for number in gone}


def _is_plain_rel(one: Statement, known: Known) -> bool:
    """Whether it does nothing but give a set of ours to elements."""
    last = LAST.search(one.rest)
    return last is not None and int(last[1]) in known.sets
