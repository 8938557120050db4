"""The electrical columns of a schedule: a cell that could mean two things is unread, and is no assumption's."""

from checker.read.cells import Row

ELECTRICAL_TEXTS = ("method", "device")
CURRENTS = ("design_current_a", "device_rating_a")
#: Reference methods of IEC 60364-5-52 and BS 7671; which of them have tables here is the code's to say.
METHODS = (
    "A",
    "A1",
    "A2",
    "B",
    "B1",
    "B2",
    "C",
    "D",
    "D1",
    "D2",
    "E",
    "F",
    "G",
    *(str(number) for number in range(100, 104)),
)
COLDEST_C, HOTTEST_C = -60.0, 150.0
UNKNOWN = "so it isn't known"


def read_electrical(row: Row, *, is_loaded: bool) -> dict[str, float | str]:
    """What a circuit's rows give of its load.

    Args:
        row: What they say together.
        is_loaded: Whether its state is one that carries a load.
    """
    found: dict[str, float | str] = {}
    for column in CURRENTS:
        # a load of 0 A is a blank that somebody filled in, not a known load
        value = row.number(column, above=0.0 if is_loaded else None)
        if value is not None:
            found[column] = value
    found |= {column: value for column, value in (_ambient(row), _harmonic(row)) if value is not None}
    loaded = row.whole("loaded_conductors", least=0)
    if loaded == 0 and is_loaded and any(found.get(column) for column in CURRENTS):
        hint = "give 2 or 3, or leave the currents empty"
        row.complain(
            "loaded_conductors", "it is 0, though a current is given", "so whether it is loaded isn't known", hint
        )
    elif loaded is not None:
        found["loaded_conductors"] = loaded
    method = row.text("method").upper()
    if method and method not in METHODS:
        hint = f"one of {', '.join(METHODS)}; or leave it empty: then it goes by the carrier"
        row.complain("method", f"{row.text('method')!r} is no reference method", UNKNOWN, hint)
    texts = (column for column in ELECTRICAL_TEXTS if row.text(column) and column not in row.unread)
    return found | {column: row.text(column) for column in texts}


def _ambient(row: Row) -> tuple[str, float | None]:
    value = row.number("ambient_c", above=None)
    if value == 0.0:  # air of just 0 °C would raise a rating; it is more often a blank
        hint = "give the temperature, or leave it empty: then 30 °C is assumed"
        row.leave_out("ambient_c", "an ambient of 0 is taken for a blank that was filled in", hint)
        return "ambient_c", None
    if value is not None and not COLDEST_C <= value <= HOTTEST_C:
        row.leave_out("ambient_c", f"{value:g} °C is no ambient", "give it in °C")
        return "ambient_c", None
    return "ambient_c", value


def _harmonic(row: Row) -> tuple[str, float | None]:
    value = row.share("third_harmonic")
    if value is not None and not 0.0 <= value <= 100.0:
        row.leave_out("third_harmonic", f"{value:g} is no share", "write 0.4, or 40 for per cent")
        return "third_harmonic", None
    if value is not None and 1.0 <= value < 3.0:
        hint = "write it with more digits: 0.015 for 1.5 %, 150 would be too much"
        row.complain("third_harmonic", f"{value:g} could be a ratio or per cent", UNKNOWN, hint)
        return "third_harmonic", None
    return "third_harmonic", value
