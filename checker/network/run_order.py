"""The conduits of a run in the order in which cables pass them."""

from dataclasses import dataclass

from checker.model import Run

#: One end of a conduit: its key, and whether it is the start of its axis; None: somewhere along its side.
End = tuple[str, bool | None]


@dataclass(frozen=True, slots=True)
class Link:
    """Two conduit ends between which cables pass no point to draw in, and the fittings between them."""

    one: End
    other: End
    through: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RunOrder:
    """A run's conduits in the order in which cables pass them.

    Attributes:
        run: The run.
        steps: Each conduit with whether it is passed from the start of its axis.
        between: The fittings, by key, between each conduit and the next; of a ring also between the last and the first.
        ends: What comes before the first conduit and after the last, by key; empty: nothing that is known of.
        is_open: Whether it may go on beyond an end that isn't known.
        is_tapped: Whether something joins it half-way, so that nothing is known of how it goes on there.
        is_left: Whether cables leave it for equipment between its ends, where no point to draw in is modelled.
    """

    run: Run
    steps: tuple[tuple[str, bool], ...]
    between: tuple[tuple[str, ...], ...]
    ends: tuple[tuple[str, ...], tuple[str, ...]]
    is_open: bool
    is_tapped: bool
    is_left: bool = False

    @property
    def is_ring(self) -> bool:
        """Whether its last conduit leads into its first."""
        return len(self.between) == len(self.steps)


def spread(key: str, at: dict[str, list[Link]]) -> tuple[set[str], list[Link]]:
    """All conduits that hang together with one, and the links between them.

    Args:
        key: The one.
        at: The links of each conduit, by its key.
    """
    members, used, waiting = {key}, set(), [key]
    while waiting:
        for link in at.get(waiting.pop(), ()):
            used.add(link)
            for member in {link.one[0], link.other[0]} - members:
                members.add(member)
                waiting.append(member)
    return members, sorted(used, key=lambda link: (link.one, link.other))


def in_order(members: set[str], links: list[Link]) -> tuple[tuple[tuple[str, bool], ...], tuple[tuple[str, ...], ...]]:
    """The conduits of a run from its first end, each with whether it is passed from its start; and the fittings between them.

    The first end is the one whose key comes first; a ring begins at its first conduit.

    Args:
        members: The conduits' keys.
        links: All links between them.
    """
    after: dict[End, tuple[End, tuple[str, ...]]] = {}
    for link in links:
        after[link.one] = (link.other, link.through)
        after[link.other] = (link.one, link.through[::-1])
    free = sorted((key, at_start) for key in members for at_start in (True, False) if (key, at_start) not in after)
    key, enters = free[0] if free else (min(members), True)
    steps, between = [(key, bool(enters))], []
    first: End = (key, enters)
    while ((key, not enters)) in after:
        (key, at), through = after[key, not enters]
        between.append(through)
        if (key, at) == first or len(steps) == len(members):
            break
        enters = bool(at)
        steps.append((key, enters))
    return tuple(steps), tuple(between)
