"""Changes that somebody could make to a model or a schedule, as they are tried on what was read.

Each says what it touches: the carriers of which the section or the content changes, and the circuits that are changed themselves.
"""

from dataclasses import dataclass, replace
from typing import Protocol

from checker.model import Cable, Installation, Lane, Section
from checker.network.route import Route

Routes = tuple[Route, ...]


class Change(Protocol):
    """One change."""

    @property
    def carriers(self) -> frozenset[str]:
        """Keys of the carriers of which the section or the content changes."""

    @property
    def circuits(self) -> frozenset[str]:
        """Marks of the circuits that are changed themselves."""

    def made(self, installation: Installation, routes: Routes) -> tuple[Installation, Routes]:
        """The installation and the ways of its circuits with it; what it touches may lie outside of them, and isn't missed then."""


@dataclass(frozen=True, slots=True)
class Resize:
    """Carriers get other sections, each one of its own: by key."""

    sections: tuple[tuple[str, Section], ...]

    @property
    def carriers(self) -> frozenset[str]:
        """Those that are resized."""
        return frozenset(key for key, _ in self.sections)

    @property
    def circuits(self) -> frozenset[str]:
        """None is changed itself."""
        return frozenset()

    def made(self, installation: Installation, routes: Routes) -> tuple[Installation, Routes]:
        """With the new sections."""
        return _with_sections(installation, dict(self.sections)), routes


@dataclass(frozen=True, slots=True)
class Divide:
    """Carriers get compartments."""

    keys: tuple[str, ...]
    lanes: tuple[Lane, ...]

    @property
    def carriers(self) -> frozenset[str]:
        """Those that are divided."""
        return frozenset(self.keys)

    @property
    def circuits(self) -> frozenset[str]:
        """None is changed itself: they take the compartment that is for their service."""
        return frozenset()

    def made(self, installation: Installation, routes: Routes) -> tuple[Installation, Routes]:
        """With the new compartments."""
        sections = {
            carrier.key: replace(carrier.section, lanes=self.lanes)
            for carrier in installation.carriers
            if carrier.key in self.carriers
        }
        return _with_sections(installation, sections), routes


@dataclass(frozen=True, slots=True)
class Reroute:
    """Circuits take other ways. ``left`` are the carriers that they have left, or pass otherwise than before."""

    ways: Routes
    left: frozenset[str]

    @property
    def carriers(self) -> frozenset[str]:
        """Those that they leave and those that they come to."""
        return self.left.union(*(route.carriers for route in self.ways))

    @property
    def circuits(self) -> frozenset[str]:
        """Those that are led otherwise."""
        return frozenset(route.circuit for route in self.ways)

    def made(self, installation: Installation, routes: Routes) -> tuple[Installation, Routes]:
        """With the new ways."""
        ways = {route.circuit: route for route in self.ways}
        return installation, tuple(ways.get(route.circuit, route) for route in routes)


@dataclass(frozen=True, slots=True)
class Recable:
    """A circuit gets other cables. ``passed`` are the carriers on its way."""

    mark: str
    cables: tuple[Cable, ...]
    passed: frozenset[str]

    @property
    def carriers(self) -> frozenset[str]:
        """All that it passes."""
        return self.passed

    @property
    def circuits(self) -> frozenset[str]:
        """The one."""
        return frozenset({self.mark})

    def made(self, installation: Installation, routes: Routes) -> tuple[Installation, Routes]:
        """With the other cables."""
        circuits = tuple(
            replace(circuit, cables=self.cables) if circuit.mark == self.mark else circuit
            for circuit in installation.circuits
        )
        return replace(installation, circuits=circuits), routes


def _with_sections(installation: Installation, sections: dict[str, Section]) -> Installation:
    carriers = tuple(
        replace(carrier, section=sections[carrier.key]) if carrier.key in sections else carrier
        for carrier in installation.carriers
    )
    return replace(installation, carriers=carriers)
