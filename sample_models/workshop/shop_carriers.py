"""Every carrier segment and fitting of the workshop, as it is drawn. No element has a port: what meets, meets in space.

Half of a 4 in wireway is 0.1667 ft (0.16667), of a 2-1/2 in one 0.1042 ft (0.10417): so far from its axis a conduit begins at its side.
"""

from shop_plan import (
    EMT_1,
    EMT_1_2,
    EMT_3_4,
    RIGID_1_1_4,
    RIGID_2,
    RIGID_3_4,
    Fitting,
    Segment,
)

HALF_4, HALF_2_5 = 2.0 / 12.0, 1.25 / 12.0
UNDER_4, UNDER_2_5 = 12.0 - HALF_4, 12.0 - HALF_2_5
NAMED = "Conduit with Fittings:{}:{}"

MACHINES: tuple[Segment, ...] = (
    # --- from DP-1 up the west wall and east along y=20; MW-05 leaves the side of MW-03 to the north
    Segment("MW-01", "Auxiliary gutter 4 x 4 in", ((1, 20, 6), (1, 20, 12)), "brep", (4, 4), is_steel=True),
    Segment("MW-02", "Wireway 4 x 4 in", ((1, 20, 12), (20, 20, 12)), "brep", (4, 4), is_steel=True),
    Segment("MW-03", "Wireway MW-03", ((20, 20, 12), (44, 20, 12)), "brep", (2.5, 2.5), "small", is_steel=True),
    Segment("MW-04", "Wireway MW-04", ((44, 20, 12), (66, 20, 12)), "axis", (2.5, 2.5), "small", is_steel=True),
    Segment("MW-05", "Wireway 2.5 x 2.5 in", ((32, 20 + HALF_2_5, 12), (32, 38, 12)), "box", (2.5, 2.5), is_steel=True),
    # --- one conduit down to each machine
    Segment("C-01", 'Conduit EMT 3/4"', ((8, 20, UNDER_4), (8, 20, 4)), "disk", (EMT_3_4,)),
    Segment("C-02", NAMED.format("Conduit EMT 1 in", 238811), ((24, 20, UNDER_2_5), (24, 20, 4)), "disk", (EMT_1,)),
    Segment("C-03", NAMED.format('Conduit EMT 1/2"', 238815), ((28, 20, UNDER_2_5), (28, 20, 4)), "disk", (EMT_1_2,)),
    Segment("C-04", "Conduit C-04", ((40, 20, UNDER_2_5), (40, 20, 4)), "disk", (RIGID_3_4,), "rmc34"),
    Segment("C-05", "Conduit 1-1/4 in PVC Schedule 40", ((32, 24, UNDER_2_5), (32, 24, 4)), "brep", (RIGID_1_1_4,)),
    Segment("C-06", "Conduit EMT 0.75 in", ((32, 28, UNDER_2_5), (32, 28, 4)), "box", (EMT_3_4,)),
    Segment("C-07", "Conduit IMC 3/4 in", ((32, 33, UNDER_2_5), (32, 33, 4)), "axis"),
    Segment("C-08", "Whip to the welder", ((50, 20, UNDER_2_5), (50, 20, 4)), "axis", type_key="whip"),
    Segment("C-09", NAMED.format("Conduit EMT 1/2 in", 238902), ((56, 20, UNDER_2_5), (56, 20, 4)), "disk", (EMT_1_2,)),
    Segment("C-10", "Conduit 3/4 in", ((66, 20, 12), (70, 20, 12), (70, 20, 4)), "disks", (EMT_3_4,), inner_in=0.824),
    Segment("C-11", 'Conduit EMT 3/4"', ((32, 38, 12), (32, 40, 12), (32, 40, 4)), "disks", (EMT_3_4,)),
    Segment("C-12", "Conduit EMT 1/2 in", ((14, 20, UNDER_4), (14, 20, 4)), "disk", (EMT_1_2,)),
)

