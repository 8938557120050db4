"""Questions for both calculators: those at the edges, of which each is asked for a reason, and many at random, always the same."""

import random
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from checker.rule import Limit
from checker.rule.catalogue import CableType, CarrierType
from checker.rule.code import Code
from checker.rule.plugins import Plugins, load_plugins
from checker.rule.verdict import Basis

Asked = dict[str, Any]

#: So many questions are drawn; each has other cables, runs and limits.
DRAWN = 2500
LENGTHS_M = (None, 0.3, 0.6, 0.6004, 0.6005, 0.61, 2.0, 3.0, 3.0004, 3.01, 4.75, 5.0, 10.0, 10.3, 25.0, 400.0)
BENDS = (None, 0.0, 0.04, 0.5, 1.0, 2.0, 2.06, 3.0, 4.0, 5.0)
SIZES = ("4.1mm", "11.3mm", "16.8mm", "48mm", "48.1mm", "0.5mm", "12.5x6.2mm", "6.2 x 60 mm")
INSIDES = (
    "96x46",
    "48x48",
    "300x50",
    "150 x 60",
    "2000x3000",
    "10x10.5",
    "609.6x101.6",
    "228x80",
    "297x60",
    "1200x150",
)
BORES = ("16.8", "13.2 mm", "17", "28.8", "2999")
SHARES = ("0%", "10%", "30%", "45%", "100%", "0.25")
COUNTS = (1, 1, 2, 3, 4, 7, 20, 90)
FACTORS = ("40%", "0.40", "45%", "46%", "20%", "12.5%", "100%")


def cable(key: str, **cells: Any) -> CableType:
    usual: dict[str, Any] = {
        "family": "made up", "csa_mm2": None, "cores": None, "conductor": "", "stranded": None, "diameter_mm": None, "width_mm": None,
        "height_mm": None, "insulation": "", "rated_voltage_v": None, "planning": False, "source": "the test",
    }  # fmt: skip
    return CableType(key=key, **{**usual, **cells})


def carrier(key: str, kind: str, **cells: Any) -> CarrierType:
    usual: dict[str, Any] = {
        "family": "made up", "material": "", "trade_size": key, "width_mm": None, "height_mm": None, "wall_mm": None,
        "inside_diameter_mm": None, "source": "the test",
    }  # fmt: skip
    return CarrierType(key=key, kind=kind, **{**usual, **cells})


CABLES = (
    cable("area-45", area_mm2=45.0, cores=1, csa_mm2=16.0),
    cable("area-40", area_mm2=40.0, cores=1),
    cable("area-155", area_mm2=155.0, cores=1),
    cable("area-530", area_mm2=530.0, cores=1),
    cable("no-cores", diameter_mm=9.0, csa_mm2=6.0),
    cable("no-size", diameter_mm=9.0, cores=1),
    cable("two-cores-no-size", diameter_mm=12.0, cores=2),
    cable("no-strands", diameter_mm=4.0, csa_mm2=2.5, cores=1),
    cable("between-terms", diameter_mm=6.0, csa_mm2=5.0, cores=1, stranded=True),
    cable("too-fat-for-its-term", diameter_mm=8.0, csa_mm2=6.0, cores=1, stranded=True),
    cable("large-four-cores", diameter_mm=45.0, csa_mm2=120.0, cores=4, stranded=True),
    cable("large-flat", width_mm=60.0, height_mm=25.0, csa_mm2=120.0, cores=3),
    cable("solid-1.0", diameter_mm=2.9, csa_mm2=1.0, cores=1, stranded=False),
    cable("planned", diameter_mm=7.0, cores=8, planning=True),
    cable("area-alone-many-cores", area_mm2=150.0, cores=3),
    cable("4/0-by-name", area_mm2=250.0, diameter_mm=17.0, cores=1, awg_kcmil="4/0"),
    cable("4-by-name", diameter_mm=9.0, cores=1, awg_kcmil="4"),
    cable("250-by-name", diameter_mm=20.0, cores=1, awg_kcmil="250"),
    cable("1000-by-name", diameter_mm=34.0, cores=1, awg_kcmil="1000"),
    cable("awg-that-is-none", diameter_mm=9.0, cores=1, awg_kcmil="77"),
)
CARRIERS = (
    carrier("20x50-inside", "trunking", width_mm=20.0, height_mm=50.0, wall_mm=0.0),
    carrier("no-wall", "trunking", width_mm=100.0, height_mm=50.0),
    carrier("table-wall", "trunking", width_mm=50.0, height_mm=100.0, material="steel"),
    carrier("no-height", "trunking", width_mm=100.0, wall_mm=1.0),
    carrier("no-depth", "tray", width_mm=300.0, height_mm=60.0, wall_mm=1.5),
    carrier("no-depth-no-wall", "ladder", width_mm=300.0, height_mm=100.0),
    carrier("solid", "tray", width_mm=304.8, height_mm=101.6, wall_mm=0.0, usable_depth_mm=101.6, perforated=False),
    carrier("perforated", "tray", width_mm=304.8, height_mm=101.6, wall_mm=1.5, usable_depth_mm=90.0, perforated=True),
    carrier("called-wider", "tray", width_mm=304.0, height_mm=100.0, wall_mm=4.0, usable_depth_mm=90.0, perforated=True),
    carrier("not-tabled", "ladder", width_mm=100.0, height_mm=100.0, wall_mm=0.0, usable_depth_mm=90.0),
    carrier("too-wide-for-the-table", "ladder", width_mm=1500.0, height_mm=100.0, wall_mm=0.0, usable_depth_mm=200.0),
    carrier("no-bore", "conduit", width_mm=25.0, height_mm=25.0, material="plastic"),
    carrier("bore-by-table", "conduit", width_mm=32.0, height_mm=32.0, material="steel"),
    carrier("no-outside", "conduit", inside_diameter_mm=21.0),
    carrier("no-sizes", "conduit"),
    carrier("area-1000", "conduit", width_mm=38.0, inside_diameter_mm=35.68, inside_area_mm2=1000.0),
)  # fmt: skip


