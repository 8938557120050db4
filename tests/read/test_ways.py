"""What wayroom.toml says of ways, put to carriers and circuits: whom it speaks of, what it means for them, and what fits nothing."""

import random
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import pytest
from pydantic import ValidationError

from checker.model import Carrier, CarrierKind, Circuit, Problem, Service
from checker.read import ways
from checker.read.project import Project
from checker.read.ways import with_way_limits
from tests.installations import STEEL_50, carrier, circuit, lanes


def item(key: str, type_name: str = "", name: str = "", kind: CarrierKind = CarrierKind.TRUNKING) -> Carrier:
    """A carrier with the key as its tag and another GlobalId."""
    made = carrier(key, (0, 0, 0), (1000, 0, 0), kind=kind)
    return replace(made, type_name=type_name, place=replace(made.place, global_id=f"gid-{key}", name=name))


TR1, TR2 = item("TR-1", "Tray 300", kind=CarrierKind.TRAY), item("TR-2", "Tray 300", kind=CarrierKind.TRAY)
CO1 = item("CO-1", "Conduit 20", "Drop to lab", CarrierKind.CONDUIT)
FT1 = item("FT-1", "Floor trunking")
RISER = item("RISER", "", "Riser north")
CARRIERS = (TR1, TR2, CO1, FT1, RISER)
P1, P2 = circuit("P-1", "DB", "S"), circuit("P-2", "DB", "S")
D1 = circuit("D-1", "RK", "S", service=Service.DATA)
FA1 = circuit("FA-1", "FP", "S", service=Service.FIRE_ALARM)
NONE1 = circuit("N-1", "DB", "S", service=None)
CIRCUITS = (P1, P2, D1, FA1, NONE1)


def led(
    said: Mapping[str, Any], circuits: Sequence[Circuit] = CIRCUITS, carriers: Sequence[Carrier] = CARRIERS
) -> tuple[dict[str, Circuit], list[Problem]]:
    found = with_way_limits(circuits, carriers, Project.model_validate(said))
    assert [one.mark for one in found.circuits] == [one.mark for one in circuits]
    return {one.mark: one for one in found.circuits}, found.problems


def way(**said: object) -> dict[str, Any]:
    return {"ways": [said]}


def closed_to(circuits: Mapping[str, Circuit]) -> dict[str, set[str]]:
    return {mark: set(one.limits.closed) for mark, one in circuits.items() if one.limits.closed}


def test_nothing_said_nothing_is_asked_and_circuits_stay_as_they_are() -> None:
    found, problems = led({})
    assert tuple(found.values()) == CIRCUITS
    assert not problems


@pytest.mark.parametrize(
    ("pattern", "keys"),
    [
        ("TR-1", {"TR-1"}),  # tag
        ("TR-?", {"TR-1", "TR-2"}),
        ("Tray 300", {"TR-1", "TR-2"}),  # type
        ("Drop *", {"CO-1"}),  # name
        ("gid-FT-1", {"FT-1"}),  # GlobalId
        ("  RISER ", {"RISER"}),
        ("*", {one.key for one in CARRIERS}),
    ],
)
def test_carriers_are_named_by_tag_name_type_and_global_id(pattern: str, keys: set[str]) -> None:
    found, problems = led({"closed": [{"carriers": [pattern], "reason": "full"}]})
    assert closed_to(found) == {one.mark: keys for one in CIRCUITS}
    assert all(one.limits.told == (f"{pattern} closed: full",) for one in found.values())
    assert not problems


@pytest.mark.parametrize("pattern", ["TR", "TR-[12]", "TR.1", "", " "])
def test_a_pattern_that_fits_nothing_is_told_and_closes_nothing(pattern: str) -> None:
    # an empty one least of all: RISER has no type, and nobody means by it all that has no name
    found, (problem,) = led({"closed": [{"carriers": [pattern, "FT-1"], "reason": "full"}]})
    assert closed_to(found) == {one.mark: {"FT-1"} for one in CIRCUITS}
    assert problem.where == "wayroom.toml, [[closed]] 1"
    assert repr(pattern) in problem.what


