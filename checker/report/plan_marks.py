"""What stands on a plan for what: a shape for each way a join was found, a pattern for each kind of carrier, a line for each verdict.

Every one of them differs in shape, so that plans read in grey too.
"""

#: How a join was found → its shape, as the data of a path from the join's place, and whether it is filled.
JOINS: dict[str, tuple[str, bool]] = {
    "connected ports": ("m-3 0a3 3 0 1 0 6 0a3 3 0 1 0-6 0z", True),
    "ports at one place": ("m-4 0a4 4 0 1 0 8 0a4 4 0 1 0-8 0z", False),
    "ends that meet": ("m-3-3h6v6h-6z", True),
    "an end in a fitting": ("m0-5l5 5-5 5-5-5z", False),
    "an end at another's side": ("m-5-4h10m-5 0v9", False),
    "fittings that touch": ("m-5 0h10m-5-5v10", False),
}
#: Of joins found in a way that isn't in the list.
OTHER_JOIN = ("m-4 4l8-8", False)
#: An open triangle.
OPEN_END = "m0-6l6 10h-12z"
#: An open end where circuits come in from equipment: a bracket.
ENTRY = "m-4-6h8v12h-8"
#: One end of a break.
BREAK_END = "m-4-4l8 8m0-8l-8 8"

#: Equipment that circuits begin or end at: a house.
EQUIPMENT = "m-5 5v-6l5-5 5 5v6z"

#: Kinds in the order in which they are drawn, what is slender last → words for how they are drawn.
KINDS: dict[str, str] = {
    "tray": "slanting stripes",
    "ladder": "rungs",
    "trunking": "plain and pale",
    "unknown": "dots",
    "conduit": "plain and dark",
}
#: Verdicts, the worst first → words for the outline.
VERDICTS: dict[str, str] = {
    "fail": "thick outline",
    "unknown": "dashed outline",
    "waived": "dotted outline",
    "pass": "thin outline",
}

#: Kind → size in px of its pattern, and what is drawn in it. Trunking and conduit are filled without a pattern.
_PATTERNS: dict[str, tuple[int, str]] = {
    "tray": (8, "M-2 2l4-4M0 8l8-8M6 10l4-4"),
    "ladder": (6, "M0 3h6M3 0v6"),
    "unknown": (6, "M1 1h2v2h-2zM4 4h1v1h-1z"),
}


def kind_of(kind: str) -> str:
    """A kind as it is drawn: one that isn't in the list as one that isn't known."""
    return kind if kind in KINDS else "unknown"


def verdict_of(word: str) -> str:
    """A verdict as it is drawn: without one it isn't known."""
    return word if word in VERDICTS else "unknown"


def fill_of(kind: str) -> str | None:
    """What a kind is filled with; None: a plain colour, which the page's style gives."""
    return f"url(#fill-{kind})" if kind in _PATTERNS else None


def patterns() -> dict[str, tuple[int, str]]:
    """The patterns that fills name, by the ends of their ids."""
    return dict(_PATTERNS)
