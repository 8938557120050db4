"""The figures that the worked answers use, typed in, each with its source. Inside sizes are read off the drawing by hand."""

import math

INCH_MM = 25.4
IN2 = INCH_MM**2

# Area of a THHN conductor by its size, in²: NFPA 70 Chapter 9 Table 5.
THHN_IN2 = {
    "14": 0.0097, "12": 0.0133, "10": 0.0211, "8": 0.0366, "6": 0.0507, "4": 0.0824, "3/0": 0.2679,
}  # fmt: skip

# Diameter of the same, in: the same table.
THHN_IN = {"14": 0.111, "12": 0.130, "10": 0.164, "8": 0.216, "6": 0.254, "3/0": 0.584}

# Total area of conduit by family and trade size, in²: NFPA 70 Chapter 9 Table 4.
CONDUIT_IN2 = {
    "EMT 1/2": 0.304, "EMT 3/4": 0.533, "EMT 1": 0.864, "IMC 3/4": 0.586, "RMC 3/4": 0.549, "RMC 1-1/4": 1.526,
    "PVC40 1-1/4": 1.453, "PVC40 2": 3.291,
}  # fmt: skip

# Share of a conduit by the number in it: NFPA 70 Chapter 9 Table 1, and note 4 for nipples up to 24 in.
ONE, TWO, MORE, NIPPLE = 0.53, 0.31, 0.40, 0.60
ROUND_UP_FROM = 0.8  # note 7: equal ones only
# Share of a metal wireway: NFPA 70 376.22(A).
WIREWAY = 0.20
# Control and signal cables alone in a tray: NFPA 70 392.22(A)(2) ventilated, (A)(4) solid bottom.
SIGNALS_VENTILATED, SIGNALS_SOLID = 0.50, 0.40
# Multiconductor cables smaller than 4/0 AWG by inside width in in, in²: NFPA 70 Table 392.22(A) columns 1 and 3.
VENTILATED_IN2, SOLID_IN2 = {6: 7.0, 12: 14.0}, {6: 5.5, 12: 11.0}

# Ampacity of copper, A: NFPA 70 Table 310.16, columns of 60, 75 and 90 °C.
AMPACITY = {
    "14": (15, 20, 25), "12": (20, 25, 30), "10": (30, 35, 40), "8": (40, 50, 55), "6": (55, 65, 75), "4": (70, 85, 95),
    "2": (95, 115, 130), "1/0": (125, 150, 170), "3/0": (165, 200, 225),
}  # fmt: skip
# Sizes whose terminals are for 60 °C unless declared, as are those of devices up to 100 A: NFPA 70 110.14(C)(1)(a).
SMALL = {"14", "12", "10", "8", "6", "4", "2"}
# Largest device of small conductors, A: NFPA 70 240.4(D).
SMALL_DEVICE = {"14": 15, "12": 20, "10": 30}
# Adjustment by the number of current-carrying conductors, from so many: NFPA 70 Table 310.15(C)(1).
ADJUSTMENT = ((41, 0.35), (31, 0.40), (21, 0.45), (10, 0.50), (7, 0.70), (4, 0.80), (0, 1.0))
# Conductors in a metal wireway that aren't adjusted: NFPA 70 376.22(B).
WIREWAY_MOST = 30
# Standard ratings of devices, A: NFPA 70 Table 240.6(A), as far as they are needed.
STANDARD = (10, 15, 20, 25, 30, 35, 40)
CONTINUOUS = 1.25  # NFPA 70 210.20(A), 215.3

# Bore over diameter at which three of one size may jam: NFPA 70 Chapter 9 Table 1, informational note 2.
JAM = (2.8, 3.2)
# Where the project file waives that.
JAM_WAIVED = "RC-12"
# Between pull points: NFPA 70 358.26. The least radius of a bend's middle line: Chapter 9 Table 2, 4 in.
MOST_BENDS_DEG, LEAST_BEND_M = 360.0, 0.1016
# Trade practice: 0.008 lb per circular mil of copper, two thirds of it if they are unequal, 1000 lb for a grip; the pressure in bends, 300
# lb/ft; the friction of dry cables.
COPPER_N_PER_MM2, UNEQUAL_SHARE, GRIP_N, SIDE_N_PER_M, DRY_FRICTION = 70.0, 0.6667, 4448.0, 4378.0, 0.5


