"""The figures that the worked answers use, each with its source. Typed in by hand; nothing is read from the checker."""

import math

# Outside diameter of one cable in mm.
DIAMETERS_MM: dict[str, float] = {
    # upper limits, EN 50525-3-41:2011
    "h07z-r-25": 9.8,
    "h07z-r-50": 13.0,
    # approximate overall diameters, BS 5467:2016 (the standard gives no maximum)
    "bs5467-3x6": 16.6,
    "bs5467-3x10": 19.5,
    "bs5467-4x10": 21.1,
    "bs5467-4x16": 23.4,
    # planning values, upper end of what is made; no standard fixes them
    "cat6a-f-utp": 7.9,
    "fibre-tight-12": 7.2,
    "fibre-loose-24": 8.5,
}

# Mass of one cable in kg/km, as approximate as the diameters of armoured cables to BS 5467:2016.
MASSES_KG_PER_KM: dict[str, float] = {
    "bs5467-3x6": 568,
    "bs5467-3x10": 866,
    "bs5467-4x10": 1013,
    "bs5467-4x16": 1360,
}

# Inside (width, depth) in mm by the first letters of the tag; a later row wins. Ladders: 2 mm of rail on either side,
# 100 - 20 = 80 mm above the rungs. Baskets: 5 mm of wire on either side and below, by the project file.
INSIDES_MM: tuple[tuple[str, float, float], ...] = (
    ("L", 300 - 2 * 2.0, 80.0),  # the row ladders
    ("LA-01", 400 - 2 * 2.0, 80.0),
    ("LA-02", 400 - 2 * 2.0, 80.0),
    ("LA-03", 400 - 2 * 2.0, 80.0),
    ("LA-04", 400 - 2 * 2.0, 80.0),
    ("LA-05", 400 - 2 * 2.0, 80.0),
    ("LA-09", 400 - 2 * 2.0, 80.0),
    ("LA-10", 400 - 2 * 2.0, 80.0),
    ("LB-01", 400 - 2 * 2.0, 80.0),
    ("LB-02", 400 - 2 * 2.0, 80.0),
    ("LB-03", 400 - 2 * 2.0, 80.0),
    ("LB-04", 400 - 2 * 2.0, 80.0),
    ("LB-05", 400 - 2 * 2.0, 80.0),
    ("LB-09", 400 - 2 * 2.0, 80.0),
    ("LB-10", 400 - 2 * 2.0, 80.0),
    ("BD-", 300 - 2 * 5.0, 60 - 5.0),
    ("BD-01", 400 - 2 * 5.0, 60 - 5.0),
    ("BD-02", 400 - 2 * 5.0, 60 - 5.0),
    ("BR-", 300 - 2 * 5.0, 60 - 5.0),
    ("BE-", 300 - 2 * 5.0, 60 - 5.0),
    ("BD-31", 200.0, 60.0),
    ("BD-32", 200.0, 60.0),
    ("BU-", 100 - 2 * 5.0, 50 - 5.0),
)
# BD-31 and BD-32: neither wire nor depth is known. The code's table of open carriers: up to 2 mm of side, 1 to 5 mm of
# depth (UK and European usual sizes). A pass must hold for the smallest inside.
LEAST_INSIDES_MM = {"BD-31": (200 - 2 * 2.0, 60 - 5.0), "BD-32": (200 - 2 * 2.0, 60 - 5.0)}
NO_SIZE = {"BX-01"}

# What is cut beyond way and drops, by the project file: a share of them, and a length at each end of a cable in m.
ALLOWANCE, AT_EACH_END_M = 0.10, 1.5

FILL_LIMIT = 0.40  # this project's own, see wayroom.toml: IEC 60364-5-52 522.8 sets none

# The row ladders themselves, and what they bear at a span of 3 m: this project's own, see wayroom.toml.
LADDER_KG_PER_M, LADDER_SAFE_KG_PER_M = 4.0, 13.0

# EN 50174-2:2018: separation S of screened data cables (class c) from power cables, in mm, in open metal (ladder, mesh) and in perforated
# metal, and the factor P, up to so many circuits of 20 A.
OPEN_MM, PERFORATED_MM = 38.0, 25.0
POWER_FACTORS = (
    (3, 0.2),
    (6, 0.4),
    (9, 0.6),
    (12, 0.8),
    (15, 1.0),
    (30, 2.0),
    (45, 3.0),
    (60, 4.0),
    (75, 5.0),
    (math.inf, 6.0),
)

SPARE = 0.05  # of what lies there, this project's own too

# Base ratings in A of copper at 30 °C in air, by (insulation, loaded conductors, method) and mm².
BASE_A: dict[tuple[str, int, str], dict[float, float]] = {
    # IEC 60364-5-52:2009 Table B.52.10: PVC, 70 °C
    ("PVC", 2, "E"): {1.5: 22, 6: 51, 10: 70},
    ("PVC", 3, "E"): {10: 60, 16: 80},
    # IEC 60364-5-52:2009 Table B.52.12: XLPE, 90 °C; single cores, in trefoil
    ("XLPE", 3, "F"): {50: 207},
}
AMBIENT_FACTOR = 1.0  # at 30 °C, IEC 60364-5-52:2009 Table B.52.14; where none is given 30 °C is taken
HARMONIC_FACTOR = 1.0  # up to 15 % of third harmonic, IEC 60364-5-52:2009 Table E.52.1

# Grouping factors, by the number of circuits or multicore cables; between two the next higher number holds.
# Bunched: IEC 60364-5-52:2009 Table B.52.17 item 1.
BUNCHED = {1: 1.0, 2: 0.80, 3: 0.70, 4: 0.65}
# One layer of touching multicore cables on one ladder: Table B.52.20 to nine; above, Table B.52.17 item 5.
LADDER_MULTICORE = {1: 1.0, 2: 0.87, 3: 0.82, 4: 0.80, 6: 0.79, 9: 0.78, 12: 0.78, 16: 0.78}
# Single cores touching on one ladder: Table B.52.21 to three circuits; above, Table B.52.17 item 5.
LADDER_SINGLE = {1: 1.0, 2: 0.97, 3: 0.96, 4: 0.80}

# A circuit that carries no more than this part of its own grouped rating may be left out for the others.
# IEC 60364-5-52:2009 523.5.
LIGHT = 0.30

# Circuits whose ends are all declared for 90 °C in wayroom.toml; every other one is rated for 70 °C, as PVC.
AT_90_C = {"PA-01", "PA-02", "PB-01", "PB-02"}