def test_several_closed_entries_add_up_in_order() -> None:
    found, problems = led(
        {"closed": [{"carriers": ["TR-2", "CO-1"], "reason": "full"}, {"carriers": ["FT-*"], "reason": "wet"}]}
    )
    assert found["P-1"].limits.closed == {"TR-2", "CO-1", "FT-1"}
    assert found["P-1"].limits.told == ("TR-2 or CO-1 closed: full", "FT-* closed: wet")
    assert found["P-1"].limits.via == ()
    assert not problems


@pytest.mark.parametrize(
    ("said", "marks"),
    [
        ({"circuits": ["P-*"]}, {"P-1", "P-2"}),
        ({"circuits": ["P-2", "D-?"]}, {"P-2", "D-1"}),
        ({"circuits": ["*"]}, {one.mark for one in CIRCUITS}),
        ({"services": ["data"]}, {"D-1"}),
        ({"services": ["power", "fire-alarm"]}, {"P-1", "P-2", "FA-1"}),
        ({"circuits": ["*1"], "services": ["power"]}, {"P-1"}),
        ({"circuits": ["N-1"]}, {"N-1"}),
    ],
)
def test_an_entry_speaks_of_circuits_that_all_it_says_fits(said: dict[str, object], marks: set[str]) -> None:
    found, problems = led(way(avoid=["FT-1"], **said))
    assert closed_to(found) == {mark: {"FT-1"} for mark in marks}
    assert not problems


@pytest.mark.parametrize(
    "said", [{"circuits": ["Q-*"]}, {"services": ["control"]}, {"circuits": ["P-*"], "services": ["data"]}]
)
def test_an_entry_that_speaks_of_no_circuit_is_told(said: dict[str, object]) -> None:
    found, (problem,) = led(way(avoid=["FT-1"], **said))
    assert not closed_to(found)
    assert problem.where == "wayroom.toml, [[ways]] 1"
    assert "no circuit of the schedule fits it" in problem.what


def test_via_is_a_group_for_each_pattern_in_order() -> None:
    found, problems = led(way(circuits=["P-1"], via=["RISER", "Tray 300"]))
    assert found["P-1"].limits.via == (frozenset({"RISER"}), frozenset({"TR-1", "TR-2"}))
    assert found["P-1"].limits.told == ("by way of RISER, then Tray 300",)
    assert found["P-2"].limits.via == ()
    assert not problems


def test_of_via_what_fits_nothing_is_told_and_lacking() -> None:
    found, (problem,) = led(way(circuits=["P-1"], via=["RISER", "shaft", "FT-1"]))
    assert found["P-1"].limits.via == (frozenset({"RISER"}), frozenset({"FT-1"}))
    assert found["P-1"].limits.lacking == ("shaft",)
    assert found["P-2"].limits.lacking == ()
    assert "'shaft'" in problem.what


def test_kinds_close_every_other_kind() -> None:
    found, problems = led(way(circuits=["P-1"], kinds=["tray", "conduit"], reason="as agreed"))
    assert found["P-1"].limits.closed == {"FT-1", "RISER"}
    assert found["P-1"].limits.told == ("by tray or conduit only: as agreed",)
    assert not problems


def test_its_own_containment_is_what_has_a_compartment_that_names_its_service() -> None:
    alarm = replace(item("OWN"), section=replace(STEEL_50, lanes=lanes(Service.POWER, Service.FIRE_ALARM)))
    power = replace(item("PWR"), section=replace(STEEL_50, lanes=lanes(Service.POWER)))
    anything = replace(item("ANY"), section=replace(STEEL_50, lanes=lanes(None)))
    undivided = item("PLAIN")
    found, problems = led(
        way(services=["fire-alarm", "power"], own_containment=True), carriers=(alarm, power, anything, undivided)
    )
    assert closed_to(found) == {
        "FA-1": {"PWR", "ANY", "PLAIN"},
        "P-1": {"ANY", "PLAIN"},
        "P-2": {"ANY", "PLAIN"},
    }
    assert found["FA-1"].limits.told == ("by its service's own containment only",)
    assert not problems


