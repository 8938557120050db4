"""The workshop against its worked answers, which come from the sample's own folder, never from the program."""

import csv
import re
from pathlib import Path

import ifcopenshell
import pytest

from checker.checking import Request, check
from checker.read.sources import find_sources
from checker.result.tables import FindingRow, Result

MODEL = "workshop-P02.ifc"
# What README.md of the sample says is designed in.
FAILING = {
    ("MW-03", 1, "fill.compartment"), ("C-03", 1, "fill.count"), ("RC-05", 1, "fill.count"), ("PT-03", 1, "fill.layer"),
    ("MW-01", None, "grouping.ampacity"), ("RC-06", None, "grouping.ampacity"),
    ("FA-03", None, "pulling.bends"),
}  # fmt: skip
# What somebody waives by the sample's wayroom.toml, and until when.
WAIVED = {("RC-12", 1, "fill.jam"): "2027-06-30"}
UNKNOWN = {("RC-09", 1), ("PT-04", 1), ("MW-01", None)}
TOO_SMALL = {"DP-1/20,22,24", "DP-1/25,27,29", "DP-1/32,34,36", "LP-1/13", "LP-1/15", "LP-1/17"}
NOT_RATED = {"DP-1/26,28,30"}
# How the program calls the ways of meeting that the drawing shows.
FOUND_BY = {
    "end to end": "ends that meet",
    "end at a side": "an end at another's side",
    "end in a body": "an end in a fitting",
}
# Words by which a size may be said to come from where it should.
SIZED_BY = {
    "name": ("name",),
    "shape": ("box", "profile", "disk", "shape", "body"),
    "standard property": ("property Nominal",),
    "mapped property": ("Overall",),
    "project file": ("project",),
    "name, and the code's table": ("table", "catalogue", "trade size"),
}


@pytest.fixture(scope="session")
def workshop() -> Path:
    return Path(__file__).parents[2] / "sample_models" / "workshop"


@pytest.fixture(scope="session")
def shop_result(workshop: Path) -> Result:
    return check(Request(find_sources([workshop], None)))


def expected(workshop: Path, table: str) -> list[dict[str, str]]:
    with (workshop / "expected.csv").open(encoding="utf-8", newline="") as stream:
        return [row for row in csv.DictReader(stream) if row["table"] == table]


WORKED = expected(Path(__file__).parents[2] / "sample_models" / "workshop", "check")
#: All that expected.csv has answers for beside fill and ratings, so that those of a new rule are held against it once they stand there.
RULES = sorted({row["rule"] for row in WORKED})


def near(found: float | None, written: str) -> bool:
    """Equal to the last digit that the worked answer writes."""
    if found is None or not written:
        return found is None and not written
    digits = len(written.partition(".")[2])
    return abs(found - float(written)) <= 0.5 * 10.0**-digits + 1e-9


def labels_of(result: Result) -> dict[str, str]:
    return {row.key: row.place.tag for row in result.carriers}


def found_of(result: Result, verdict: str) -> dict[tuple[str, int | None, str], FindingRow]:
    labels = labels_of(result)
    return {(labels[f.carriers[0]], f.compartment, f.rule): f for f in result.findings if f.verdict == verdict}


def test_exactly_the_drawn_carriers_are_read(workshop: Path, shop_result: Result) -> None:
    tags = [row.place.tag for row in shop_result.carriers]
    assert sorted(tags) == sorted(row["key"] for row in expected(workshop, "segment"))
    assert len(tags) == 44
    assert not {"P-01", "P-02", "D-01", "D-02", "X-01"} & set(tags)  # pipes, ducts, and what the project ignores


def test_kinds_are_the_drawn_ones(shop_result: Result) -> None:
    kinds = {row.place.tag: str(row.kind) for row in shop_result.carriers}
    for tag, kind in kinds.items():
        start = tag.split("-")[0]
        wanted = {"MW": "trunking", "LW": "trunking", "DT": "tray", "PT": "tray"}.get(start, "conduit")
        assert kind == ("ladder" if tag == "PT-01" else wanted), tag


