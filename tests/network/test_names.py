"""What is called what, among very many."""

from dataclasses import replace

from checker.model import Equipment, Place
from checker.network import ends
from checker.network.ends import Names
from checker.network.routing import route_all
from tests.installations import carrier, circuit, installation, outlet


def test_a_misspelt_name_among_very_many_is_compared_with_those_that_begin_alike() -> None:
    one = carrier("x", (0, 0, 0), (1000, 0, 0))
    many = [
        replace(one, key=f"k{n}", place=replace(one.place, tag=f"AB-{n:05d}", name=""))
        for n in range(ends.MOST_COMPARED + 500)
    ]
    named = replace(one, key="t", place=replace(one.place, tag="TR-01", name=""))
    names = Names(installation(*many, named))
    assert names.near("TR-1") == ["TR-01"]
    assert names.find("TR-01") == [named]


def test_an_end_that_no_carrier_is_in_reach_of_is_told_how_far_the_nearest_is() -> None:
    far = outlet("S1", (1000.0, 8400.0, 0.0))
    model = installation(
        carrier("T-01", (0, 0, 0), (4000, 0, 0)), outlet("DB", (0.0, 100.0, 0.0)), far, circuit("P1", "DB", "S1")
    )
    (problem,) = [problem for problem in route_all(model).problems if problem.where == "circuit P1"]
    assert "within 3 m of S1" in problem.what
    assert problem.hint.startswith("the nearest is T-01, 8.40 m away")


def test_what_the_project_maps_as_a_tag_is_a_name_too_after_those_of_the_element_itself() -> None:
    marked = Equipment(
        "K1", Place("K1", "m.ifc", tag="481516", name="Outlet:481516", mark="SO-7"), "IfcOutlet", (0, 0, 0)
    )
    named = Equipment("K2", Place("K2", "m.ifc", tag="2342", name="SO-8"), "IfcOutlet", (0, 0, 0))
    taken = Equipment("K3", Place("K3", "m.ifc", tag="108", name="x", mark="SO-8"), "IfcOutlet", (0, 0, 0))
    names = Names(installation(marked, named, taken))
    assert names.find("SO-7") == names.find("481516") == [marked]
    assert names.find("SO-8") == [named]
    assert marked.place.label == "SO-7"
    assert "SO-7" in names.near("SO7")
