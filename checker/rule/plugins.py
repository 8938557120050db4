"""Finds rules, codes and catalogues by entry point, ours as anybody's. Whatever doesn't load stops the run."""

import hashlib
import importlib
import importlib.resources
import pkgutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from importlib.metadata import EntryPoint, entry_points
from importlib.resources.abc import Traversable
from types import ModuleType
from typing import Any, TypeVar

from checker.errors import InputError, PluginError
from checker.rule.catalogue import CableType, CarrierType, check_name, read_cables, read_carriers
from checker.rule.code import Code, read_codes
from checker.rule.code_file import CodeFile, parse_code
from checker.rule.guarded import OURS, what_to_do
from checker.rule.refused import near
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
    if not isinstance(module, ModuleType) or (distribution == OURS and not hasattr(module, "WAYROOM")):
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


@dataclass(frozen=True, slots=True)
class _Spot:
    """Where something was found: who ships it, in which module or file, at which line of a table."""

    distribution: str
    file: str
    line: int | None = None


@dataclass(frozen=True, slots=True)
class _Finds:
    """All that was found so far, and where each stands, by what it is and its key."""

    plugins: Plugins
    files: dict[str, CodeFile]
    spots: dict[tuple[str, str], _Spot]

    def put(self, found: dict[str, T], what: str, key: str, item: T, spot: _Spot) -> None:
        """Takes something, if nothing of that sort has its key yet."""
        first = self.spots.setdefault((what, key), spot)
        if key not in found:
            found[key] = item
            return
        if first.distribution != spot.distribution:
            # of ours and another's it's the other that has to be renamed, whichever was found first
            ours, theirs = (spot, first) if spot.distribution == OURS else (first, spot)
            raise PluginError(
                f"{what} {key} (from {theirs.distribution})",
                f"the distribution {ours.distribution} has a {what} of the same key",
                f"uninstall one of them, or rename the {'file' if what == 'table' else 'key'} in one",
            )
        at = f"{spot.file}{'' if spot.line is None else f', line {spot.line}'} (from {spot.distribution})"
        if first.line is not None and first.file == spot.file:
            what_is = f"the key {key} stands in line {first.line} already"
            raise PluginError(f"table {at}", what_is, f"give each {what} a key of its own")
        if first.file == spot.file:
            hint = "two of its entry points lead to it, or two rules or files in it are named alike: keep one"
            raise PluginError(at, f"the {what} {key} is found in it twice", hint)
        hint = "rename the key in one, or keep one of them"
        raise PluginError(at, f"{first.file} of that distribution has a {what} of the same key, {key}", hint)


def _files(package: ModuleType, ending: str) -> Iterator[Traversable]:
    """The files of a package with an ending, by name; a module that is none has none."""
    if hasattr(package, "__path__"):
        files = (file for file in importlib.resources.files(package).iterdir() if file.name.endswith(ending))
        yield from sorted(files, key=lambda file: file.name)


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
    finds = _Finds(Plugins({}, {}, {}, {}, {}), {}, {})
    for group, (load, lacks, hint) in LOADERS.items():
        for point in _points(group):
            if not load(_load(point), _distribution(point), finds):
                raise PluginError(f"{group} entry point {point.name!r} (from {_distribution(point)})", lacks, hint)
    found = finds.plugins
    found.codes.update(read_codes(finds.files, found.rules, found.tables))
    return found


def _load_rules(package: ModuleType, distribution: str, finds: _Finds) -> int:
    """Takes the rules of a package; how many there are."""
    number = 0
    for module in _modules(package, distribution):
        for item in vars(module).values():
            if hasattr(item, MARK) and getattr(item, "__module__", "") == module.__name__:
                rule = _rule(item, module, distribution)
                finds.put(finds.plugins.rules, "rule", rule.id, rule, _Spot(distribution, f"module {module.__name__}"))
                number += 1
    return number


def _rule(item: Any, module: ModuleType, distribution: str) -> Rule:
    """A declared rule; whatever can't be read of it is told as its distribution's."""
    try:
        return read_rule(item, distribution)
    except PluginError:
        raise
    except Exception as error:
        at, what = f"module {module.__name__} (from {distribution})", f"a rule in it can't be read: {error}"
        raise PluginError(at, what, what_to_do(distribution)) from error


def _load_tables(package: ModuleType, distribution: str, finds: _Finds) -> int:
    """Takes tables by file name; those of cables and carriers are catalogues too. How many tables there are."""
    found, files = finds.plugins, list(_files(package, ".csv"))
    for file in files:
        table = _table(file, distribution)
        check_name(table, distribution)
        finds.put(found.tables, "table", file.name, table, _Spot(distribution, file.name))
        if file.name.startswith("cables"):
            for line, cable in enumerate(read_cables(table, distribution), start=2):
                finds.put(found.cables, "cable", cable.key, cable, _Spot(distribution, file.name, line))
        if file.name.startswith("carriers"):
            for line, carrier in enumerate(read_carriers(table, distribution), start=2):
                finds.put(found.carriers, "carrier", carrier.key, carrier, _Spot(distribution, file.name, line))
    return len(files)


def _find_codes(package: ModuleType, distribution: str, finds: _Finds) -> int:
    """Takes the files of codes by key; how many. They are read when all are there, since one may extend another's."""
    files = list(_files(package, ".toml"))
    for file in files:
        text, sha256 = _text(file, distribution)
        code = parse_code(text, where=file.name, distribution=distribution, sha256=sha256)
        finds.put(finds.files, "code", code.key, code, _Spot(distribution, f"code {file.name}"))
    return len(files)


#: Entry point → what takes what it leads to, and what is said where it leads to nothing.
LOADERS: dict[str, tuple[Callable[[ModuleType, str, _Finds], int], str, str]] = {
    RULES: (
        _load_rules,
        "there is no rule in it",
        "put @rule(id=…, title=…) on a function that stands in this package or module, not on one that it imports",
    ),
    CATALOGUES: (
        _load_tables,
        "there is no table in it",
        "ship files named ….csv beside the package's __init__.py, as its data; cables….csv and carriers….csv are catalogues",
    ),
    CODES: (
        _find_codes,
        "there is no code in it",
        "ship a file named ….toml for each code beside the package's __init__.py, as its data",
    ),
}


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
        hint = f'say --code KEY, or for a model code = "KEY" in its wayroom.toml; one of: {choice}'
        raise InputError("--code", "no code of practice is given", hint)
    if key not in plugins.codes:
        raise InputError("--code", f"there is no code {key!r}", f"one of: {choice}{near(key, plugins.codes)}")
    return plugins.codes[key]
