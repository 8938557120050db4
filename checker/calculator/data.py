"""What the page knows: limits, tables, catalogues and the rules' constants, of the loaded codes, as plain lists and objects for JSON."""

from collections.abc import Iterable, Sequence
from importlib import import_module
from typing import Any

from checker.calculator.known import known_answers
from checker.errors import InputError
from checker.fit import LARGEST_MM, MOST_CABLES
from checker.fit.carriers import carrier_of_type
from checker.fit.geometry import MOST_PROVED
from checker.fit.room import ONE_BY_ONE
from checker.fit_text import CAUTION
from checker.model import CarrierKind, cable_area_mm2
from checker.model.subjects import MANY
from checker.network.sizing import insides
from checker.rule import Limit, Rule, Table, Tells
from checker.rule.catalogue import CableType, CarrierType
from checker.rule.code import Code
from checker.rule.plugins import Plugins
from checker.section.proofs import ALLOWED_MM, CLOSEST, PROVED_WIDTHS
from checker.units import MM_PER_INCH, awg_area_mm2

#: The rules of fill that the page has, and the module of each that holds its constants besides.
RULES = {
    "fill.area": "formula",
    "fill.compartment": "formula",
    "fill.conduit": "conduit",
    "fill.count": "count",
    "fill.layer": "tray_checks",
    "fill.tray": "formula",
}
CONSTANTS = (*dict.fromkeys(RULES.values()), "tray_limits", "tray_rows")
#: Of a table the page needs no more than its figures.
NO_FIGURES = {"source", "confidence"}


def unknown_rules(code: Code, plugins: Plugins) -> list[str]:
    """The rules of fill of a code that the page doesn't have."""
    return [key for key in _fill_rules(code, plugins) if key not in RULES]


def calculator_data(codes: Sequence[Code], plugins: Plugins) -> dict[str, Any]:
    """All that the page knows.

    Args:
        codes: Those among which the page lets one choose.
        plugins: Where the rules, cables and carriers are.

    Raises:
        InputError: A code has a rule of fill that the page doesn't have.
    """
    for code in codes:
        if not code.limits:
            raise InputError("--page", f"{code.key} has no rules", "name another code with --code")
        if strange := unknown_rules(code, plugins):
            what = f"the page doesn't have {' and '.join(strange)}, by which {code.key} judges fill"
            raise InputError(
                "--page", what, "ask without --page, or name a code that goes by Wayroom's own rules of fill"
            )
    tables: dict[str, Table] = {}
    texts = _Texts()
    return {
        "caution": CAUTION,
        "codes": [_code(code, plugins, tables) for code in codes],
        "tables": {name: _table(table) for name, table in sorted(tables.items())},
        "carriers": [_carrier(found, codes, texts) for found in plugins.carriers.values()],
        "cables": [_cable(found, texts) for found in plugins.cables.values()],
        "texts": texts.all,
        "figures": _figures(plugins),
        "known": [answer for code in codes for answer in known_answers(code, plugins)],
    }


class _Texts:
    """Texts that come again and again, each once."""

    def __init__(self) -> None:
        self._places: dict[str, int] = {}

    def place(self, text: str) -> int:
        """Where a text stands among all."""
        return self._places.setdefault(text, len(self._places))

    @property
    def all(self) -> list[str]:
        """All of them, by their places."""
        return list(self._places)


def _fill_rules(code: Code, plugins: Plugins) -> dict[str, Rule]:
    found = {key: plugins.rules[key] for key in code.limits}
    return {key: rule for key, rule in found.items() if rule.tells is Tells.FILL}


def _code(code: Code, plugins: Plugins, tables: dict[str, Table]) -> dict[str, Any]:
    rules = []
    for key, rule in _fill_rules(code, plugins).items():
        limits: dict[str, Any] = {}
        for name, value in code.limits[key]:
            if isinstance(value, Table):
                tables[value.name] = value
                limits[name] = {"table": value.name}
            elif isinstance(value, Limit):
                limits[name] = {"value": value.value, "basis": value.basis.value, "cited": value.cited}
            else:
                limits[name] = None
        kinds = sorted(kind.value for kind in rule.kinds or CarrierKind)
        rules.append({"id": key, "kinds": kinds, "limits": limits})
    bores = code.sizes.conduit_bores.rows if code.sizes.conduit_bores is not None else ()
    return {
        "key": code.key,
        "title": code.full_title,
        "note": code.note,
        "sha256": code.sha256,
        "rules": rules,
        "bores": [[float(row["bore_mm"]), float(row["outside_diameter_mm"])] for row in bores],
    }


def _table(table: Table) -> dict[str, Any]:
    columns = [name for name in table.rows[0] if name not in NO_FIGURES]
    return {"columns": columns, "rows": [[row[name] for name in columns] for row in table.rows], "sha256": table.sha256}


def _carrier(found: CarrierType, codes: Iterable[Code], texts: _Texts) -> list[Any]:
    """A row; its last cell is its inside by each of the codes, one for all where they agree."""
    carrier = carrier_of_type(found)
    readings = []
    for code in codes:
        (inside,) = insides(carrier, code.sizes)
        readings.append(
            [
                inside.area_mm2, inside.area_least_mm2, inside.width_mm, inside.width_least_mm, inside.bore_mm,
                inside.side_mm, inside.side_least_mm, texts.place(inside.doubt),
            ]
        )  # fmt: skip
    if all(reading == readings[0] for reading in readings):
        readings = readings[:1]
    section = carrier.section
    return [
        found.key, found.kind, carrier.place.name, texts.place(found.source), found.perforated,
        section.width_mm, section.outside_diameter_mm, readings,
    ]  # fmt: skip


def _cable(found: CableType, texts: _Texts) -> list[Any]:
    size = awg_area_mm2(found.awg_kcmil) if found.awg_kcmil.strip() else found.csa_mm2
    area = found.area_mm2 or cable_area_mm2(found.diameter_mm, found.width_mm, found.height_mm)
    return [
        found.key, texts.place(found.family), texts.place(found.source), area, found.diameter_mm, found.width_mm,
        found.height_mm, found.csa_mm2, size, bool(found.awg_kcmil), found.cores, found.stranded, found.planning,
    ]  # fmt: skip


def _figures(plugins: Plugins) -> dict[str, dict[str, float]]:
    """The constants of the rules' modules, and those of the question."""
    package = plugins.rules["fill.area"].limits.__module__.rpartition(".")[0]
    found = {}
    for name in CONSTANTS:
        inside = vars(import_module(f"{package}.{name}"))
        found[name] = {key: value for key, value in sorted(inside.items()) if key.isupper() and _is_number(value)}
    found["asked"] = {
        "LARGEST_MM": LARGEST_MM, "MOST_CABLES": MOST_CABLES, "ONE_BY_ONE": ONE_BY_ONE, "MANY": MANY, "MM_PER_INCH": MM_PER_INCH,
    }  # fmt: skip
    found["proofs"] = {
        "ALLOWED_MM": ALLOWED_MM,
        "CLOSEST": CLOSEST,
        "MOST_PROVED": MOST_PROVED,
        "PROVED_WIDTHS": PROVED_WIDTHS,
    }
    return found


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
