"""The files of codes, before they are held against rules and tables: what one takes from another that it extends."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from checker.errors import PluginError
from checker.rule.refused import EXTENDS, WITHOUT, near

SIZES, RULES = "sizes", "rules"
MEND = "mend the code's file in that distribution"


@dataclass(frozen=True, slots=True)
class CodeFile:
    """The file of a code as it stands there: ``data`` is its TOML. ``where``: its name, for messages. ``distribution``: who ships it."""

    key: str
    data: Mapping[str, Any]
    where: str
    distribution: str
    sha256: str

    @property
    def at(self) -> str:
        """What messages call it."""
        return f"code {self.where} (from {self.distribution})"

    @property
    def extends(self) -> str:
        """The key of the code that it extends; empty: none."""
        return str(self.data.get(EXTENDS, ""))


def parse_code(text: str, *, where: str, distribution: str, sha256: str) -> CodeFile:
    """Reads the file of a code.

    Raises:
        PluginError: It isn't TOML, has no key, or what it says of the code that it extends can't be that.
    """
    file = CodeFile("", {}, where, distribution, sha256)
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise PluginError(file.at, f"it isn't TOML: {error}", MEND) from error
    key, extends, without = data.get("key"), data.get(EXTENDS, ""), data.get(WITHOUT, [])
    if not isinstance(key, str):
        raise PluginError(file.at, "it has no key", 'add key = "…"')
    if not isinstance(extends, str):
        raise PluginError(file.at, f"{EXTENDS} isn't the key of a code", f'write {EXTENDS} = "…"')
    if not isinstance(without, list) or not all(isinstance(rule, str) for rule in without):
        raise PluginError(file.at, f"{WITHOUT} isn't a list of rules", f'write {WITHOUT} = ["…"]')
    if without and not extends:
        raise PluginError(file.at, f"{WITHOUT} leaves out rules, and it extends no code", f'add {EXTENDS} = "…"')
    return replace(file, key=key, data=data)


def parents_first(files: Mapping[str, CodeFile], key: str) -> list[CodeFile]:
    """The file of a code after those that it extends.

    Raises:
        PluginError: One of them isn't there, or extends what extends it.
    """
    chain = [files[key]]
    while extends := chain[0].extends:
        if extends not in files:
            others = sorted(set(files) - {file.key for file in chain})
            hint = f"install the distribution that has it, or name one of: {', '.join(others)}{near(extends, others)}"
            raise PluginError(chain[0].at, f"it extends the code {extends}, which isn't there", hint)
        if files[extends] in chain:
            circle = " → ".join(file.key for file in [files[extends], *chain])
            who = " and ".join(dict.fromkeys(file.distribution for file in chain))
            raise PluginError(chain[0].at, f"codes of {who} extend each other in a circle: {circle}", MEND)
        chain.insert(0, files[extends])
    return chain


def extended(file: CodeFile, base: CodeFile) -> CodeFile:
    """A file with all that it takes from the code that it extends: sizes, and rules figure by figure; its own go over them.

    Args:
        file: As it stands.
        base: The code that it extends, itself whole.

    Raises:
        PluginError: It leaves out a rule that isn't there, or has figures of one that it leaves out.
    """
    taken: dict[str, Any] = dict(base.data[RULES])
    rules, without = _table(file, RULES), file.data.get(WITHOUT, [])
    for rule in without:
        if rule not in taken:
            hint = f"one of: {', '.join(taken)}"
            raise PluginError(file.at, f"it leaves out {rule}, which {base.key} doesn't ask", hint)
        if rule in rules:
            raise PluginError(file.at, f"it leaves out {rule}, and has figures of it", "keep one of the two")
    kept = {rule: figures for rule, figures in taken.items() if rule not in without}
    for rule in rules:
        kept[rule] = {**kept.get(rule, {}), **_table(file, RULES, rule)}
    own = {key: value for key, value in file.data.items() if key not in {EXTENDS, WITHOUT}}
    return replace(file, data={**own, SIZES: {**base.data[SIZES], **_table(file, SIZES)}, RULES: kept})


def _table(file: CodeFile, *path: str) -> dict[str, Any]:
    found: Any = file.data
    for name in path:
        found = found.get(name, {})
        if not isinstance(found, dict):
            raise PluginError(file.at, f"{'.'.join(path)} isn't a table", MEND)
    return dict(found)
