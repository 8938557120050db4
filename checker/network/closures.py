"""Which carriers a circuit doesn't pass: those that don't take its service, and those that the project closes to it."""

from functools import cached_property

from checker.model import Circuit, Installation, Service


class Closures:
    """The closed carriers of each circuit. The same set is one object for all circuits that have it, so that searches know it again."""

    def __init__(self, installation: Installation) -> None:
        self._carriers = installation.carriers
        self._by_service: dict[Service | None, frozenset[str]] = {}
        self._both: dict[tuple[Service | None, frozenset[str]], frozenset[str]] = {}

    def of(self, circuit: Circuit) -> frozenset[str]:
        """All that a circuit doesn't pass."""
        key = (circuit.service, circuit.limits.closed)
        if key not in self._both:
            self._both[key] = self.to_service(circuit.service) | circuit.limits.closed
        return self._both[key]

    @cached_property
    def to_some(self) -> frozenset[str]:
        """Carriers that are closed to some service, if not to all."""
        return frozenset(item.key for item in self._carriers if not all(item.takes(service) for service in Service))

    def to_service(self, service: Service | None) -> frozenset[str]:
        """Carriers that have no compartment for a service."""
        if service not in self._by_service:
            self._by_service[service] = frozenset(item.key for item in self._carriers if not item.takes(service))
        return self._by_service[service]
