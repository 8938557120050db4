"""Which circuit owns which of the cables that the models draw, and which of them none does."""

from collections import defaultdict

from checker.model import Installation, ModelCable, Place, Vec

#: What tells cables apart: one that two models have is one.
Known = tuple[str, tuple[Vec, ...], tuple[tuple[Vec, ...], ...]]


class CableOwners:
    """Finds the drawn cables of circuits.

    Args:
        installation: What there is.
    """

    def __init__(self, installation: Installation) -> None:
        self._circuits, self._cables = installation.circuits, installation.model_cables
        self._by_mark: dict[str, list[ModelCable]] = defaultdict(list)
        by_place: dict[Place, list[ModelCable]] = defaultdict(list)
        for cable in self._cables:
            by_place[cable.place].append(cable)
            for mark in cable.marks:
                self._by_mark[mark].append(cable)
        self._of_circuits: dict[str, list[tuple[str, list[ModelCable]]]] = defaultdict(list)
        for found in installation.model_circuits:
            own = [known for cable in found.cables for known in by_place.get(cable.place, ())]
            for mark in {_plain(mark) for mark in (found.mark, *found.marks)}:
                self._of_circuits[mark].append((found.mark, own))

    def of(self, mark: str) -> list[ModelCable]:
        """The cables of a circuit: named by its mark, or of the one circuit of the models that the mark means."""
        found = list(self._by_mark.get(mark, ()))
        alike = self._of_circuits.get(_plain(mark), [])
        if len(alike) == 1:
            theirs, own = alike[0]
            found += [*self._by_mark.get(theirs, ()), *own]
        return list({_known(cable): cable for cable in found}.values())

    def of_none(self) -> list[ModelCable]:
        """The cables that no circuit of the installation owns, by order of the models. A removed circuit still owns its own."""
        owned = {_known(cable) for circuit in self._circuits for cable in self.of(circuit.mark)}
        return [cable for cable in self._cables if _known(cable) not in owned]


def _known(cable: ModelCable) -> Known:
    return cable.place.global_id or str(cable.place), cable.path_mm, cable.pieces_mm


def _plain(mark: str) -> str:
    """A mark as circuits of models are matched by it."""
    return " ".join(mark.split()).casefold()