def test_every_fill_and_verdict_is_the_worked_one(workshop: Path, shop_result: Result) -> None:
    labels = labels_of(shop_result)
    found = {labels[row.carrier]: row for row in shop_result.compartments}
    fails = {(tag, rule) for tag, number, rule in found_of(shop_result, "fail") if number is not None}
    worked = expected(workshop, "segment")
    assert len(worked) == len(found) == len(shop_result.compartments)
    for row in worked:
        tag, here = row["key"], found[row["key"]]
        assert str(here.cables) == row["cables"], tag
        assert near(here.occupied_mm2, row["occupied_mm2"]), tag
        assert near(here.internal_area_mm2, row["internal_area_mm2"]), tag
        assert near(here.fill, row["fill"]), tag
        assert near(here.limit, row["limit"]), tag
        assert (here.verdict, here.worst_verdict) == (row["verdict"], row["worst_verdict"]), tag
        assert {rule for failing, rule in fails if failing == tag} == set(filter(None, [row["fails"]])), tag


def test_every_size_says_where_it_comes_from(workshop: Path, shop_result: Result) -> None:
    sources = {row.place.tag: row.dimension_source for row in shop_result.carriers}
    for row in expected(workshop, "segment"):
        if row["size_from"]:
            assert any(word in sources[row["key"]] for word in SIZED_BY[row["size_from"]]), (
                row["key"],
                sources[row["key"]],
            )


def test_every_route_is_the_worked_one(workshop: Path, shop_result: Result) -> None:
    labels = labels_of(shop_result)
    found = {row.circuit: row for row in shop_result.circuits}
    worked = expected(workshop, "route")
    assert len(worked) == len(found) == 38
    for row in worked:
        here = found[row["key"]]
        assert "; ".join(labels[key] for key in here.carriers) == row["carriers"], row["key"]
        if not row["length_m"]:
            assert here.length_m is None, row["key"]
            continue
        # what a cable does within the sections that meet isn't drawn, and an arc may be read as chords
        assert here.length_m is not None, row["key"]
        assert 0.999 * float(row["length_m"]) <= here.length_m <= float(row["length_most_m"]) + 0.001, row["key"]


def test_every_rating_is_the_worked_one(workshop: Path, shop_result: Result) -> None:
    labels = labels_of(shop_result)
    found = {row.circuit: row for row in shop_result.ratings}
    worked = expected(workshop, "rating")
    assert {row["key"] for row in worked} == set(found)
    assert len(worked) == 33
    for row in worked:
        here = found[row["key"]]
        assert labels[here.carrier] == row["governing_segment"], row["key"]
        assert near(here.grouping_factor, row["grouping_factor"]), row["key"]
        assert near(here.capacity_a, row["capacity_a"]), row["key"]
        assert near(here.required_a, row["required_a"]), row["key"]
        assert here.verdict == row["verdict"], row["key"]


def test_every_join_is_a_drawn_one_and_found_as_it_is_drawn(workshop: Path, shop_result: Result) -> None:
    model = ifcopenshell.open(str(workshop / MODEL))

    def tag(key: str) -> str:
        return str(model.by_guid(key).Tag)

    found = {(frozenset((tag(join.one), tag(join.other))), join.found_by) for join in shop_result.joins}
    worked = {(frozenset((row["key"], row["other"])), FOUND_BY[row["found_by"]]) for row in expected(workshop, "join")}
    assert found == worked
    assert len(worked) == 43


def test_every_problem_that_must_be_said_is_said_with_its_kind(workshop: Path, shop_result: Result) -> None:
    said = [(str(problem.kind), f"{problem.where}: {problem.what}; {problem.why}") for problem in shop_result.problems]
    for row in expected(workshop, "problem"):
        words = [row["key"]] if row["key"].startswith("circuit ") else row["key"].split()
        assert any(kind == row["kind"] and all(word in text for word in words) for kind, text in said), row["key"]


def test_names_and_geometry_that_were_believed_are_listed_as_inferences(shop_result: Result) -> None:
    inferred = [problem for problem in shop_result.problems if problem.kind == "inference"]
    assert any("name" in f"{problem.what} {problem.why}" and "P02" in problem.where for problem in inferred)
    assert sum(problem.elements for problem in inferred) > 40  # all joins are by geometry