LIGHTING: tuple[Segment, ...] = (
    # --- from LP-1 up the west wall, through a bend, and east along y=10
    Segment("LW-01", "Wireway LW-01", ((1, 10, 6), (1, 10, 11.5)), "brep", (4, 4), "riser", is_steel=True),
    Segment(
        "LW-02", "Wireway LW-02", ((1.5, 10, 12), (22, 10, 12)), "axis", (4, 4), "shop",
        fabricated_in=(4, 4), finish="Galvanised steel",
    ),
    Segment(
        "LW-03", "Wireway LW-03", ((22, 10, 12), (44, 10, 12)), "box", (4, 4), "shop",
        fabricated_in=(4, 4), finish="Galvanised steel",
    ),
    Segment(
        "LW-04", "Wireway LW-04", ((44, 10, 12), (64, 10, 12)), "axis", (4, 4), "shop",
        fabricated_in=(4, 4), finish="Galvanised steel",
    ),
    # --- receptacles on the column line: a box, a nipple, a box
    Segment("RC-01", "Conduit EMT 3/4 in", ((10, 10, UNDER_4), (10, 10, 5.25)), "disk", (EMT_3_4,)),
    Segment("NP-01", 'Conduit EMT 1/2"', ((10.25, 10, 5), (11.75, 10, 5)), "disk", (EMT_1_2,)),
    Segment("RC-02", 'Conduit EMT 1/2"', ((12, 10, 4.75), (12, 10, 2)), "disk", (EMT_1_2,)),
    Segment("RC-03", 'Conduit EMT 1/2"', ((12.25, 10, 5), (18, 10, 5)), "disk", (EMT_1_2,)),
    # --- receptacles of the south benches
    Segment(
        "RC-05", "Conduit EMT 1/2 in", ((26, 10, UNDER_4), (26, 10, 5), (26, 6, 5), (30, 6, 5)), "disks", (EMT_1_2,)
    ),
    # --- the homerun of the metal shop, which turns up into a pull can
    Segment(
        "RC-06", "Conduit EMT 1 in", ((60, 10 + HALF_4, 12), (60, 18.5, 12), (60, 18.5, 14.5)), "curve", (EMT_1,),
        bend_ft=1.0,
    ),
    Segment("RC-07", "Conduit EMT 1/2 in", ((60, 19, 15), (60, 30, 15)), "disk", (EMT_1_2,)),
    Segment("RC-08", "Conduit EMT 3/4 in", ((60.5, 18.5, 15), (72, 18.5, 15)), "disk", (EMT_3_4,)),
    # --- lights
    Segment("RC-09", "Conduit 1 in", ((5, 10 + HALF_4, 12), (5, 16, 12)), "axis"),
    Segment("RC-10", "Conduit RC-10", ((40, 10, UNDER_4), (40, 10, 8)), "brep", (RIGID_1_1_4,), "rmc114"),
    Segment("RC-12", "Conduit EMT 1/2 in", ((36, 10, 12 + HALF_4), (36, 10, 12.5), (36, 34, 12.5)), "disk", (EMT_1_2,)),
    # --- for later; it stops 4 in short of LW-04
    Segment("RC-99", "Conduit EMT 3/4 in", ((50, 10 + HALF_4 + 4 / 12, 12), (50, 16, 12)), "disk", (EMT_3_4,)),
    # --- what feeds LP-1 from DP-1
    Segment(
        "FD-01", "Conduit 2 in PVC Schedule 40", ((1, 20, 2.5), (1, 20, 1), (1, 10, 1), (1, 10, 2.5)), "disks", (RIGID_2,)
    ),
)  # fmt: skip

