"""Which kinds of change can bear on what fails, by the family of its rule."""

from checker.result.remedy_tables import RemedyKind as K

#: Other families, of third parties, are tried with all.
BEARING = {
    "access": (K.COMPARTMENT, K.WAY, K.CARRIER),
    "fill": (K.COMPARTMENT, K.WAY, K.CARRIER),
    "grouping": (K.WAY, K.CABLE),
    "pulling": (K.WAY, K.BOX),
    "segregation": (K.COMPARTMENT, K.WAY, K.DIVIDER),
    "support": (K.COMPARTMENT, K.WAY),
}


def kinds_for(rule: str) -> tuple[K, ...]:
    """The kinds of change to try for a rule, the cheapest first."""
    return BEARING.get(rule.split(".", 1)[0], tuple(K))
