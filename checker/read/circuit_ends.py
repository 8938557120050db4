"""Circuits of the schedule and circuits of the models: which is which, and what each knows that the other doesn't.

The schedule says what is drawn in; a model often knows what a circuit feeds. A circuit that names no ends in the schedule takes them from
the model. Where no schedule is given, the models' circuits are all there is, and most of what they hold isn't known.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from checker.model import Cable, Carrier, Circuit, Equipment, ModelCable, ModelCircuit, Problem, ProblemKind, State
from checker.model.texts import listed, natural

#: A cable's diameter in the model and in the schedule may differ by so much.
AGREE_MM = 0.5
#: Of more circuits of one mark than this, the others are each one of their own.
MOST_ALIKE = 50


@dataclass(slots=True)
class Matched:
    """Circuits with the ends that the models know, and what has to be said."""

    circuits: list[Circuit] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


class CircuitEnds:
    """Finds the model's circuit of a mark, and elements of a name.

    Args:
        model_circuits: Of all models.
        equipment: Of all models.
        carriers: Of all models; what one of them is called means no equipment.
    """

    def __init__(
        self, model_circuits: Sequence[ModelCircuit], equipment: Iterable[Equipment], carriers: Iterable[Carrier] = ()
    ) -> None:
        self.circuits = over_models(model_circuits)
        self._by_mark: dict[str, list[ModelCircuit]] = {}
        for circuit in self.circuits:
            for mark in dict.fromkeys((circuit.mark, *circuit.marks)):
                self._by_mark.setdefault(_plain(mark), []).append(circuit)
        self._equipment = {item.key: item for item in equipment}
        self._named: dict[str, list[Equipment]] = {}
        for item in self._equipment.values():
            for name in dict.fromkeys((item.place.mark, item.place.tag, *item.place.name.split(":"), item.place.name)):
                if name.strip():
                    self._named.setdefault(name.strip(), []).append(item)
        self._taken = {
            name for carrier in carriers for name in (carrier.place.mark, carrier.place.tag, carrier.place.name)
        }

    def name_of(self, item: Equipment) -> str:
        """What a schedule would call a piece of equipment: its tag or name, if nothing else is called so, else its GlobalId."""
        for name in (item.place.mark.strip(), item.place.tag.strip(), item.place.name.strip()):
            if name and self._named.get(name) == [item] and name not in self._taken:
                return name
        return item.place.global_id

    def of(self, mark: str) -> ModelCircuit | None:
        """The one circuit of the models that a mark means; None where there is none, or several."""
        found = self.all_of(mark)
        return found[0] if len(found) == 1 else None

    def all_of(self, mark: str) -> list[ModelCircuit]:
        """All circuits of the models that a mark may mean."""
        return self._by_mark.get(_plain(mark), [])

    def members(self, circuit: ModelCircuit) -> tuple[Equipment, ...]:
        """What a circuit feeds, in the order of tags and names."""
        found = [self._equipment[key] for key in circuit.members if key in self._equipment]
        panel = self.panel(circuit)
        return tuple(
            sorted(
                (item for item in found if item is not panel), key=lambda item: (natural(item.place.label), item.key)
            )
        )

    def panel(self, circuit: ModelCircuit) -> Equipment | None:
        """What feeds a circuit: the board that the model names, else the one element of that name."""
        if circuit.board in self._equipment:
            return self._equipment[circuit.board]
        found = self._named.get(circuit.panel.strip(), []) if circuit.panel else []
        return found[0] if len(found) == 1 else None


def over_models(circuits: Sequence[ModelCircuit]) -> tuple[ModelCircuit, ...]:
    """Circuits of all models; one that several models have, by the same mark and no other panel, is one."""
    by_mark: dict[str, list[ModelCircuit]] = {}
    for circuit in circuits:
        alike = by_mark.setdefault(_plain(circuit.mark), [])
        known = next((n for n, other in enumerate(alike[:MOST_ALIKE]) if _is_one(other, circuit)), None)
        if known is None:
            alike.append(circuit)
        else:
            alike[known] = _both(alike[known], circuit)
    return tuple(circuit for alike in by_mark.values() for circuit in alike)


def _is_one(one: ModelCircuit, other: ModelCircuit) -> bool:
    panels = {_plain(circuit.panel) for circuit in (one, other) if circuit.panel}
    return other.model not in one.model.split(", ") and len(panels) < 2


def _both(one: ModelCircuit, other: ModelCircuit) -> ModelCircuit:
    cables = {cable.place.global_id: cable for cable in (*one.cables, *other.cables)}
    return replace(
        one,
        model=f"{one.model}, {other.model}",
        source=", ".join(dict.fromkeys((one.source, other.source))),
        marks=tuple(sorted({*one.marks, *other.marks})),
        panel=one.panel or other.panel,
        members=tuple(dict.fromkeys((*one.members, *other.members))),
        cables=tuple(cables.values()),
        board=one.board or other.board,
    )


def with_model_ends(circuits: Iterable[Circuit], ends: CircuitEnds) -> Matched:
    """Circuits of the schedule; those that name no ends and no route take them from the model."""
    matched = Matched()
    for circuit in circuits:
        found = ends.of(circuit.mark)
        wants = not (circuit.origin and circuit.calls) and not circuit.route and circuit.state is not State.REMOVED
        if wants and found is not None and {"from", "to"}.isdisjoint(circuit.unread):
            circuit = _ended(circuit, found, ends, matched.problems)  # noqa: PLW2901 - the same circuit, with ends
        elif wants and len(several := ends.all_of(circuit.mark)) > 1:
            whose = listed(sorted({item.panel or item.model for item in several}))
            matched.problems.append(
                Problem(f"circuit {circuit.mark}", f"the models have {len(several)} circuits that are written so, of {whose}",
                        "so which one it is isn't known, and nothing is taken from them", "write its panel too, as DB1/9, or name its ends")
            )  # fmt: skip
        if found is not None:
            matched.problems += _differences(circuit, found)
        matched.circuits.append(circuit)
    return matched


def _ended(circuit: Circuit, found: ModelCircuit, ends: CircuitEnds, problems: list[Problem]) -> Circuit:
    panel, members = ends.panel(found), ends.members(found)
    origin = circuit.origin or (ends.name_of(panel) if panel is not None else "")
    calls = circuit.calls or tuple(ends.name_of(item) for item in members)
    if not origin or not calls:
        missing = f"which element the panel {found.panel!r} is" if not origin else "what it feeds"
        problems.append(
            Problem(f"circuit {circuit.mark}", f"the schedule doesn't name its ends, and {missing} isn't known from the model either",
                    "so it can't be routed", "name its ends in the schedule")
        )  # fmt: skip
        return circuit
    fed = listed([item.place.label for item in members])
    source = panel.place.label if panel is not None and not circuit.origin else circuit.origin
    problems.append(
        Problem(f"circuit {circuit.mark}", f"its ends are those of the model ({found.source}): {source} to {fed or circuit.calls[0]}",
                "the schedule doesn't name them", "name them in the schedule, in the order of its calls", ProblemKind.INFERENCE)
    )  # fmt: skip
    return replace(circuit, origin=origin, calls=calls)


def _differences(circuit: Circuit, found: ModelCircuit) -> list[Problem]:
    """A cable of one diameter in the schedule and another in the model: the schedule's is used."""
    sized = [(cable.diameter_least_mm, cable.diameter_mm) for cable in circuit.cables]
    mine = [(most if least is None else least, most) for least, most in sized if most is not None]
    theirs = sorted({cable.diameter_mm for cable in found.cables if cable.diameter_mm is not None})
    other = [size for size in theirs if all(not least - AGREE_MM <= size <= most + AGREE_MM for least, most in mine)]
    if not mine or not other:
        return []
    own = [f"{most:g}" if least == most else f"{least:g} to {most:g}" for least, most in mine]
    sizes, drawn = ", ".join(own), ", ".join(f"{size:g}" for size in other)
    return [
        Problem(f"circuit {circuit.mark}", f"its cables are {sizes} mm thick by the schedule, which is used, and {drawn} mm in the model",
                "the two contradict each other", "mend whichever is wrong", ProblemKind.ASSUMPTION)
    ]  # fmt: skip