def plugins() -> Plugins:
    """What is installed, with cables and carriers of which something isn't known, and codes with other figures than ours."""
    found = load_plugins()
    cables = {**found.cables, **{it.key: it for it in CABLES}}
    codes = {**found.codes, **{code.key: code for code in _other_codes(found)}}
    return replace(found, codes=codes, cables=cables, carriers={**found.carriers, **{it.key: it for it in CARRIERS}})


#: Every figure of ours times its own, so that one that was written into the page would be another one.
LIKE = "like-"
OTHERWISE = {"bs-7671": 0.9, "nfpa-70": 0.8, "iec-60364": 1.0}


def _other_codes(found: Plugins) -> Iterator[Code]:
    for key, times in OTHERWISE.items():
        code, limits = found.codes[key], {}
        for rule, own in code.limits.items():
            figures = {name: it for name, it in own if isinstance(it, Limit)}
            changed = {name: it.model_copy(update={"value": times * it.value}) for name, it in figures.items()}
            if rule in {"fill.area", "fill.tray"}:
                changed["space_factor"] = SHARE_OF_THEIRS
            limits[rule] = own.model_copy(update=changed)
        yield replace(code, key=f"{LIKE}{key}", limits=limits)


SHARE_OF_THEIRS = Limit(value=0.35, basis=Basis.NOTE, source="the test", confidence="high")


def questions(found: Plugins) -> list[Asked]:
    """All of them."""
    return [*_at_edges(found), *_drawn(found)]


def _at_edges(found: Plugins) -> Iterator[Asked]:
    for code in found.codes:
        is_ours = not code.startswith(LIKE)
        for asked in (
            _at_limits,
            _of_mixtures,
            _asked_wrongly,
            *((_of_insides, _of_runs, _of_own_limits) if is_ours else ()),
        ):
            yield from ({"code": code, **question} for question in asked())
        for asked_of in (_of_carriers, _of_cables) if is_ours else (_of_cables,):
            yield from ({"code": code, **question} for question in asked_of(found))
    yield from ({"code": "iec-60364", **question} for question in _too_full())


def _of_mixtures() -> Iterator[Asked]:
    """Of sorts that are judged in different ways: by terms and by area, by width and by area."""
    for count in (6, 8, 9):
        yield {
            "carrier": "conduit-steel-25",
            "cables": [f"h07v-u-2.5={count}", "6242y-1.0=1"],
            "length_m": 10.0,
            "bends": 2.0,
        }
    for count in (1, 2, 4, 6, 8):
        yield {"carrier": "ladder-nema-12x4", "cables": [f"250-by-name={count}", "1000-by-name=2"]}
        yield {"carrier": "solid", "cables": [f"large-four-cores={count}", "bs5467-4x16=2"], "most": "bs5467-4x16"}


