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
