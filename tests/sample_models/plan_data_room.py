"""The data room's plan, in millimetres, as a person reads it off the drawing: lengths, where carriers meet, and ways along them.

Written from the points in ``data_carriers.py``: LA-06 runs north from y=2950 and LA-11 leaves it at y=3600, so 650 along it. BD-41, BD-42,
BX-01 and BE-01 begin at the edge of a basket, 200 or 150 from its axis. The second riser meets the first only by BD-01 and BD-02.

What seems to meet and doesn't: LA-21 crosses over LB-06 (2.8 m and 2.5 m above the floor), and BD-31 over LB-11 and BD-32 over LA-21, as
the baskets lie at 3.4 m. In the west BD-31 and BD-32 end 60 mm from each other, and BU-03 and BU-04 below the floor do too, on purpose.
BE-02 is demolished, so it joins BD-12 and BD-22 no longer. The panels RPP-A and RPP-B stand between LA-09 and LA-10 and between LB-09 and
LB-10: they are ends of circuits, no ways through.
"""

from tests.sample_models.plans import Plan, read_ways

CARRIERS = """
ladder A: LA-01 3300, LA-02 3750, LA-03 1450, LA-04 2550, LA-05 500, LA-09 450, LA-10 450, LA-06 2550, LA-07 2100
rows A: LA-11 4000, LA-12 3500, LA-21 4000, LA-22 3500, LA-31 850
ladder B: LB-01 3300, LB-02 3750, LB-03 1750, LB-04 2250, LB-05 1500, LB-09 450, LB-10 450, LB-06 2550, LB-07 1900
rows B: LB-11 3000, LB-12 3500, LB-21 3000, LB-22 3500
basket: BD-01 1650, BD-02 1850, BD-11 2750, BD-12 3000, BD-13 2500, BD-21 3000, BD-22 3000, BD-23 2250, BD-31 1900, BD-32 2040
riser: BD-41 2050, BR-02 3150, BR-01 1600, BR-00 3250, BX-01 2000, BE-01 1550
second riser: BR-04 2750, BR-05 1600, BR-06 3150, BD-42 2550
floor: BU-01 3500, BU-02 3500, BU-03 2500, BU-04 2440
"""

TAKES = {
    "ladder A": "power",
    "rows A": "power",
    "ladder B": "power",
    "rows B": "power",
    "basket": "data",
    "riser": "data",
    "second riser": "data",
    "floor": "control elv",
}

MEETINGS = """
end: LA-01 end 0, LA-02 start 0
LF-01: LA-02 end 250, LA-03 start 250
end: LA-03 end 0, LA-04 start 0
LF-02: LA-04 end 250, LA-05 start 250
LF-03: LA-05 end 250, LA-09 start 250
LF-04: LA-10 end 250, LA-06 start 250
side: LA-11 start 0, LA-06 650 0
end: LA-11 end 0, LA-12 start 0
end: LA-06 end 0, LA-07 start 0
end: LA-07 end 0, LA-21 start 0
end: LA-21 end 0, LA-22 start 0
end: LB-01 end 0, LB-02 start 0
LF-11: LB-02 end 250, LB-03 start 250
end: LB-03 end 0, LB-04 start 0
LF-12: LB-04 end 250, LB-05 start 250
LF-13: LB-05 end 250, LB-09 start 250
LF-14: LB-10 end 250, LB-06 start 250
side: LB-21 start 0, LB-06 450 0
end: LB-21 end 0, LB-22 start 0
end: LB-06 end 0, LB-07 start 0
end: LB-07 end 0, LB-11 start 0
end: LB-11 end 0, LB-12 start 0
BF-01: BD-01 start 250, BD-11 start 250
end: BD-01 end 0, BD-02 start 0
BF-02: BD-02 end 250, BD-21 start 250
end: BD-11 end 0, BD-12 start 0
end: BD-12 end 0, BD-13 start 0
end: BD-21 end 0, BD-22 start 0
end: BD-22 end 0, BD-23 start 0
side: BD-31 start 0, BD-13 2300 0
side: BD-32 end 0, BD-23 2050 0
side: BX-01 start 200, BD-02 500 0
side: BD-41 start 200, BD-02 1000 0
side: BE-01 start 150, BD-22 1750 0
BF-03: BD-41 end 250, BR-02 start 250
end: BR-02 end 0, BR-01 start 0
BF-04: BR-01 end 250, BR-00 start 250
BF-05: BR-04 end 250, BR-05 start 250
end: BR-05 end 0, BR-06 start 0
BF-06: BR-06 end 250, BD-42 end 250
side: BD-42 start 200, BD-01 1150 0
end: BU-01 end 0, BU-02 start 0
end: BU-02 end 0, BU-03 start 0
"""

PLAN = Plan(CARRIERS, MEETINGS, TAKES)

WAYS = read_ways("""
power: LA-01 LA-02 LA-03 LA-04 LA-05 LA-09
power: LA-10 LA-06 LA-11 LA-12
power: LA-10 LA-06 LA-07 LA-21 LA-22
power: LA-12 LA-11 LA-06 LA-07 LA-21 LA-22
power: LB-01 LB-02 LB-03 LB-04 LB-05 LB-09
power: LB-10 LB-06 LB-21 LB-22
power: LB-22 LB-21 LB-06 LB-07 LB-11 LB-12
data: BD-31 BD-13 BD-12 BD-11 BD-01 BD-02 BD-21 BD-22 BD-23 BD-32
data: BR-00 BR-01 BR-02 BD-41 BD-02 BD-21 BD-22 BD-23
data: BR-00 BR-01 BR-02 BD-41 BD-02 BD-01 BD-11
data: BR-04 BR-05 BR-06 BD-42 BD-01 BD-11
data: BR-04 BR-05 BR-06 BD-42 BD-01 BD-02 BD-41 BR-02 BR-01 BR-00
data: BX-01 BD-02 BD-21 BD-22 BE-01
data: BX-01 BD-02 BD-41
data: BE-01 BD-22 BD-23 BD-32
elv: BU-01 BU-02 BU-03
control: BU-03 BU-02 BU-01
control: BU-03 x BU-04
power: LA-09 x LA-10
power: LB-09 x LB-10
power: LA-21 x LB-06
power: LA-05 x LB-05
""")