def test_several_entries_for_one_circuit_add_up_in_the_order_of_the_file() -> None:
    entries = [
        {"circuits": ["P-*"], "via": ["RISER"], "reason": "first"},
        {"services": ["data"], "avoid": ["TR-1"]},
        {"services": ["power"], "via": ["FT-1"], "avoid": ["TR-2"]},
        {"circuits": ["P-1"], "kinds": ["tray", "trunking"]},
    ]
    found, problems = led({"ways": entries, "closed": [{"carriers": ["TR-1"], "reason": "full"}]})
    limits = found["P-1"].limits
    assert limits.via == (frozenset({"RISER"}), frozenset({"FT-1"}))
    assert limits.closed == {"TR-1", "TR-2", "CO-1"}
    assert limits.told == (
        "TR-1 closed: full",
        "by way of RISER: first",
        "by way of FT-1, not by TR-2",
        "by tray or trunking only",
    )
    assert found["P-2"].limits.told == limits.told[:3]
    assert found["D-1"].limits.closed == {"TR-1"}
    assert not problems


@pytest.mark.parametrize(
    "said",
    [
        {"ways": [{"circuits": ["P-1"]}]},
        {"ways": [{"via": ["RISER"]}]},
        {"ways": [{"circuits": ["P-1"], "kinds": ["rope"]}]},
        {"closed": [{"carriers": ["FT-1"]}]},
        {"closed": [{"carriers": [], "reason": "full"}]},
        {"redundant": [{"circuits": ["PA-1"]}]},
        {"redundant": [{"circuits": ["PA-1", "PA-1"]}]},
        {"redundant": [{"circuits": ["PA-*", "PB-1"]}]},
        {"redundant": [{"circuits": ["PA-*", "PB-?"]}]},
    ],
)
def test_an_entry_that_says_half_is_refused(said: dict[str, object]) -> None:
    with pytest.raises(ValidationError):
        Project.model_validate(said)


def test_the_order_of_carriers_and_circuits_changes_nothing() -> None:
    said = {
        "closed": [{"carriers": ["TR-*"], "reason": "full"}, {"carriers": ["nowhere"], "reason": "x"}],
        "ways": [{"services": ["power"], "via": ["Floor*", "RISER"]}, {"circuits": ["?-1"], "kinds": ["trunking"]}],
        "redundant": [{"circuits": ["P-1", "P-2"]}, {"circuits": ["D-*", "X-*"]}, {"circuits": ["FA-*", "FB-*"]}],
    }
    expected = led(said)
    dice = random.Random(3)  # noqa: S311 - a test's own dice
    for _ in range(10):
        found, problems = led(said, dice.sample(CIRCUITS, 5), dice.sample(CARRIERS, 5))
        assert (found, problems) == expected


def test_many_circuits_share_what_the_same_entries_ask_of_them(monkeypatch: pytest.MonkeyPatch) -> None:
    entries = [{"circuits": [f"{digit}*"], "avoid": ["TR-1"], "own_containment": True} for digit in range(10)]
    entries += [{"services": ["power"], "via": ["RISER"]} for _ in range(10)]
    circuits = [circuit(f"{number % 10}-{number}", "DB", "S") for number in range(10000)]
    together, made = ways._together, []

    def counted(limits: Sequence[object]) -> object:
        made.append(limits)
        return together(limits)  # type: ignore[arg-type]

    monkeypatch.setattr(ways, "_together", counted)
    found, _ = led({"ways": entries}, circuits)
    # one for each first digit, however many circuits have it; and one object, so that a search knows it again
    assert len(made) == 10
    assert len({id(one.limits.closed) for one in found.values()}) == 10
