"""What a drawing of a section shows: the carrier, its compartments, every cable in its place, and what the rules say. No pixels yet."""

from dataclasses import dataclass
from enum import StrEnum

from checker.model import CarrierKind, Service
from checker.rule import Outcome, Verdict
from checker.section.shapes import Body, Inside, Placed

OPEN = frozenset({CarrierKind.TRAY, CarrierKind.LADDER})
#: More cables than this aren't drawn in one compartment; a drawing of them would tell nobody more.
MOST_DRAWN = 400


@dataclass(frozen=True, slots=True)
class Bundle:
    """Cables that are alike: of one circuit, of one kind. ``body`` None: they aren't drawn, and ``why`` says why.

    ``metal_mm2`` is the area of one conductor; None: not known. ``is_possible``: they may lie here, and aren't drawn for that.
    ``of_circuit``: they are a circuit's, which has a service, known or not; else of a list of cables, which has none.
    """

    mark: str
    service: Service | None
    key: str
    count: int | None
    body: Body | None
    cores: int | None = None
    metal_mm2: float | None = None
    is_aluminium: bool = False
    size: str = ""
    why: str = ""
    is_possible: bool = False
    of_circuit: bool = True

    @property
    def words(self) -> str:
        """Mark, number, kind and size, as a legend says it."""
        many = "an unknown number of" if self.count is None else f"{self.count} ×"
        kind = self.key or self.size or "cables"
        mark = self.mark if self.mark != kind else ""
        size = self.size if self.size.replace(" ", "").replace("×", "x") != kind.replace(" ", "") else ""
        return ", ".join(part for part in (mark, f"{many} {kind}", size) if part)


@dataclass(frozen=True, slots=True)
class Asked:
    """What a rule answered about a compartment. ``tells_fill``: it says how full that is. ``about``: what else it is about."""

    rule: str
    verdict: Verdict
    tells_fill: bool = True
    about: str = ""


@dataclass(frozen=True, slots=True)
class LaneView:
    """One compartment.

    Attributes:
        number: Of the compartment, from 1.
        inside: Its shape; None: not known, and nothing in it is drawn.
        is_side_known: Whether the height of a tray's sides is known, or only drawn.
        bundles: What lies in it, and what may, in the order of their marks, what may lie there last.
        drawn: The bundle of each body that was to be placed.
        placed: Where bodies lie.
        way: How they came to lie so, in a sentence.
        cautions: What else is to be said of the drawing.
        asked: What the rules answered, that of fill first.
        room: How much room is left by the limit, in words; empty: that can't be said.
    """

    number: int
    inside: Inside | None
    is_side_known: bool = True
    bundles: tuple[Bundle, ...] = ()
    drawn: tuple[int, ...] = ()
    placed: tuple[Placed, ...] = ()
    way: str = ""
    cautions: tuple[str, ...] = ()
    asked: tuple[Asked, ...] = ()
    room: str = ""

    @property
    def fill(self) -> Verdict | None:
        """What the rule of fill answered."""
        return next((one.verdict for one in self.asked if one.tells_fill), None)


@dataclass(frozen=True, slots=True)
class SectionView:
    """What is drawn: ``title`` and ``size`` in words, the outside in mm (None: not known), and the compartments from the left."""

    title: str
    size: str
    kind: CarrierKind
    lanes: tuple[LaneView, ...]
    outside_mm: tuple[float, float] | None = None
    code: str = ""
    notes: tuple[str, ...] = ()


class Look(StrEnum):
    """How long places are looked for: a drawing that is asked for is worth seconds, one of many in a report isn't."""

    LONG = "long"
    SHORT = "short"  # dropped in once
    ROWS = "rows"  # laid in rows, which takes milliseconds


@dataclass(frozen=True, slots=True)
class Way:
    """How cables are laid for a drawing: the best that is found, or as they fall in by hand.

    ``seed`` says in which disorder, ``trials`` how often; of several the one in the middle is drawn, and all are told of.
    """

    as_laid: bool = False
    seed: int = 0
    trials: int = 1
    look: Look = Look.LONG


def outcome_word(outcome: Outcome) -> str:
    """A verdict as what follows its subject in a sentence."""
    return {Outcome.PASS: "passes", Outcome.FAIL: "fails", Outcome.WAIVED: "is waived"}.get(outcome, "can't tell")
