"""Routes that the schedule gives, by name."""

from dataclasses import dataclass

from checker.model import Carrier, Circuit, Installation
from checker.network.ends import Names


@dataclass(frozen=True, slots=True)
class Unread:
    """Why a route that the schedule gives can't be read."""

    why: str
    hint: str


class GivenRoutes:
    """Routes that the schedule gives, by name, as carriers."""

    def __init__(self, installation: Installation) -> None:
        self._names = Names(installation, only_carriers=True)

    def steps(self, circuit: Circuit) -> list[tuple[Carrier, int | None]] | Unread:
        """The carriers of a circuit's route with their compartments."""
        steps: list[tuple[Carrier, int | None]] = []
        for step in circuit.route:
            whole = self._names.find(step.text)
            found, compartment = (whole, None) if whole else (self._names.find(step.name), step.compartment)
            if len(found) != 1 or not isinstance(found[0], Carrier):
                left_out = self._names.left_out(step.name)
                if left_out and not found:
                    return Unread(f"its route names {step.name!r}, which isn't read: {left_out}", "lead it another way")
                near = self._names.near(step.name)
                hint = f"did you mean {', '.join(near)}?" if near else "name carriers by GlobalId, Tag or Name"
                return Unread(f"its route names {step.name!r}, which {len(found) or 'no'} carriers are called", hint)
            steps.append((found[0], compartment))
        return steps