#: What takes exactly the share that is allowed: 450 of 1000 mm² is 45 %; 530, 310, 400 and, of a short run, 600 of 1000 mm².
AT_LIMITS: tuple[tuple[str, Asked], ...] = (
    ("bs-7671", {"carrier": "20x50-inside", "cables": ["area-45=10"]}),
    ("bs-7671", {"inside": "20x50", "cables": ["area-45=4"], "occupied": "27%"}),
    ("nfpa-70", {"carrier": "area-1000", "cables": ["area-530=1"]}),
    ("nfpa-70", {"carrier": "area-1000", "cables": ["area-155=2"]}),
    ("nfpa-70", {"carrier": "area-1000", "cables": ["area-40=10"]}),
    ("nfpa-70", {"carrier": "area-1000", "cables": ["area-40=15"], "length_m": 0.6}),
    ("iec-60364", {"inside": "20x50", "cables": ["area-45=10"], "space_factor": "45%"}),
)


def _at_limits() -> Iterator[Asked]:
    yield from (asked for _, asked in AT_LIMITS)
    for count in (4, 5, 9, 11):
        yield {"carrier": "20x50-inside", "cables": [f"area-45={count}"], "most": "area-45"}
    for count in (1, 2, 3, 9, 11, 15, 16):
        for length in (None, 0.6, 5.0):
            yield {"carrier": "area-1000", "cables": [f"area-40={count}"], "length_m": length, "bends": 1.0}
            yield {
                "carrier": "area-1000",
                "cables": [f"area-40={count}", "area-155=1"],
                "length_m": length,
                "most": "area-40",
            }
            yield {"carrier": "area-1000", "cables": ["area-40=1"], "occupied": f"{count}%", "length_m": length}
    # of a short run 60 % are granted, and two cables may be wider together than the bore
    for cables in (["10.5mm=2"], ["10.6mm=2"], ["10.5mm=1", "10.6mm=1"], ["9mm=1", "12x4mm=1"], ["17mm=1", "4.1mm=1"]):
        yield {"bore": "21", "cables": cables, "length_m": 0.5, "most": "4.1mm"}
    # an NFPA count that is rounded up, and one cable more
    for count in (12, 13, 21, 22, 23):
        for key in ("emt-1/2", "emt-3/4"):
            yield {"carrier": key, "cables": [f"thhn-14={count}"], "length_m": 5.0, "bends": 1.0}


def _of_insides() -> Iterator[Asked]:
    for inside in INSIDES:
        for kind in ("trunking", "tray", "ladder"):
            for size in SIZES:
                yield {"inside": inside, "kind": kind, "cables": [f"{size}=2"], "most": size}


def _of_runs() -> Iterator[Asked]:
    counts = {"h07v-u-2.5": (6, 7, 30), "between-terms": (1, 4), "too-fat-for-its-term": (1, 3), "solid-1.0": (3,)}
    for run in ({"length_m": length, "bends": bends} for length in LENGTHS_M for bends in BENDS):
        for key, numbers in counts.items():
            yield from ({"carrier": "conduit-steel-20", "cables": [f"{key}={count}"], **run} for count in numbers)
        yield {"carrier": "conduit-steel-25", "cables": ["solid-1.0=5"], "most": "solid-1.0", **run}
        yield {"bore": "16.8", "cables": ["h07v-r-6=2", "h07v-u-1.5=1"], "most": "h07v-u-1.5", **run}
        yield {"carrier": "emt-1/2", "cables": ["thhn-12=2"], "most": "thhn-12", "occupied": "9%", **run}


def _of_own_limits() -> Iterator[Asked]:
    for factor in FACTORS:
        for kind in ("trunking", "tray"):
            yield {
                "inside": "96x46",
                "kind": kind,
                "cables": ["11.3mm=9"],
                "space_factor": factor,
                "most": "cat6-u-utp",
            }
        yield {"bore": "16.8", "cables": ["h07v-u-2.5=6"], "space_factor": factor}


def _too_full() -> Iterator[Asked]:
    """What a limit of one's own lets in where only geometry can speak against it."""
    for number in range(60, 110, 2):
        yield {"inside": "96x46", "cables": [f"8mm={number // 2}", f"6.5mm={number}"], "space_factor": "99%"}
        yield {"inside": "100x10.2", "cables": [f"10mm={number // 8}"], "space_factor": "98%"}
        yield {"inside": "60x40", "cables": [f"12.5x6.2mm={number // 3}", "3mm=4"], "space_factor": "97%"}
        yield {"bore": "16.8", "cables": [f"{number / 10:g}mm=2"], "space_factor": "96%", "length_m": 5.0, "bends": 0.0}
        yield {"bore": "40", "cables": [f"4.1mm={number}"], "space_factor": "95%", "length_m": 5.0, "bends": 0.0}
    # circles side by side in flat cables: 2 + 7, 7 + 2 and 4 · 2 of them where fewer have room
    yield {"inside": "20x10", "cables": ["9.8x4.9mm=1", "4.9mm=7"], "space_factor": "99%"}
    for inside in ("20x9.6", "20x9.5", "19.5x9.6"):
        yield {"inside": inside, "cables": ["5mm=7", "9.6x4.8mm=1"], "space_factor": "99%"}
        yield {"inside": inside, "cables": ["9.6x4.8mm=4", "0.5mm=1"], "space_factor": "99%"}
    yield {"inside": "30x30", "cables": ["40x3mm=1"], "space_factor": "90%"}
    yield {"inside": "30x20", "cables": ["36x5mm=1"], "space_factor": "90%"}
    yield {"inside": "50x30", "cables": ["29mm=1", "24mm=1"], "space_factor": "90%"}
    yield {"inside": "20x50", "cables": ["area-45=10", "0.5mm=1"], "space_factor": "99%"}


