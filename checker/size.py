"""The smallest standard carriers of each family that take a bundle of cables by the code, with what would be next smaller."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace

from checker.errors import InputError
from checker.fit.by_code import ByCode, Judged, by_code, in_own_words
from checker.fit.cables import cable_of
from checker.fit.carriers import carrier_of_type
from checker.fit.geometry import Going, goes_in, proof_against
from checker.fit.subject import compartment_of, run_of
from checker.model import CarrierKind, LoadedCompartment, PlacedCable
from checker.rule import Outcome, worst
from checker.rule.catalogue import CarrierType
from checker.rule.code import Code
from checker.rule.plugins import Plugins

#: The kinds of which there are standard sizes.
KINDS = (CarrierKind.TRUNKING, CarrierKind.CONDUIT, CarrierKind.TRAY, CarrierKind.LADDER)


@dataclass(frozen=True, slots=True)
class SizeQuestion:
    """What is asked: a bundle of cables, ``KEY=COUNT`` or sizes. ``kind`` None: all kinds; ``family``: a part of its name, empty for all.

    ``spare`` and ``space_factor`` are shares, written ``25%`` or ``0.25``.
    """

    code: Code
    cables: tuple[str, ...]
    kind: CarrierKind | None = None
    family: str = ""
    spare: str = ""
    length_m: float | None = None
    bends: float | None = None
    space_factor: str | None = None


@dataclass(frozen=True, slots=True)
class Tried:
    """A carrier of the catalogue with the bundle in it, and the code's answer."""

    carrier: CarrierType
    subject: LoadedCompartment
    judged: Judged

    @property
    def outcome(self) -> Outcome:
        """The code's answer, with the spare that is wanted."""
        return self.judged.outcome

    @property
    def sides_mm(self) -> tuple[float, float]:
        """Width and height outside; of a conduit whose outside isn't known its bore, twice."""
        bore = self.carrier.inside_diameter_mm or 0.0
        width = self.carrier.width_mm or bore
        return width, self.carrier.height_mm or width

    @property
    def order(self) -> tuple[float, float, str]:
        """Smallest first: by outside area, then by width."""
        width, height = self.sides_mm
        return width * height, width, self.carrier.key

    def is_no_larger(self, other: "Tried") -> bool:
        """Whether neither side is larger than the other's."""
        return all(own <= theirs for own, theirs in zip(self.sides_mm, other.sides_mm, strict=True))


@dataclass(frozen=True, slots=True)
class Taken:
    """A carrier that takes the bundle and than which none with both sides no larger does.

    ``smaller`` is the largest of those with both sides no larger, which doesn't take it, or of which that isn't known; None: there is none.
    ``going``: whether a place for all is found in a drawing.
    """

    tried: Tried
    smaller: Tried | None
    going: Going


@dataclass(frozen=True, slots=True)
class Family:
    """What was found in one family of carriers.

    ``taken``: the smallest first. ``largest`` is the largest of the family, which says why where none takes it. ``unknown``: those of
    which it isn't known whether they take it, smallest first.
    """

    kind: CarrierKind
    name: str
    taken: tuple[Taken, ...]
    largest: Tried
    unknown: tuple[Tried, ...]

    @property
    def outcome(self) -> Outcome:
        """``pass``: one takes it; ``fail``: none does; ``unknown``: none is known to, and of some it isn't known."""
        if self.taken:
            return Outcome.PASS
        return Outcome.UNKNOWN if self.unknown else Outcome.FAIL


@dataclass(frozen=True, slots=True)
class SizeAnswer:
    """What is answered, family by family, in the order of kinds and of the catalogue."""

    cables: tuple[PlacedCable, ...]
    families: tuple[Family, ...]
    wants_run: bool

    @property
    def outcome(self) -> Outcome:
        """``pass`` where something takes it, ``fail`` where nothing does, else ``unknown``."""
        found = [family.outcome for family in self.families]
        return Outcome.PASS if Outcome.PASS in found else worst([it for it in found if it is Outcome.UNKNOWN] or found)

    @property
    def exit_status(self) -> int:
        """0: something takes it; 1: nothing does; 3: it can't be said."""
        return {Outcome.PASS: 0, Outcome.FAIL: 1}.get(self.outcome, 3)


def size(question: SizeQuestion, plugins: Plugins) -> SizeAnswer:
    """Answers a question.

    Raises:
        InputError: It is asked wrongly.
    """
    kinds = KINDS if question.kind is None else (question.kind,)
    cables = tuple(cable_of("--cable", text, plugins.cables, plugins.carriers) for text in question.cables)
    if not cables:
        raise InputError("--cable", "no cable is named", "say --cable KEY=COUNT; see: wayroom list cables")
    if CarrierKind.CONDUIT not in kinds and (question.length_m is not None or question.bends is not None):
        raise InputError("--length, --bends", f"they are for conduit, and --kind is {question.kind}", "leave them out")
    code = by_code(question.code, plugins, kinds, question.space_factor, question.spare)
    wanted = question.family.strip().casefold()
    families: dict[tuple[CarrierKind, str], list[Tried]] = defaultdict(list)
    for item in plugins.carriers.values():
        kind = CarrierKind(item.kind)
        is_usual = not item.codes or any(one.key in item.codes for one in question.code.chain)
        if kind in kinds and (wanted in item.family.casefold() if wanted else is_usual):
            families[kind, item.family].append(_tried(code, item, cables, question))
    if not families:
        known = sorted({item.family for item in plugins.carriers.values() if CarrierKind(item.kind) in kinds})
        if not known:
            raise InputError("--kind", f"the catalogue has no {question.kind}", "ask about another kind")
        raise InputError(
            "--family", f"no family is called {question.family!r}", f"one of: {', '.join(map(repr, known))}"
        )
    order = {kind: place for place, kind in enumerate(KINDS)}
    found = sorted(families.items(), key=lambda entry: order[entry[0][0]])
    return SizeAnswer(
        cables,
        tuple(_family(kind, name, tried) for (kind, name), tried in found),
        CarrierKind.CONDUIT in kinds and (question.length_m is None or question.bends is None),
    )


def _tried(code: ByCode, item: CarrierType, cables: tuple[PlacedCable, ...], question: SizeQuestion) -> Tried:
    carrier = carrier_of_type(item)
    run = run_of(carrier, question.length_m, question.bends, strict=False)
    subject = compartment_of(carrier, code.code, cables, run)
    judged = code.judged(subject)
    if judged.outcome is Outcome.PASS:
        judged = judged.unless(proof_against(subject))
    spare = None if judged.spare is None else in_own_words(judged.spare)
    return Tried(item, subject, replace(judged, fill=in_own_words(judged.fill), spare=spare))


def _family(kind: CarrierKind, name: str, tried: Iterable[Tried]) -> Family:
    ordered = sorted(tried, key=lambda one: one.order)
    passing = [one for one in ordered if one.outcome is Outcome.PASS]
    smallest = [one for one in passing if not any(it.order < one.order and it.is_no_larger(one) for it in passing)]
    taken = tuple(Taken(one, _next_smaller(one, ordered), goes_in(one.subject)) for one in smallest)
    return Family(kind, name, taken, ordered[-1], tuple(one for one in ordered if one.outcome is Outcome.UNKNOWN))


def _next_smaller(one: Tried, ordered: list[Tried]) -> Tried | None:
    """The largest of those with both sides no larger; none of them passes, since of two such the smaller would be the one that is taken."""
    return next((it for it in reversed(ordered) if it.order < one.order and it.is_no_larger(one)), None)
