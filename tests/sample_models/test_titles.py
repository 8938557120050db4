"""What the samples' findings are called: in the words of their rules, so that a person knows what a figure is of."""

from pathlib import Path

import pytest

from checker.checking import Request, check
from checker.read.sources import find_sources
from checker.result.notes import shown
from checker.result.tables import Result

SAMPLES = Path(__file__).parents[2] / "sample_models"

#: Figures are those of the worked answers: 8095.5 of 15950.0 mm² is 50.76 %, 1.05 · 38.80 is 40.7; 207.4 of 373.3 mm² is 55.6 %;
#: 9.707 kg/m of cables and 4 kg/m of ladder are 13.71.
TITLES = {
    ("vet_practice", "access.closed"): "55.6 % with 25 % spare, limit 45 %",
    ("vet_practice", "fill.seal"): "33.1 % at Corridor partition wall, limit 32 %",
    ("vet_practice", "segregation.compartment"): "services together, must be apart",
    ("data_room", "fill.spare"): "40.7 % with 5 % spare, limit 40 %",
    ("data_room", "fill.tray"): "50.8 % full, limit 40 %",
    ("data_room", "segregation.redundancy"): "19.00 m shared by DX-01 and DX-02, none may be",
    ("data_room", "segregation.spacing"): "16 mm between data and power, at least 20 mm",
    ("data_room", "support.load"): "13.71 kg/m between supports, limit 13 kg/m",
    ("workshop", "pulling.bends"): "450° of bends in a run, limit 360°",
}
#: All that is waived, of which no topic is made. Three right angles where UK practice has two; 0.622 in over 0.216 in is 2.88.
WAIVED = {
    "vet_practice": {"pulling.bends": "270° of bends in a run / 180°"},
    "data_room": {},
    "workshop": {"fill.jam": "2.88 D/d / between 2.8 and 3.2 three may jam"},
}


@pytest.fixture(scope="module", params=["vet_practice", "data_room", "workshop"])
def sample(request: pytest.FixtureRequest) -> tuple[str, Result]:
    return request.param, check(Request(find_sources([SAMPLES / request.param], None)))


def test_a_title_says_what_its_figure_is_of(sample: tuple[str, Result]) -> None:
    name, result = sample
    first: dict[str, str] = {}
    for topic in result.topics:
        first.setdefault(topic.rule, topic.title.split(": ", 1)[1])
    wanted = {rule: title for (of, rule), title in TITLES.items() if of == name}
    assert {rule: first[rule] for rule in wanted} == wanted


def test_what_is_waived_is_told_with_what_its_figure_is_of(sample: tuple[str, Result]) -> None:
    name, result = sample
    assert {row.rule: shown(row) for row in result.findings if row.verdict == "waived"} == WAIVED[name]


def test_no_source_says_the_same_twice(sample: tuple[str, Result]) -> None:
    _, result = sample
    for finding in result.findings:
        told = finding.source.replace("spare: ", "").split("; ")
        assert len(set(told)) == len(told), finding.source


def test_every_finding_at_a_wall_or_slab_names_the_carrier_there_and_no_reason_says_it_again(
    sample: tuple[str, Result],
) -> None:
    _, result = sample
    labels = {row.key: row.place.label for row in result.carriers}
    for finding in (row for row in result.findings if row.rule == "fill.seal"):
        assert finding.at.startswith(labels[finding.carriers[0]])
        assert " at " in finding.at
        assert finding.at.partition(" at ")[2] not in finding.reason


def test_what_is_too_full_already_and_so_has_no_room_for_later_is_one_note() -> None:
    """BD-11 and BD-12 fail by their fill, and so by room for later; BD-01 has room but for that."""
    result = check(Request(find_sources([SAMPLES / "data_room"], None)))
    labels = {row.key: row.place.label for row in result.carriers}
    findings = {row.id: row for row in result.findings}
    told = {
        topic.rule: {(labels[findings[key].carriers[0]], findings[key].rule) for key in topic.members}
        for topic in result.topics
    }
    assert told["fill.tray"] == {(label, rule) for label in ("BD-11", "BD-12") for rule in ("fill.tray", "fill.spare")}
    assert told["fill.spare"] == {("BD-01", "fill.spare")}
    assert sum(topic.rule == "fill.spare" for topic in result.topics) == 1


def test_notes_name_a_compartment_only_where_there_are_several(sample: tuple[str, Result]) -> None:
    """Of all lengths only the veterinary practice's floor trunking and its trays with a divider have several; conduits never do."""
    name, result = sample
    titles = [topic.title for topic in result.topics]
    lines = [line for topic in result.topics for line in topic.description.split("\n") if line.startswith("- ")]

    numbered = [text for text in (*titles, *lines) if ", compartment " in text]

    assert all("FT-" in text or "TR-" in text for text in numbered)
    assert not any(", compartment " in text for text in titles if "conduit" in text)
    assert bool(numbered) == (name == "vet_practice")


def test_notes_of_a_model_with_a_grid_name_the_nearest_axes(sample: tuple[str, Result]) -> None:
    """Of the data room: the middle of LA-10 is at x = 2, y = 2.7 m, with axis A at x = 0 and axis 1 at y = 0."""
    name, result = sample
    told = [line for topic in result.topics for line in topic.description.split("\n") if "Nearest grid axes" in line]

    assert len(told) == (len(result.topics) if name == "data_room" else 0)
    here = "Nearest grid axes to LA-10: 1 (2.70 m off) and A (2.00 m off)."
    assert sum(line.endswith(here) for line in told) == (name == "data_room")