OTHERS: tuple[Segment, ...] = (
    # --- fire alarm
    Segment("FA-01", "Conduit FA-01", ((1, 30, 5.75), (1, 30, 12.5)), "disk", (EMT_3_4,), "fire"),
    Segment("FA-02", "Conduit FA-02", ((1.5, 30, 13), (19.75, 30, 13)), "disk", (EMT_3_4,), "fire"),
    # over the wireway MW-05 and, at its end, round to horn and detector: five right angles after the box
    Segment(
        "FA-03",
        "Conduit FA-03",
        ((20.25, 30, 13), (30, 30, 13), (30, 30, 14), (34, 30, 14), (34, 30, 13), (46, 30, 13), (46, 31, 13)),
        "disks",
        (EMT_3_4,),
        "fire",
    ),
    # --- data, from the rack on the mezzanine
    Segment("DT-01", "Tray DT-01", ((4, 42, 15), (24, 42, 15)), "axis", (12, 4), "data", storey=1),
    Segment("DT-02", 'Cable tray 12" x 4"', ((24, 42, 15), (44, 42, 15)), "box", (12, 4)),
    Segment("DT-03", "Cable tray 6 x 4 in", ((34, 41.5, 15), (34, 26, 15)), "brep", (6, 4)),
    # --- power of the metal shop's large machines, from DP-2
    Segment("PT-01", "Ladder PT-01", ((76, 30, 6), (76, 30, 14)), "brep", (12, 4), "ladder"),
    Segment("PT-02", "Tray PT-02", ((76, 30, 14), (76, 44.25, 14)), "axis", (12, 4), "trough", fabricated_in=(12, 4)),
    Segment("PT-03", 'Cable tray 6" x 4"', ((75.5, 44, 14), (62, 44, 14)), "brep", (6, 4)),
    Segment("PT-04", 'Cable tray 6" x 4"', ((62, 44, 14), (50, 44, 14)), "box", (6, 4)),
)

SEGMENTS: tuple[Segment, ...] = (*MACHINES, *LIGHTING, *OTHERS)

FITTINGS: tuple[Fitting, ...] = (
    Fitting(
        "LB-01", "Bend LB-01", "BEND", (1 - HALF_4, 10 - HALF_4, 11.5), (1.5, 10 + HALF_4, 12 + HALF_4),
        "IfcCableCarrierFittingType", "Wireway bend 4 x 4 in", (1, 10, 12),
    ),
    Fitting("JB-01", "Junction box 6 x 6 x 6", "", (9.75, 9.75, 4.75), (10.25, 10.25, 5.25)),
    Fitting(
        "JB-03", "Box JB-03", "", (11.75, 9.75, 4.75), (12.25, 10.25, 5.25), "IfcJunctionBoxType", "Outlet box 6 in"
    ),
    Fitting("JB-02", "Pull can 12 x 12 x 12", "", (59.5, 18, 14.5), (60.5, 19, 15.5)),
    Fitting("FB-01", 'Conduit elbow 90 EMT 3/4"', "", (1, 30, 12.5), (1.5, 30, 13), corner=(1, 30, 13), disk_in=EMT_3_4),
    Fitting(
        "JB-04", "Box JB-04", "", (19.75, 29.75, 12.75), (20.25, 30.25, 13.25), "IfcJunctionBoxType", "Outlet box 6 in"
    ),
)  # fmt: skip

# Of other trades, or no element at all: name, type's class, points, outside diameter or sides in inches. None of them is a carrier.
NOT_CARRIERS: tuple[tuple[str, str, str, tuple[tuple[float, float, float], ...], tuple[float, ...]], ...] = (
    ("P-01", "Compressed air main", "IfcPipeSegmentType", ((30, 45, 13), (70, 45, 13)), (1.05,)),
    ("P-02", "Pipe - Conduit water 2 in", "", ((4, 46, 9), (40, 46, 9)), (2.375,)),
    ("D-01", "Extract duct 14 in", "IfcDuctSegmentType", ((6, 26, 15), (54, 26, 15)), (14.0,)),
    ("D-02", "Duct 12 x 8", "", ((54, 34, 13), (54, 48, 13)), (12.0, 8.0)),
    ("X-01", "Placeholder conduit 4 in", "", ((46, 2, 15), (46, 38, 15)), (4.5,)),
)