def square(side_in: float, wall_mm: float = 0.0) -> float:
    """Return the inside area of a square wireway, mm²."""
    return (side_in * INCH_MM - 2 * wall_mm) ** 2


def bore(diameter_mm: float) -> float:
    """Return the area of a circle, mm²."""
    return math.pi / 4 * diameter_mm**2


def conduit(name: str) -> float:
    """Return the total area of a conduit of the code's table, mm²."""
    return CONDUIT_IN2[name] * IN2


# Inside area of each carrier, mm², and what its size comes from. None: not known. With no wall known it is the area without one.
NAME, SHAPE, STANDARD_SET, MAPPED, PROJECT, TABLE, NOWHERE = (
    "name", "shape", "standard property", "mapped property", "project file", "name, and the code's table", "",
)  # fmt: skip
INSIDE: dict[str, tuple[float | None, str]] = {
    "MW-01": (square(4), SHAPE),
    "MW-02": (square(4), SHAPE),
    "MW-03": (square(2.5), SHAPE),
    "MW-04": (square(2.5), NAME),
    "MW-05": (square(2.5), SHAPE),
    "LW-01": (square(4, 1.6), STANDARD_SET),
    "LW-02": (square(4, 1.6), MAPPED),
    "LW-03": (square(4, 1.6), MAPPED),
    "LW-04": (square(4, 1.6), MAPPED),
    "C-01": (conduit("EMT 3/4"), TABLE),
    "C-02": (conduit("EMT 1"), TABLE),
    "C-03": (conduit("EMT 1/2"), TABLE),
    "C-04": (conduit("RMC 3/4"), TABLE),
    "C-05": (conduit("PVC40 1-1/4"), TABLE),
    "C-06": (conduit("EMT 3/4"), TABLE),
    "C-07": (conduit("IMC 3/4"), TABLE),
    "C-08": (bore(20.9), PROJECT),
    "C-09": (conduit("EMT 1/2"), TABLE),
    "C-10": (bore(0.824 * INCH_MM), SHAPE),
    "C-11": (conduit("EMT 3/4"), TABLE),
    "C-12": (conduit("EMT 1/2"), TABLE),
    "RC-01": (conduit("EMT 3/4"), TABLE),
    "NP-01": (conduit("EMT 1/2"), TABLE),
    "RC-02": (conduit("EMT 1/2"), TABLE),
    "RC-03": (conduit("EMT 1/2"), TABLE),
    "RC-05": (conduit("EMT 1/2"), TABLE),
    "RC-06": (conduit("EMT 1"), TABLE),
    "RC-07": (conduit("EMT 1/2"), TABLE),
    "RC-08": (conduit("EMT 3/4"), TABLE),
    "RC-09": (None, NOWHERE),
    "RC-10": (conduit("RMC 1-1/4"), TABLE),
    "RC-12": (conduit("EMT 1/2"), TABLE),
    "RC-99": (conduit("EMT 3/4"), TABLE),
    "FD-01": (conduit("PVC40 2"), TABLE),
    "FA-01": (conduit("EMT 3/4"), TABLE),
    "FA-02": (conduit("EMT 3/4"), TABLE),
    "FA-03": (conduit("EMT 3/4"), TABLE),
    "DT-01": (12 * 4 * IN2, NAME),
    "DT-02": (12 * 4 * IN2, SHAPE),
    "DT-03": (6 * 4 * IN2, SHAPE),
    "PT-01": (12 * 4 * IN2, SHAPE),
    "PT-02": (12 * 4 * IN2, MAPPED),
    "PT-03": (6 * 4 * IN2, SHAPE),
    "PT-04": (6 * 4 * IN2, SHAPE),
}
# Trays and ladders: inside width in in, and whether the bottom lets air through; None: nobody says.
OPEN: dict[str, tuple[int, bool | None]] = {
    "DT-01": (12, True), "DT-02": (12, None), "DT-03": (6, None),
    "PT-01": (12, True), "PT-02": (12, True), "PT-03": (6, None), "PT-04": (6, None),
}  # fmt: skip
WIREWAYS = {"MW-01", "MW-02", "MW-03", "MW-04", "MW-05", "LW-01", "LW-02", "LW-03", "LW-04"}
NIPPLES = {"NP-01"}