def _of_carriers(found: Plugins) -> Iterator[Asked]:
    for key in found.carriers:
        yield {"carrier": key, "cables": ["area-45=2"], "most": "cat6-u-utp"}
        yield {"carrier": key, "cables": ["h07v-u-2.5=3", "6242y-2.5=1"], "most": "thhn-12"}
        yield {"carrier": key, "cables": ["large-four-cores=1"], "most": "4/0-by-name"}


def _of_cables(_: Plugins) -> Iterator[Asked]:
    for made in CABLES:
        for key in (
            "solid",
            "perforated",
            "called-wider",
            "no-depth",
            "ladder-nema-12x4",
            "conduit-steel-25",
            "no-wall",
        ):
            yield {"carrier": key, "cables": [f"{made.key}=2"], "most": made.key}
            yield {"carrier": key, "cables": [f"{made.key}=1", "bs5467-4x16=1"], "occupied": "5%"}


def _asked_wrongly() -> Iterator[Asked]:
    right: Asked = {"inside": "96x46", "cables": ["11.3mm=4"]}
    conduit: Asked = {"bore": "20", "cables": ["11.3mm=1"]}
    for wrong in (
        {"inside": ""}, {"bore": "20"}, {"cables": []}, {"inside": "96"}, {"inside": "0x46"}, {"inside": "96x3001"},
        {"inside": "", "carrier": "none"}, {"cables": ["11.3mm=0"]}, {"cables": ["11.3mm=100001"]}, {"cables": ["11.3mm=1.5"]},
        {"cables": ["11.3=4"]}, {"cables": ["none=4"]}, {"cables": ["0mm=4"]}, {"most": "none"}, {"most": "11.3mm=4"},
        {"occupied": "101%"}, {"occupied": "30"}, {"occupied": "much"}, {"space_factor": "0%"}, {"space_factor": "1"},
        {"space_factor": "-40%"}, {"space_factor": "101%"}, {"length_m": 3.0}, {"bends": 1.0},
    ):  # fmt: skip
        yield {**right, **wrong}
    for wrong in ({"length_m": 0.0}, {"length_m": 1001.0}, {"bends": 101.0}, {"bore": "3001"}, {"space_factor": "99%"}):
        yield {**conduit, **wrong}


def _drawn(found: Plugins) -> Iterator[Asked]:
    chance = random.Random(7)  # noqa: S311 - the same questions each time, no secret
    cables, codes = [*found.cables, *SIZES], list(found.codes)
    for _ in range(DRAWN):
        listed = [f"{chance.choice(cables)}={chance.choice(COUNTS)}" for _ in range(chance.choice((0, 1, 1, 2, 3, 6)))]
        asked: Asked = {"code": chance.choice(codes), "cables": listed, **_drawn_carrier(found, chance)}
        if chance.random() < 0.4 or not listed:
            asked["most"] = chance.choice(cables)
        if chance.random() < 0.3:
            asked["occupied"] = chance.choice(SHARES)
        if chance.random() < 0.2:
            asked["space_factor"] = chance.choice(FACTORS)
        yield asked


def _drawn_carrier(found: Plugins, chance: random.Random) -> Asked:
    which = chance.random()
    if which < 0.15:
        return {"inside": chance.choice(INSIDES), "kind": chance.choice(("trunking", "tray", "ladder"))}
    carrier = "" if which < 0.25 else chance.choice(list(found.carriers))
    if carrier and found.carriers[carrier].kind != "conduit":
        return {"carrier": carrier}
    run = {"length_m": chance.choice(LENGTHS_M), "bends": chance.choice(BENDS)}
    return {"carrier": carrier, **run} if carrier else {"bore": chance.choice(BORES), **run}
