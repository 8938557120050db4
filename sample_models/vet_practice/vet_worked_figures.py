"""The figures that the worked answers use, each with its source. Typed in by hand; nothing is read from the checker."""

# Outside diameter of one cable in mm. UK practice takes the upper limit of the standard.
DIAMETERS_MM: dict[str, float] = {
    # upper limits, IEC 60227-3:1997 Table 1; EN 50525-2-31:2011 Table B.1
    "h07v-u-1.5": 3.2,
    "h07v-u-2.5": 3.9,
    "h07v-u-4": 4.4,
    "h07v-u-6": 5.0,
    "h07v-u-10": 6.4,
    "h07v-r-1.5": 3.3,
    "h07v-r-6": 5.2,
    "h07v-r-16": 7.8,
    "h07v-r-25": 9.7,
    # approximate overall diameters, BS 5467:2016 (the standard gives no maximum)
    "bs5467-3x1.5": 12.6,
    "bs5467-3x2.5": 14.1,
    "bs5467-3x4": 15.3,
    "bs5467-3x6": 16.6,
    "bs5467-3x10": 19.5,
    "bs5467-4x4": 16.4,
    "bs5467-4x6": 18.7,
    "bs5467-4x10": 21.1,
    "bs5467-4x16": 23.4,
    "bs5467-4x25": 26.1,
    "bs5467-4x35": 28.6,
    # upper planning value for cables to BS 7629-1; no standard fixes it
    "bs7629-2x1.5": 8.6,
    # this project's own, see wayroom.toml
    "cat6-practice-u-utp": 6.5,
}

# Mass of one cable in kg/km, as approximate in tables as the armoured ones' diameters: no standard fixes it.
MASSES_KG_PER_KM: dict[str, float] = {
    "h07v-u-1.5": 21,
    "h07v-u-2.5": 33,
    "bs5467-3x1.5": 330,
    "bs5467-3x2.5": 390,
    "bs5467-3x4": 464,
    "bs5467-3x6": 568,
    "bs5467-3x10": 866,
    "bs5467-4x4": 532,
    "bs5467-4x6": 764,
    "bs5467-4x10": 1013,
    "bs5467-4x16": 1360,
    "bs5467-4x25": 2160,
    "bs5467-4x35": 2690,
    "cat6-practice-u-utp": 45,  # this project's own
}

# Inside (width, height) in mm of each compartment, by the first letters of the carrier's tag; a later row wins.
# Trunking and tray: nominal outside less the walls that the drawing gives. Ladder: what the project declares.
SECTIONS: tuple[tuple[str, str, tuple[tuple[float, float], ...]], ...] = (
    ("FT-", "trunking", ((92.0, 50 - 2 * 1.6), (46.0, 50 - 2 * 1.6), (80.6, 50 - 2 * 1.6))),
    ("FS-", "trunking", ((100 - 2 * 1.2, 50 - 2 * 1.2),)),
    ("MT-", "trunking", ((150 - 2 * 1.6, 150 - 2 * 1.6),)),
    ("DT-", "trunking", ((100 - 2 * 1.2, 50 - 2 * 1.2),)),
    ("WT-", "trunking", ((100 - 2 * 1.2, 50 - 2 * 1.2),)),
    ("WD-", "trunking", ((100 - 2 * 1.2, 50 - 2 * 1.2),)),
    ("WT-03", "trunking", ((50 - 2 * 1.0, 50 - 2 * 1.0),)),
    ("WC-", "trunking", ((50 - 2 * 1.0, 50 - 2 * 1.0),)),
    ("WE-", "trunking", ((50 - 2 * 1.0, 50 - 2 * 1.0),)),
    ("FM-", "trunking", ((50 - 2 * 1.0, 50 - 2 * 1.0),)),
    ("TR-", "open", ((200.0, 50 - 1.5), (95.5, 50 - 1.5))),
    ("TU-", "open", ((200.0, 50 - 1.5), (95.5, 50 - 1.5))),
    ("RL-", "open", ((270.0, 40.0),)),
)
CONDUIT_WALL_MM = 1.6  # heavy gauge steel, 20 and 25 mm: BS 4568-1 / EN 61386-21

# UK guidance to BS 7671 (on-site guidance and its companion notes), not a regulation: 45 % in trunking.
TRUNKING_LIMIT = 0.45
AREA_CONDUIT_LIMIT = 0.45  # multicore in conduit goes by area, as in trunking
OPEN_LIMIT = 0.40  # this project's own, see wayroom.toml

# UK guidance, conduit. Straight and up to 3 m: terms of conduits by size, and of cables by construction and mm2.
SHORT_CONDUIT_TERMS = {16: 290, 25: 800, 38: 1900, 63: 5600}
SHORT_CABLE_TERMS = {("u", 1.0): 22, ("r", 1.5): 31, ("r", 6.0): 88, ("r", 25.0): 385}
# Longer, or with bends: terms of cables by mm2, and the fit K / (c + L 2^bends) to the published conduit terms.
LONG_CABLE_TERMS = {2.5: 30, 10.0: 105}
LONG_CONDUIT_FIT = {16: (6000, 30), 20: (10000, 31), 25: (19000, 33), 32: (36000, 36)}
# The lengths in m that are published for so many bends.
PUBLISHED_LENGTHS_M: dict[int, tuple[float, ...]] = {
    0: (3.5, 4, 4.5, 5, 6, 7, 8, 9, 10),
    1: (1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 7, 8, 9, 10),
    2: (1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 7, 8, 9, 10),
    3: (1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5),
    4: (1, 1.5, 2, 2.5),
}

# This project's own, see wayroom.toml: at seals 40 % less a fifth, what is closed 45 % with a quarter to come; the corridor's tray.
SEAL_LIMIT = 0.32
CLOSED_LIMIT, CLOSED_SPARE = 0.45, 0.25
TRAY_KG_PER_M, TRAY_SAFE_KG_PER_M = 3.5, 16.0
WAIVED_BENDS_DEG = 270.0

# BS 7671 527.2: conduit of up to 710 mm2 inside may need no seal in it.
UNSEALED_MM2 = 710.0

# UK practice: two right angles between points to draw in. Inside radii over the diameter: single cores of up to 10 mm in conduit 2 (UK
# on-site guidance); unscreened data cables, while they are pulled, 8 (EN 50174-2).
MOST_BENDS_DEG, SINGLE_CORE_RADIUS, DATA_RADIUS = 180.0, 2.0, 8.0

# Trade practice: what conductors bear, two thirds of it if they are unequal, what a data cable of four pairs bears, the pressure in bends
# (300 lb/ft), and the friction of dry cables.
COPPER_N_PER_MM2, UNEQUAL_SHARE, FOUR_PAIR_N, SIDE_N_PER_M, DRY_FRICTION = 50.0, 0.6667, 110.0, 4378.0, 0.5
