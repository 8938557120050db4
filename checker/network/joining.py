"""Which carriers, fittings and equipment belong together, and how that was found: ports first, then what meets in space."""

from collections import defaultdict

from checker.model import Fitting, Installation, Problem, ProblemKind
from checker.model.texts import listed
from checker.network.bodies import shape_of
from checker.network.crowds import Crowds
from checker.network.joins import Book, FoundBy, Join, Joins, Spot
from checker.network.meeting import MOST_HALF_MM, Meetings, is_plausible
from checker.network.near_misses import near_misses, told
from checker.network.port_joins import PortJoins

__all__ = ["FoundBy", "Join", "Joins", "Spot", "find_joins"]


def find_joins(installation: Installation) -> Joins:
    """All joins between carriers, fittings and equipment, in a fixed order, and what has to be said of them."""
    book, crowds = Book(), Crowds()
    shapes = {carrier.key: shape_of(carrier) for carrier in installation.carriers}
    ports = PortJoins(installation, shapes, book)
    problems = ports.connect()
    ports.coincide(crowds)
    meetings = Meetings(installation, shapes, ports, book, crowds)
    meetings.find()
    joins = book.sorted()
    problems += _inferred(joins, {item.key for item in installation.equipment})
    problems += _too_large(installation.fittings)
    misses = near_misses(meetings, book, crowds)
    problems += told(misses)
    problems += crowds.problems({key: item.place.label for key, item in ports.elements.items()})
    return Joins(joins, tuple(problems), tuple(misses))


def _too_large(fittings: tuple[Fitting, ...]) -> list[Problem]:
    """One problem for all fittings whose bodies are larger than any fitting."""
    labels = sorted(item.place.label for item in fittings if item.body is not None and not is_plausible(item.body))
    if not labels:
        return []
    return [
        Problem(listed(labels), f"its body is larger than {2.0 * MOST_HALF_MM / 1000.0:g} m, as no fitting is",
                "so what ends in it isn't joined to it for that", "look at its shape in the model, or connect its ports",
                ProblemKind.GAP, len(labels))
    ]  # fmt: skip


def _inferred(joins: tuple[Join, ...], equipment: set[str]) -> list[Problem]:
    """One problem for each way of finding joins other than by connected ports."""
    found: dict[FoundBy, list[Join]] = defaultdict(list)
    for join in joins:
        if join.found_by is not FoundBy.PORTS:
            found[join.found_by].append(join)
    problems = []
    for way in FoundBy:
        if way in found:
            touched = {spot.element for join in found[way] for spot in (join.one, join.other)} - equipment
            joined = "1 join was" if len(found[way]) == 1 else f"{len(found[way])} joins were"
            what = f"{joined} concluded from where elements lie, of {len(touched)} carriers and fittings"
            problems.append(
                Problem(f"joins by {way}", what, "the files connect no ports there",
                        "connect the ports in the model, or look at the joins in the report", ProblemKind.INFERENCE, len(touched))
            )  # fmt: skip
    return problems
