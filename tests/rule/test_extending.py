"""A code that extends another: it takes its sizes and rules, and has figures of its own over them."""

import itertools
from pathlib import Path
from typing import Any

import pytest

import rules
from checker.checking import table_files
from checker.errors import PluginError
from checker.rule import Limit
from checker.rule.code import Code, differences, read_codes
from checker.rule.code_file import CodeFile, parse_code
from checker.rule.plugins import load_plugins

PLUGINS = load_plugins()
OURS = {
    path.stem: parse_code(path.read_text(encoding="utf-8"), where=path.name, distribution="wayroom", sha256=path.stem)
    for path in sorted((Path(rules.__file__).parent / "codes").glob("*.toml"))
}
HEAD = """key = "{key}"
title = "House guide"
edition = "second, invented"
note = "Invented."
extends = "{base}"
"""
LIMIT = (
    '[rules."{rule}".{name}]\nvalue = {value}\nbasis = "guidance"\nsource = "house guide, 3.1"\nconfidence = "high"\n'
)


def file(key: str, base: str, more: str = "", distribution: str = "theirs") -> CodeFile:
    text = HEAD.format(key=key, base=base) + more
    return parse_code(text, where=f"{key}.toml", distribution=distribution, sha256=f"sha of {key}")


def limit(rule: str, name: str, value: float) -> str:
    return LIMIT.format(rule=rule, name=name, value=value)


def read(*files: CodeFile) -> dict[str, Code]:
    return read_codes({**OURS, **{one.key: one for one in files}}, PLUGINS.rules, PLUGINS.tables)


def figure(code: Code, rule: str, name: str) -> float | None:
    found: Limit | None = getattr(code.limits[rule], name)
    return None if found is None else found.value


def told(code: Code) -> list[tuple[str, str, Any, Any]]:
    """Differences, limits by their figures."""

    def short(item: object) -> object:
        return item.value if isinstance(item, Limit) else item if item is None else type(item).__name__

    return [(one.rule, one.name, short(one.before), short(one.after)) for one in differences(code)]


def test_one_that_adds_nothing_has_the_sizes_rules_and_figures_of_the_other_and_a_head_of_its_own() -> None:
    code = read(file("house", "bs-7671"))["house"]
    base = PLUGINS.codes["bs-7671"]
    assert (code.title, code.edition, code.distribution, code.sha256) == (
        "House guide", "second, invented", "theirs", "sha of house",
    )  # fmt: skip
    assert code.sizes == base.sizes
    assert dict(code.limits) == dict(base.limits)
    assert code.base is not None
    assert code.base.key == "bs-7671"
    assert differences(code) == []
    assert differences(base) == []


def test_a_figure_goes_over_the_others_and_the_rest_of_its_rule_stays() -> None:
    more = limit("fill.conduit", "multicore_space_factor", 0.35)
    code = read(file("house", "bs-7671", more))["house"]
    assert figure(code, "fill.conduit", "multicore_space_factor") == 0.35
    assert code.limits["fill.conduit"].multicore_space_factor.source == "house guide, 3.1"  # type: ignore[attr-defined]
    assert figure(code, "fill.conduit", "utilisation") == 1.0
    assert figure(PLUGINS.codes["bs-7671"], "fill.conduit", "multicore_space_factor") == 0.45
    assert told(code) == [("fill.conduit", "multicore_space_factor", 0.45, 0.35)]


def test_a_looser_figure_is_its_own_editions_matter() -> None:
    code = read(file("house", "bs-7671", limit("fill.compartment", "space_factor", 0.60)))["house"]
    assert figure(code, "fill.compartment", "space_factor") == 0.60