def of_models_alone(ends: CircuitEnds) -> Matched:
    """Circuits where no schedule is given: what they feed and the cables that the model draws are all that is known of them."""
    matched = Matched()
    for found in ends.circuits:
        panel, members = ends.panel(found), ends.members(found)
        matched.circuits.append(
            Circuit(
                mark=found.mark,
                origin=ends.name_of(panel) if panel is not None else found.panel,
                calls=tuple(ends.name_of(item) for item in members),
                service=None,
                cables=tuple(_drawn(cable) for cable in found.cables) or (Cable(0, count=None),),
            )
        )
    if matched.circuits:
        names = listed([circuit.mark for circuit in matched.circuits])
        matched.problems.append(
            Problem("schedule", f"{len(matched.circuits)} circuits are known from the models alone: {names}",
                    "what each draws in isn't, unless the model draws its cables", "give --circuits FILE", ProblemKind.INFERENCE,
                    len(matched.circuits))
        )  # fmt: skip
    return matched


def _drawn(cable: ModelCable) -> Cable:
    """A cable that the model draws. How many pieces of it are one cable isn't known, so neither is how many lie in a carrier."""
    return Cable(
        0, count=None, diameter_mm=cable.diameter_mm, csa_mm2=cable.csa_mm2, cores=cable.cores, source="the model"
    )


def not_scheduled(scheduled: Sequence[str], ends: CircuitEnds) -> list[Problem]:
    """Circuits that a model has and the schedule doesn't: what they draw in isn't counted."""
    met = {id(found) for mark in scheduled for found in ends.all_of(mark)}
    numbers = {_plain(mark) for mark in scheduled}
    left: dict[str, list[str]] = {}
    for circuit in ends.circuits:
        if id(circuit) not in met and not _in_parts(circuit, numbers):
            left.setdefault(circuit.model, []).append(circuit.mark)
    return [
        Problem(model, f"it has circuits that the schedule hasn't: {listed(marks)}",
                "their cables aren't counted in any carrier", "add them to the schedule, or write their marks as the model does",
                elements=len(marks))
        for model, marks in left.items()
    ]  # fmt: skip


def _in_parts(circuit: ModelCircuit, scheduled: set[str]) -> bool:
    """Whether the schedule has each of a circuit's numbers as a circuit of its own (9,11,13 as three)."""
    panel, between, number = circuit.mark.rpartition("/")
    parts = number.split(",")
    before = panel if between else circuit.panel
    ways = ("/", "-", " ", ":", ".")
    return len(parts) > 1 and all(
        any(_plain(f"{before}{way}{part}") in scheduled for way in ways) or _plain(part) in scheduled for part in parts
    )


def _plain(mark: str) -> str:
    return re.sub(r"\s+", " ", mark).strip().casefold()
