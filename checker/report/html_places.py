"""How the page names carriers, and lists many of them."""

from collections.abc import Mapping, Sequence

from checker.report.html_markup import Html, join, name, names, safe, tag
from checker.result.tables import CarrierRow

#: So many names stand in the open; the others fold away.
MOST_NAMED = 40
#: A longer text is cut where it stands among others.
MOST_LETTERS = 300
NOT_GIVEN = "not given"


class Places:
    """The carriers of a result, by key; a key that the result doesn't know is shown as it is."""

    def __init__(self, carriers: Sequence[CarrierRow]) -> None:
        self._rows: Mapping[str, CarrierRow] = {row.key: row for row in carriers}

    def row(self, key: str) -> CarrierRow | None:
        """The row of a carrier."""
        return self._rows.get(key)

    def label(self, key: str, compartment: int | None = None) -> str:
        """What a person would call a carrier, with ``/2`` for its second compartment."""
        row = self._rows.get(key)
        label = row.place.label if row else key
        return label if compartment is None else f"{label}/{compartment}"

    def storey(self, key: str) -> str:
        """The storey of a carrier, in words where none is given."""
        row = self._rows.get(key)
        return (row.place.storey if row else "") or NOT_GIVEN

    def space(self, key: str) -> str:
        """The space of a carrier; empty where none is given."""
        row = self._rows.get(key)
        return row.place.space if row else ""

    def where(self, key: str) -> Html:
        """Storey and space of a carrier."""
        space = self.space(key)
        return join([name(self.storey(key)), *([", ", name(space)] if space else [])])


def many(labels: Sequence[str], separator: str = ", ") -> Html:
    """Names in a row; where they are many, the further ones fold away and say how many they are."""
    if len(labels) <= MOST_NAMED:
        return names(labels, separator)
    rest = labels[MOST_NAMED:]
    folded = tag("details", tag("summary", f"and {len(rest)} more"), names(rest, separator))
    return join([names(labels[:MOST_NAMED], separator), folded])


def cut(text: str) -> Html:
    """A text; where it is long its beginning, with the whole of it folded away."""
    if len(text) <= MOST_LETTERS:
        return safe(text)
    start = text[:MOST_LETTERS].rsplit(" ", 1)[0].rstrip(" ,;:")
    return join([start, "…", tag("details", tag("summary", "All of it"), tag("p", text))])


def size_mm(row: CarrierRow | None) -> str:
    """Its size; in words where it isn't known."""
    return (row.size if row is not None else "") or "not known"