def test_a_figure_that_the_other_lacks_and_a_rule_that_it_does_not_ask_are_added() -> None:
    more = limit("fill.tray", "space_factor", 0.40) + limit("fill.area", "space_factor", 0.30)
    drop = 'without = ["fill.compartment", "fill.conduit"]\n'
    code = read(file("house", "bs-7671", drop + more))["house"]
    assert figure(code, "fill.tray", "space_factor") == 0.40
    assert figure(code, "fill.area", "space_factor") == 0.30
    assert not {"fill.compartment", "fill.conduit"} & set(code.limits)
    assert [(one.rule, one.name, one.before is None, one.after is None) for one in differences(code)] == [
        ("fill.compartment", "", False, True),
        ("fill.conduit", "", False, True),
        ("fill.tray", "space_factor", True, False),
        ("fill.area", "", True, False),
    ]


def test_a_size_goes_over_the_others() -> None:
    wall = '[sizes.thickest_wall_mm]\nvalue = 2.5\nbasis = "note"\nsource = "house guide, 2"\nconfidence = "high"\n'
    code = read(file("house", "bs-7671", wall))["house"]
    assert code.sizes.thickest_wall_mm.value == 2.5
    assert code.sizes.trunking_walls is PLUGINS.codes["bs-7671"].sizes.trunking_walls
    assert told(code) == [("", "thickest_wall_mm", 3.0, 2.5)]


def test_a_chain_goes_on_and_the_nearest_figure_holds() -> None:
    first = file(
        "first", "bs-7671", limit("fill.compartment", "space_factor", 0.40) + limit("fill.tray", "space_factor", 0.5)
    )
    second = file("second", "first", limit("fill.compartment", "space_factor", 0.35))
    code = read(first, second)["second"]
    assert figure(code, "fill.compartment", "space_factor") == 0.35
    assert figure(code, "fill.tray", "space_factor") == 0.5
    assert [one.key for one in code.chain] == ["second", "first", "bs-7671"]
    assert code.full_title.split(", extending ")[1] == "House guide (second, invented)"
    assert told(code) == [("fill.compartment", "space_factor", 0.40, 0.35)]


def test_all_files_of_a_chain_are_told_with_their_hashes() -> None:
    code = read(file("first", "bs-7671"), file("second", "first"))["second"]
    files = [(one.name, one.sha256) for one in table_files(code, PLUGINS) if one.role == "code"]
    assert files == [("second.toml", "sha of second"), ("first.toml", "sha of first"), ("bs-7671.toml", "bs-7671")]


def test_the_order_in_which_they_are_found_does_not_matter() -> None:
    three = (
        file("a-last", "m-middle", limit("fill.compartment", "space_factor", 0.30)),
        file("m-middle", "z-first", 'without = ["fill.tray"]\n'),
        file("z-first", "bs-7671", limit("fill.compartment", "space_factor", 0.40)),
        OURS["bs-7671"],
    )
    read_each = [
        read_codes({one.key: one for one in order}, PLUGINS.rules, PLUGINS.tables)
        for order in itertools.permutations(three)
    ]
    assert all(each == read_each[0] for each in read_each)
    assert figure(read_each[0]["a-last"], "fill.compartment", "space_factor") == 0.30


@pytest.mark.parametrize(
    ("files", "words"),
    [
        ((file("house", "bs-9999"),), "it extends the code bs-9999, which isn't there"),
        ((file("one", "two"), file("two", "one", distribution="others")), "circle: "),
        ((file("own", "own"),), "codes of theirs extend each other in a circle: own → own"),
        ((file("house", "bs-7671", 'without = ["fill.none"]\n'),), "leaves out fill.none, which bs-7671 doesn't ask"),
        (
            (file("house", "bs-7671", 'without = ["fill.tray"]\n' + limit("fill.tray", "space_factor", 0.4)),),
            "leaves out fill.tray, and has figures of it",
        ),
        ((file("house", "bs-7671", limit("fill.none", "ratio", 2.8)),), "it asks for the rule fill.none, which isn't there"),
        ((file("house", "bs-7671", limit("fill.tray", "ratio", 2.8)),), "ratio"),
        ((file("house", "bs-7671", limit("fill.area", "space_factor", 0.4)),), "both speak of"),
        ((file("house", "bs-7671", "rules = 3\n"),), "rules isn't a table"),
        ((file("house", "bs-7671", '[rules]\n"fill.tray" = 3\n'),), "rules.fill.tray isn't a table"),
        (
            (file("house", "bs-7671", '[rules."fill.conduit"]\nlengths = { table = "none.csv" }\n'),),
            "it names the table none.csv, which no installed distribution ships",
        ),
    ],
)  # fmt: skip
def test_what_can_not_be_extended_so_stops_the_run_and_is_named(files: tuple[CodeFile, ...], words: str) -> None:
    with pytest.raises(PluginError, match=words.replace(".", r"\.")) as caught:
        read(*files)
    assert "theirs" in f"{caught.value.where} {caught.value.what}"


