"""The figures that the worked ratings use, each with its source. Typed in by hand, and only those that are needed."""

# Base ratings in A of copper at 30 °C in air, by (insulation, loaded conductors, method) and mm².
BASE_A: dict[tuple[str, int, str], dict[float, float]] = {
    # IEC 60364-5-52:2009 Table B.52.2
    ("PVC", 2, "B1"): {1.5: 17.5, 2.5: 24, 4: 32, 6: 41, 10: 57, 16: 76},
    ("PVC", 2, "B2"): {1.5: 16.5, 2.5: 23},
    # IEC 60364-5-52:2009 Table B.52.4
    ("PVC", 3, "B1"): {16: 68, 25: 89},
    # IEC 60364-5-52:2009 Table B.52.10
    ("PVC", 2, "E"): {1.5: 22, 2.5: 30, 4: 40, 6: 51, 10: 70},
    ("PVC", 3, "E"): {4: 34, 6: 43, 10: 60, 35: 126},
    # IEC 60364-5-52:2009 Table B.52.12
    ("XLPE", 3, "E"): {16: 100, 25: 127},
}

# Ambient factors, by insulation and °C: IEC 60364-5-52:2009 Table B.52.14.
AMBIENT = {("PVC", 30): 1.0, ("PVC", 35): 0.94, ("XLPE", 30): 1.0}
ASSUMED_AMBIENT_C = 30

# Grouping factors, by the number of circuits or multicore cables; between two the next higher number holds.
# Bunched or enclosed: IEC 60364-5-52:2009 Table B.52.17 item 1 = BS 7671 Table 4C1.
BUNCHED = {
    1: 1.0, 2: 0.80, 3: 0.70, 4: 0.65, 5: 0.60, 6: 0.57, 7: 0.54, 8: 0.52, 9: 0.50, 12: 0.45, 16: 0.41, 20: 0.38,
}  # fmt: skip
# One layer of touching multicore cables on one perforated tray, level and upright: Table B.52.20 = BS 7671 Table 4C4.
TRAY_LEVEL = {1: 1.0, 2: 0.88, 3: 0.82, 4: 0.79, 6: 0.76, 9: 0.73}
TRAY_UPRIGHT = {1: 1.0, 2: 0.88, 3: 0.82, 4: 0.78, 6: 0.73, 9: 0.72}
# One layer of touching multicore cables on one ladder: Table B.52.20 to nine cables; above, Table B.52.17 item 5.
LADDER = {1: 1.0, 2: 0.87, 3: 0.82, 4: 0.80, 6: 0.79, 9: 0.78, 12: 0.78}

# Standard sizes in mm². Sizes that span more than three adjacent ones are mixed: then 1/√n in an enclosure.
# IEC 60364-5-52:2009 B.52.5.2; BS 7671:2018 Appendix 4.
SIZES_MM2 = (1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0)
ADJACENT = 3

# A circuit that carries no more than this part of its own grouped rating may be left out for the others.
# IEC 60364-5-52:2009 523.5; BS 7671:2018 Appendix 4.
LIGHT = 0.30

# A ring final circuit of 30 or 32 A needs this of each leg: BS 7671:2018 433.1.204.
RING_LEG_A = 20.0

# Third harmonic h of the line current: factor, and whether the neutral's current 3·h·In counts instead of the line's.
# IEC 60364-5-52:2009 Table E.52.1; BS 7671:2018 Table 4Aa. Each row holds to its h.
HARMONICS = ((0.15, 1.0, False), (0.33, 0.86, False), (0.45, 0.86, True))

# Circuits of XLPE that may run at 90 °C: both ends are boards, which wayroom.toml declares for 90 °C. Every other one
# ends at equipment of which nothing is said, and is rated as PVC at 70 °C.
BOTH_ENDS_AT_90_C = {"TP-01", "TP-09"}

# Carriers on which cables lie in the open, and how wide each compartment is inside, mm; all others enclose them.
OPEN_WIDTHS_MM = {"TR": (200.0, 95.5), "TU": (200.0, 95.5), "RL": (270.0,)}
