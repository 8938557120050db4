"""What is called what, among very many."""

from dataclasses import replace

from checker.network import ends
from checker.network.ends import Names
from tests.installations import carrier, installation


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