@pytest.mark.parametrize(
    ("value", "more", "words"),
    [
        (45, "", "space_factor = 45 is more than 1; a share is written as 0.45"),
        ("inf", "", "isn't a number from 0 up"),
        ("nan", "", "isn't a number from 0 up"),
        (-0.4, "", "isn't a number from 0 up"),
        (0.4, 'basis = "project"', "said to be a project's own"),
        (0.4, 'source = " "', "fill.compartment space_factor source is empty"),
        (
            '"0.4"',
            "",
            "fill.compartment space_factor value = '0.4' can't be that; it should be a number, written without quotes",
        ),
    ],
)
def test_a_figure_that_no_code_has_stops_the_run(value: float | str, more: str, words: str) -> None:
    """By 45 for 45 % or by infinity all would pass."""
    lines = dict(line.split(" = ", 1) for line in LIMIT.splitlines()[1:]) | dict([more.split(" = ", 1)] if more else [])
    text = "".join(f"{name} = {figure}\n" for name, figure in lines.items()).format(value=value)
    with pytest.raises(PluginError, match=words) as caught:
        read(file("house", "bs-7671", f'[rules."fill.compartment".space_factor]\n{text}'))
    assert caught.value.where == "code house.toml (from theirs)"


def test_a_size_that_no_code_has_stops_the_run() -> None:
    own = '[sizes.thickest_wall_mm]\nvalue = inf\nbasis = "guidance"\nsource = "house guide, 4"\nconfidence = "high"\n'
    with pytest.raises(PluginError, match="sizes thickest_wall_mm = inf"):
        read(file("house", "bs-7671", own))


def test_the_title_says_what_it_leaves_out_so_that_silence_is_no_pass() -> None:
    """A code of the name "extending BS 7671" would else be taken to ask all that BS 7671 asks."""
    codes = read(
        file("house", "bs-7671", 'without = ["segregation.compartment", "fill.tray"]\n'), file("flat", "house")
    )
    left = ", ".join(rule for rule in OURS["bs-7671"].data["rules"] if rule in {"segregation.compartment", "fill.tray"})
    base = codes["bs-7671"].full_title
    assert codes["house"].full_title == f"House guide (second, invented), extending {base} without {left}"
    assert codes["flat"].full_title == f"House guide (second, invented), extending {codes['house'].full_title}"


def test_a_circle_names_all_its_distributions() -> None:
    with pytest.raises(PluginError) as caught:
        read(file("one", "two"), file("two", "one", distribution="others"))
    assert "theirs" in caught.value.what
    assert "others" in caught.value.what


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("key = ", "isn't TOML"),
        ('title = "x"\n', "has no key"),
        ('key = "x"\nextends = 3\n', "extends isn't the key of a code"),
        ('key = "x"\nextends = "bs-7671"\nwithout = "fill.tray"\n', "without isn't a list of rules"),
        ('key = "x"\nwithout = ["fill.tray"]\n', "it extends no code"),
    ],
)
def test_a_file_that_is_none_of_a_code_is_named(text: str, words: str) -> None:
    with pytest.raises(PluginError, match=words) as caught:
        parse_code(text, where="x.toml", distribution="theirs", sha256="")
    assert caught.value.where == "code x.toml (from theirs)"


def test_a_head_of_its_own_is_asked_for() -> None:
    bare = parse_code('key = "house"\nextends = "bs-7671"\n', where="h.toml", distribution="theirs", sha256="")
    with pytest.raises(PluginError, match="edition"):
        read(bare)
