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
from typing import Any, TypeVar

from checker.errors import InputError, PluginError
from checker.model import CarrierKind
from checker.rule.catalogue import CableType, CarrierType, read_cables, read_carriers
from checker.rule.code import Code, read_codes
from checker.rule.code_file import CodeFile, parse_code
from checker.rule.rule import MARK, Rule, Tells, read_rule
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


def _text(file: Traversable, distribution: str) -> tuple[str, str]:
    """What a file says, and its SHA-256."""
    data = file.read_bytes()
    try:
        return data.decode("utf-8-sig"), hashlib.sha256(data).hexdigest()
    except UnicodeDecodeError as error:
        what = f"it isn't UTF-8: {error.reason} at byte {error.start}"
        raise PluginError(
            f"{file.name} (from {distribution})", what, "save it as UTF-8 in that distribution"
        ) from error


def _table(file: Traversable, distribution: str) -> Table:
    text, sha256 = _text(file, distribution)
    return Table.parse(file.name, text, distribution=distribution, sha256=sha256)


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
    files: dict[str, CodeFile] = {}
    for point in _points(CODES):
        _find_codes(_load(point), _distribution(point), files)
    found.codes.update(read_codes(files, found.rules, found.tables))
    return found


def _load_rules(package: ModuleType, distribution: str, found: Plugins) -> None:
    for module in _modules(package, distribution):
        for item in vars(module).values():
            if hasattr(item, MARK) and getattr(item, "__module__", "") == module.__name__:
                rule = _rule(item, module, distribution)
                _put(found.rules, "rule", rule.id, rule, distribution)


def _rule(item: Any, module: ModuleType, distribution: str) -> Rule:
    """A declared rule, if what it declares can be: one of a kind that isn't there would never be asked, and nobody would be told."""
    try:
        rule = read_rule(item, distribution)
    except PluginError:
        raise
    except Exception as error:
        at, what = f"module {module.__name__} (from {distribution})", f"a rule in it can't be read: {error}"
        raise PluginError(at, what, "mend that distribution") from error
    at, kinds = f"rule {rule.id} (from {distribution})", {kind.value for kind in CarrierKind}
    if unknown := sorted(str(kind) for kind in rule.kinds if kind not in kinds):
        raise PluginError(
            at, f"{unknown[0]!r} is no kind of carrier", f"kinds is a list of: {', '.join(sorted(kinds))}"
        )
    if not isinstance(rule.tells, Tells):
        raise PluginError(at, f"tells is {rule.tells!r}", f"it is one of: {', '.join(map(str, Tells))}, as Tells.FILL")
    return rule


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


def _find_codes(package: ModuleType, distribution: str, files: dict[str, CodeFile]) -> None:
    """The files of codes by key. They are read when all are there, since one may extend another's."""
    for file in _files(package, ".toml"):
        text, sha256 = _text(file, distribution)
        found = parse_code(text, where=file.name, distribution=distribution, sha256=sha256)
        _put(files, "code", found.key, found, distribution)


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
