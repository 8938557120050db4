"""The carriers in which a model draws cables that no circuit of the schedule owns: what lies there isn't known.

Such a cable isn't counted, not even where its size is known: one line often stands for all the cables of a circuit, and nothing says how
many they are, nor for which service or load. So it makes a carrier unknown, never fuller.
"""

import math
from collections import defaultdict
from dataclasses import dataclass

from checker.model import Carrier, Installation, Problem
from checker.model.texts import listed, natural
from checker.network.drawn_bodies import CarrierBoxes, side_mm
from checker.network.drawn_lines import Line, length_mm, lines_of
from checker.network.drawn_owners import CableOwners
from checker.network.drawn_passes import LENGTH_SHARE, along_mm

HINT = "add their circuits to the schedule, or name the cables by their circuits' marks"


@dataclass(frozen=True, slots=True)
class Loose:
    """Where cables lie that no circuit of the schedule owns.

    ``doubts`` say it of each such carrier, by its key. ``everywhere`` says why they may lie in any carrier; empty: they don't.
    """

    doubts: dict[str, str]
    everywhere: str = ""
    problems: tuple[Problem, ...] = ()


def loose_cables(installation: Installation) -> Loose:
    """Finds the carriers along which the drawn cables lead that no circuit owns; none where there is no schedule.

    A cable that the model gives no path is in none of them. The work grows with the length of the lines.

    Args:
        installation: What there is.
    """
    if not installation.is_scheduled:
        return Loose({})
    drawn = [(cable, lines_of(cable)) for cable in CableOwners(installation).of_none()]
    drawn = [(cable, lines) for cable, lines in drawn if lines]
    carriers = tuple(sorted(installation.carriers, key=lambda carrier: carrier.key)) if drawn else ()
    boxes = CarrierBoxes(carriers)
    labels: dict[int, set[str]] = defaultdict(set)
    crowded: set[str] = set()
    for cable, lines in drawn:
        boxes.is_crowded = False
        for line in lines:
            for number in _along(line, boxes, carriers):
                labels[number].add(cable.place.label)
        if boxes.is_crowded:
            crowded.add(cable.place.label)
    doubts = {
        carriers[
            number
        ].key: f"the model draws cables there that no circuit of the schedule owns: {_some(labels[number])}"
        for number in sorted(labels)
    }
    everywhere = (
        f"too many carriers lie around cables that no circuit of the schedule owns to tell where they lie: {_some(crowded)}"
        if crowded
        else ""
    )
    return Loose(doubts, everywhere, tuple(_told({carriers[number].place.label for number in labels}, labels, crowded)))


def _told(where: set[str], labels: dict[int, set[str]], crowded: set[str]) -> list[Problem]:
    problems = []
    if where:
        names = _some(set().union(*labels.values()))
        problems.append(
            Problem(_some(where), f"the model draws cables there that no circuit of the schedule owns: {names}",
                    "what lies there besides isn't known, so nothing there passes", HINT, elements=len(labels))
        )  # fmt: skip
    if crowded:
        problems.append(
            Problem(_some(crowded), "too many carriers lie around these cables, which no circuit owns, to look at all of them",
                    "they could lie in any carrier, so nothing passes", f"leave out what isn't built, or {HINT}",
                    elements=len(crowded))
        )  # fmt: skip
    return problems


def _along(line: Line, boxes: CarrierBoxes, carriers: tuple[Carrier, ...]) -> list[int]:
    """The carriers that a line runs along: for a side of theirs, or half their length, or half its own where it is a short piece."""
    line = min(line, line[::-1])  # the same whichever way it is drawn
    most = LENGTH_SHARE * length_mm(line)
    return [
        number
        for number, along in along_mm(boxes.atoms(line)).items()
        if along >= min(most, side_mm(carriers[number]), LENGTH_SHARE * (carriers[number].length_mm or math.inf)) - 1e-6
    ]


def _some(labels: set[str]) -> str:
    return listed(sorted(labels, key=lambda label: (natural(label), label)))
