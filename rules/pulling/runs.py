"""What the rules of pulling say of a run, and which of its pieces are bends."""

from checker.model import LoadedRun, PlacedCable, RunPiece

#: Angles in models aren't exact: so much over a limit is at it.
EXACTLY_DEG = 1.0
#: Turns up to this are no bend: conduits whose axes don't quite line up.
LEAST_BEND_DEG = 4.5


def between(subject: LoadedRun) -> str:
    """The two ends of a run in words."""
    one, other = subject.called
    return f"{one} and {other}"


def unknown_bends(subject: LoadedRun) -> str:
    """Why the bends of a run aren't known."""
    if not subject.is_whole or subject.bends_least_deg is None:
        return "where it ends isn't, as it may go on beyond what is joined, or is joined half-way"
    unknown = [piece.label for piece in subject.pieces if piece.turn_deg is None]
    return f"{', '.join(dict.fromkeys(unknown)) or 'a piece of it'} has no axis that tells it, or may turn by more than its ends show"


def bends_of(subject: LoadedRun) -> tuple[RunPiece, ...]:
    """The bends of a run, in order; also those of which the angle isn't known."""
    return tuple(piece for piece in subject.pieces if piece.turn_deg is None or piece.turn_deg > LEAST_BEND_DEG)


def named(cable: PlacedCable) -> str:
    """What questions about a cable call it: its key, since one answer holds for all of that key; else its circuit."""
    return f"cable {cable.key}" if cable.key else f"the cables of circuit {cable.circuit}"


def is_undrawn(piece: RunPiece) -> bool:
    """Whether it is a bend without a radius; axes that don't quite line up are none."""
    return (piece.turn_deg or 0.0) > LEAST_BEND_DEG and piece.radius_mm is None
