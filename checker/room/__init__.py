"""Room for one more: what can be added between two places of a model, by every rule, by the best of the ways that there are."""

from checker.room.answering import Answer, answer
from checker.room.question import MOST_CIRCUITS, RoomQuestion

__all__ = ["MOST_CIRCUITS", "Answer", "RoomQuestion", "answer"]
