"""What earlier annotations left in a model, to be taken out before it is annotated again.

A set is ours by its name and by the names of what it holds: another program may have given it another number, another GlobalId, another
place in the file, or copied it with its element. One of that name that holds anything else is somebody's, and is never taken out.
"""

import re
from collections import defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from checker.annotate.facts import ALWAYS, NAMES
from checker.annotate.step_text import BETWEEN, Statement, after_line_end, statements
from checker.errors import InputError
from checker.model.texts import listed
from checker.read.properties import OURS

#: What an owner history of ours names as its program. Only models of releases that need one get it.
PROGRAM = "wayroom-annotate"
REL, SET = b"IFCRELDEFINESBYPROPERTIES", b"IFCPROPERTYSET"
HISTORY, APPLICATION, USER = b"IFCOWNERHISTORY", b"IFCAPPLICATION", b"IFCPERSONANDORGANIZATION"
#: In IFC2X3 documents and the like can be given to anything that has a GlobalId.
ASSOCIATES = b"IFCRELASSOCIATES"
#: From after the first part of a set's first value, or from that where it is no string, to its name.
_NONE_OR_ONE = rb"(?:\$|\*|#\d++)"
NAMED_OURS = re.compile(
    (rb"(?:~\(~[$*]|(?:'[^']*+')++)?+~,~" + _NONE_OR_ONE + rb"~,~'" + OURS.encode() + rb"'(?!')").replace(
        b"~", BETWEEN
    ),
    re.DOTALL,
)
OF_OURS = re.compile(rb"'" + re.escape(PROGRAM.encode()) + rb"'\s*\)\s*$")
#: The last value of a relationship, if it is one reference and nothing more.
LAST = re.compile(rb",\s*#(\d{1,18})\s*\)\s*$")
#: What a set says of itself to who sees it, and what it says there of the model, so that a later run knows whether others changed it.
WHOSE = (
    "Written by wayroom check --annotate, which replaces it. Of the model whose text without such sets has the SHA-256 "
)
CLAIM = re.compile(re.escape(WHOSE.encode()) + rb"([0-9a-f]{64})'")
WITHOUT = "rename it, or move what is yours into a set of its own; without --annotate the model is checked as it is"


@dataclass(slots=True)
class Known:
    """What a first look at a model's statements found that may be of an earlier annotation, by id with what it refers to.

    ``claims`` are the SHA-256 that sets name, empty of one that names none.
    """

    sets: dict[int, list[int]] = field(default_factory=dict)
    histories: dict[int, list[int]] = field(default_factory=dict)
    users: dict[int, list[int]] = field(default_factory=dict)
    programs: dict[int, list[int]] = field(default_factory=dict)
    claims: set[bytes] = field(default_factory=set)

    def note(self, statement: Statement) -> None:
        """Looks at one statement."""
        if statement.word == SET:
            if NAMED_OURS.match(statement.rest):
                self.sets[statement.id] = statement.references
                claim = CLAIM.search(statement.rest)
                self.claims.add(claim[1] if claim else b"")
        elif statement.word == HISTORY:
            self.histories[statement.id] = statement.references
        elif statement.word == USER:
            self.users[statement.id] = statement.references
        elif statement.word == APPLICATION and OF_OURS.search(statement.rest):
            self.programs[statement.id] = statement.references

    def owners(self) -> list[int]:
        """Owner histories of ours."""
        return [number for number, parts in self.histories.items() if self.programs.keys() & parts]

    def chain(self) -> list[list[int]]:
        """Owner histories of ours and what only they may need, in the order in which one holds the next."""
        histories = self.owners()
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
        InputError: A set of our name is somebody's, or is used by what isn't ours, which would have to be changed.
    """
    if not known.sets:
        return {}
    chain = known.chain()
    properties = {part for held in known.sets.values() for part in held if part not in known.histories}
    use = _Use(known.sets, properties, properties.union(known.sets, *chain))
    for one in statements(text, where):
        if use.note(one):
            if one.id in use.spans:
                what = f"two instances have the number #{one.id}, which an earlier annotation has"
                raise InputError(where, what, "export the model again; without --annotate it is checked as it is")
            use.spans[one.id] = (one.start, after_line_end(text, one.end))
    _see_ours(known, use.names, where)
    _see_unused(use.by_others(), where)
    gone = known.sets.keys() | use.rels
    for numbers in (properties, *chain):
        gone |= {number for number in numbers if number in use.spans and use.holders[number] <= gone}
    return {number: use.spans[number] for number in gone}


@dataclass(slots=True)
class _Use:
    """What another look found of those that may go, which are ``watched``: who refers to them, where they stand, their names.

    ``rels`` give a set of ours to elements and do nothing else; ``associated``: what other things are given to, by whom.
    """

    sets: Collection[int]
    properties: Collection[int]
    watched: Collection[int]
    holders: defaultdict[int, set[int]] = field(default_factory=lambda: defaultdict(set))
    spans: dict[int, tuple[int, int]] = field(default_factory=dict)
    names: dict[int, str] = field(default_factory=dict)
    rels: set[int] = field(default_factory=set)
    associated: dict[int, int] = field(default_factory=dict)

    def note(self, one: Statement) -> bool:
        """Looks at one statement; whether it may go."""
        references = one.references
        for number in references:
            if number in self.watched:
                self.holders[number].add(one.id)
        if one.id in self.properties:
            self.names[one.id] = _name(one)
        if one.word == REL:
            last = LAST.search(one.rest)
            if last is not None and int(last[1]) in self.sets:
                self.rels.add(one.id)
                return True
        elif one.word.startswith(ASSOCIATES):
            self.associated |= dict.fromkeys(references, one.id)
        return one.id in self.watched

    def by_others(self) -> set[int]:
        """What isn't ours and uses a set of ours or what gives it to elements."""
        of_sets = {number for key in self.sets for number in self.holders[key]}
        return (of_sets - self.rels) | {self.associated[number] for number in self.rels & self.associated.keys()}


def _name(one: Statement) -> str:
    """A property's name; one with an apostrophe is no name of ours, and is told by what stands before that."""
    text = one.first.decode("utf-8", "replace")
    return f"{text}'…" if one.rest.startswith(b"'") else text


def _see_ours(known: Known, names: Mapping[int, str], where: str) -> None:
    """Sees that sets of our name hold what we write and nothing that a person may have put there."""
    for number, parts in sorted(known.sets.items()):
        told = [names.get(part, "") for part in parts if part not in known.histories]
        theirs = sorted({name or "a property without a name" for name in told if not NAMES.fullmatch(name)})
        if theirs:
            what = f"its property set {OURS} (#{number}) has what wayroom doesn't write: {listed(theirs)}"
            raise InputError(where, what, WITHOUT)
        if ALWAYS not in told:
            what = f"wayroom didn't write its property set {OURS} (#{number}): it has no {ALWAYS}"
            raise InputError(where, what, WITHOUT)


def _see_unused(others: Collection[int], where: str) -> None:
    if others:
        what = f"a property set {OURS} in it is used by what wayroom didn't write: {listed([f'#{n}' for n in sorted(others)])}"
        raise InputError(
            where, what, "take the set out in the program that wrote that, or annotate the model without it"
        )
