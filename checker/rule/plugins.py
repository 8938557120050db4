"""Finds rules, codes and catalogues by entry point, ours as anybody's. Whatever doesn't load stops the run."""

import hashlib
import importlib
import importlib.resources
import pkgutil
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.metadata import EntryPoint, entry_points
from importlib.resources.abc import Traversable
from types import ModuleType
from typing import TypeVar

from checker.errors import InputError, PluginError
from checker.rule.catalogue import CableType, CarrierType, read_cables, read_carriers
from checker.rule.code import Code, read_code
from checker.rule.rule import MARK, Rule, read_rule
from checker.rule.table import Table

T = TypeVar("T")

RULES, CODES, CATALOGUES = "wayroom.rules", "wayroom.codes", "wayroom.catalogues"


@dataclass(frozen=True, slots=True)
class Plugins:
    """All that was found, by key, in order."""

    rules: dict[str, Rule]
    codes: dict[str, Code]
    cables: dict[str, CableType]
    carriers: dict[str, CarrierType]
    tables: dict[str, Table]


def _distribution(point: EntryPoint) -> str:
    return point.dist.name if point.dist else point.value


def _load(point: EntryPoint) -> ModuleType:
    distribution = _distribution(point)
    try:
        module = point.load()
    except Exception as error:
        raise PluginError(
            f"{point.group} entry point {point.name!r} (from {distribution})",
            f"it can't be loaded: {error}",
            "mend or uninstall that distribution; wayroom doesn't run with fewer rules than are installed",
        ) from error
    if not isinstance(module, ModuleType) or (distribution == "wayroom" and not hasattr(module, "WAYROOM")):
        raise PluginError(
            f"{point.group} entry point {point.name!r} (from {distribution})",
            f"the package {point.value!r} that Python finds isn't the one that {distribution} ships",
            "another distribution uses the same package name: install wayroom in an environment of its own",
        )
    return module


def _modules(package: ModuleType, distribution: str) -> Iterator[ModuleType]:
    yield package
    for info in pkgutil.walk_packages(getattr(package, "__path__", []), f"{package.__name__}."):
        try:
            yield importlib.import_module(info.name)
        except Exception as error:
            raise PluginError(
                f"module {info.name} (from {distribution})", f"it can't be loaded: {error}", "mend that distribution"
            ) from error


def _put(found: dict[str, T], what: str, key: str, item: T, distribution: str) -> None:
    if key in found:
        raise PluginError(
            f"{what} {key} (from {distribution})",
            f"another installed distribution has a {what} of the same key",
            "uninstall one of them, or rename the key in one",
        )
    found[key] = item


def _files(package: ModuleType, ending: str) -> Iterator[Traversable]:
    yield from sorted(
        (file for file in importlib.resources.files(package).iterdir() if file.name.endswith(ending)),
        key=lambda file: file.name,
    )


def _table(file: Traversable, distribution: str) -> Table:
    data = file.read_bytes()
    return Table.parse(
        file.name, data.decode("utf-8"), distribution=distribution, sha256=hashlib.sha256(data).hexdigest()
    )


@cache
def load_plugins() -> Plugins:
    """Loads everything that is installed.

    Raises:
        PluginError: Something doesn't load, clashes or is malformed. It names the distribution.
    """
    found = Plugins({}, {}, {}, {}, {})
    for point in _points(RULES):
        _load_rules(_load(point), _distribution(point), found)
    for point in _points(CATALOGUES):
        _load_tables(_load(point), _distribution(point), found)
    for point in _points(CODES):
        _load_codes(_load(point), _distribution(point), found)
    return found


def _load_rules(package: ModuleType, distribution: str, found: Plugins) -> None:
    for module in _modules(package, distribution):
        for item in vars(module).values():
            if hasattr(item, MARK) and getattr(item, "__module__", "") == module.__name__:
                rule = read_rule(item, distribution)
                _put(found.rules, "rule", rule.id, rule, distribution)


def _load_tables(package: ModuleType, distribution: str, found: Plugins) -> None:
    """Tables by file name; those of cables and carriers are catalogues too."""
    for file in _files(package, ".csv"):
        table = _table(file, distribution)
        _put(found.tables, "table", file.name, table, distribution)
        if file.name.startswith("cables"):
            for cable in read_cables(table, distribution):
                _put(found.cables, "cable", cable.key, cable, distribution)
        if file.name.startswith("carriers"):
            for carrier in read_carriers(table, distribution):
                _put(found.carriers, "carrier", carrier.key, carrier, distribution)


def _load_codes(package: ModuleType, distribution: str, found: Plugins) -> None:
    for file in _files(package, ".toml"):
        data = file.read_bytes()
        code = read_code(
            data.decode("utf-8"),
            found.rules,
            found.tables,
            where=file.name,
            distribution=distribution,
            sha256=hashlib.sha256(data).hexdigest(),
        )
        _put(found.codes, "code", code.key, code, distribution)


def _points(group: str) -> list[EntryPoint]:
    points = sorted(entry_points(group=group), key=lambda point: (_distribution(point), point.name))
    if not points:
        raise PluginError(
            f"entry points {group}",
            "none is installed, not even ours",
            "install wayroom again: pip install --force-reinstall .",
        )
    return points


def code_of(plugins: Plugins, key: str) -> Code:
    """A code by its key. It is never guessed.

    Raises:
        InputError: None is given, or there is none of that key.
    """
    choice = ", ".join(plugins.codes)
    if not key:
        hint = f'say --code KEY, or code = "KEY" in wayroom.toml; one of: {choice}'
        raise InputError("--code", "no code of practice is given", hint)
    if key not in plugins.codes:
        raise InputError("--code", f"there is no code {key!r}", f"one of: {choice}")
    return plugins.codes[key]