def test_no_problem_speaks_of_what_is_in_order(shop_result: Result) -> None:
    gaps = [problem for problem in shop_result.problems if problem.kind in {"gap", "correction"}]
    named = {word for problem in gaps for word in re.findall(r"[A-Z]+-\d+", f"{problem.where} {problem.what}")}
    assert not {"MW-05", "C-10", "RC-06", "RC-12", "FA-03", "DT-03", "P-01", "D-01"} & named
    assert {"RC-99", "LW-04"} <= named


def test_circuits_without_ends_take_them_from_the_model(workshop: Path, shop_result: Result) -> None:
    model = ifcopenshell.open(str(workshop / MODEL))
    tags = {element.GlobalId: str(element.Tag) for element in model.by_type("IfcElement")}
    ends = {
        row.circuit: (tags.get(row.origin, row.origin), {tags.get(call, call) for call in row.calls})
        for row in shop_result.circuits
    }  # an end may be told by its GlobalId
    assert ends["LP-1/1"] == ("LP-1", {"RO-1"})
    assert ends["LP-1-9"] == ("LP-1", {"RO-5"})
    assert ends["LP-1 6"] == ("LP-1", {"LF-3"})
    assert ends["38"] == ("LP-1", {"LF-6"})
    assert ends["DP-1/7,9,11"] == ("DP-1", {"MO-03"})
    assert ends["LP-1/8"] == ("LP-1", {"LF-4A", "LF-4B"})


@pytest.mark.parametrize("rule", RULES)
def test_every_other_answer_is_the_worked_one(shop_result: Result, rule: str) -> None:
    labels = labels_of(shop_result)
    found = {tuple(sorted(labels[key] for key in f.carriers)): f for f in shop_result.findings if f.rule == rule}
    worked = {tuple(row["key"].split("; ")): row for row in WORKED if row["rule"] == rule}
    assert worked.keys() == found.keys()
    for place, row in worked.items():
        assert found[place].verdict == row["verdict"], place
        assert near(found[place].value, row["value"]), (place, found[place].value, row["value"])
        assert near(found[place].limit, row["limit"]), (place, found[place].limit, row["limit"])


def test_every_rule_that_the_code_asks_has_worked_answers(shop_result: Result) -> None:
    apart = {"fill.compartment", "fill.count", "fill.layer", "grouping.ampacity"}
    assert {f.rule for f in shop_result.findings} == {*RULES, *apart}
    assert len(RULES) >= 4
    assert len(WORKED) >= 50


def test_what_fails_is_what_was_designed_to_and_nothing_else(shop_result: Result) -> None:
    labels = labels_of(shop_result)
    unknown = {(labels[f.carriers[0]], f.compartment) for f in shop_result.findings if f.verdict == "unknown"}
    assert set(found_of(shop_result, "fail")) == FAILING
    assert unknown == UNKNOWN


def test_what_is_waived_is_what_the_project_file_waives_and_by_whom(shop_result: Result) -> None:
    found = found_of(shop_result, "waived")
    assert {place: [one.until for one in row.waived_by] for place, row in found.items()} == {
        place: [until] for place, until in WAIVED.items()
    }
    assert [(row.state, row.findings) for row in shop_result.waivers] == [
        ("holds", tuple(r.id for r in found.values()))
    ]
    assert not {topic.rule for topic in shop_result.topics} & {rule for _, _, rule in WAIVED}  # nothing to raise


def test_what_is_too_small_and_what_is_not_rated_is_what_was_designed_to_be(shop_result: Result) -> None:
    verdicts = {row.circuit: row.verdict for row in shop_result.ratings}
    assert {mark for mark, verdict in verdicts.items() if verdict == "fail"} == TOO_SMALL
    assert {mark for mark, verdict in verdicts.items() if verdict == "unknown"} == NOT_RATED


def test_the_readme_names_every_length_that_fails_is_waived_or_unknown(workshop: Path) -> None:
    text = (workshop / "README.md").read_text(encoding="utf-8")
    tags = {place[0] for place in (*FAILING, *UNKNOWN, *WAIVED)}
    assert not {tag for tag in tags if tag not in text}
