"""Which circuits of a group carry so little that they are left out for the others, and of which that isn't known."""

from dataclasses import dataclass

from checker.model import CircuitLoad, Enclosure, Member
from checker.rule.needs import of_circuit, of_type
from rules.grouping.base import KIND, Surrounding, alone, neutral_share
from rules.grouping.figures import EXACTLY, Figure, need_of_current
from rules.grouping.limits import RatingLimits


@dataclass(frozen=True, slots=True)
class Lightness:
    """The light circuits of a group, in one reading, by their marks.

    ``unsure``: those of which it isn't known, as their load or their own rating isn't. ``needs``: what would tell of each of them, by its
    mark; a blank where that isn't known.
    """

    light: frozenset[str]
    unsure: frozenset[str]
    needs: tuple[tuple[str, tuple[str, ...]], ...] = ()

    def questions(self, but: str) -> tuple[str, ...]:
        """What would tell of all of them ``but`` one."""
        return tuple(need for mark, needs in self.needs if mark != but for need in needs)


def lightness(
    members: list[Member],
    full: Figure,
    where: Surrounding,
    enclosure: Enclosure,
    limits: RatingLimits,
    *,
    is_strict: bool,
) -> Lightness:
    """Tells light circuits by the factor of the full group; where that isn't known, none is."""
    if full.value is None:
        return Lightness(frozenset(), frozenset())
    light, needs = set(), {}
    for member in members:
        load = member.load
        if is_light(load, full, where, limits, is_strict=is_strict):
            light.add(load.mark)
        else:
            unknown = _unknown(load, where, enclosure, limits, is_strict=is_strict)
            if unknown:
                needs[load.mark] = unknown
    return Lightness(frozenset(light), frozenset(needs), tuple(sorted(needs.items())))


def is_light(load: CircuitLoad, full: Figure, where: Surrounding, limits: RatingLimits, *, is_strict: bool) -> bool:
    """Only a known load makes a circuit light; where harmonics load its neutral more than its lines, the neutral's."""
    if full.value is None or load.design_current_a is None or not load.sets or "design_current_a" in load.unread:
        return False
    amps = alone(load, where, limits, is_strict=is_strict).amps
    if amps is None:
        return False
    carried = load.design_current_a / load.sets * max(1.0, neutral_share(load, limits, is_strict=is_strict))
    return carried <= limits.light_share.value * amps * full.value + EXACTLY


def _unknown(
    load: CircuitLoad, where: Surrounding, enclosure: Enclosure, limits: RatingLimits, *, is_strict: bool
) -> tuple[str, ...]:
    """What would tell whether a circuit is light; a blank for what no answer gives, and nothing where it is known."""
    needs = [*need_of_current(load, "design_current_a", "design current")]
    needs += [] if load.sets else [of_circuit("sets", load.mark)]
    by_itself = alone(load, where, limits, is_strict=is_strict)
    if by_itself.amps is None:
        needs += [of_type(KIND, enclosure.carrier) if need == KIND else need for need in by_itself.needs]
    return tuple(dict.fromkeys(needs))
