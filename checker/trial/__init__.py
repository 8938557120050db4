"""What would be if: changes tried on what was read, routed and loaded, and judged by the same rules before anybody is told of them."""

from checker.trial.carve import Carve, Carver
from checker.trial.changes import Change, Divide, Recable, Reroute, Resize
from checker.trial.situation import Situation, situation_of
from checker.trial.trials import Effects, Trials

__all__ = [
    "Carve",
    "Carver",
    "Change",
    "Divide",
    "Effects",
    "Recable",
    "Reroute",
    "Resize",
    "Situation",
    "Trials",
    "situation_of",
]
