"""The workshop's plan, in feet, as a person reads it off the drawing: lengths, where carriers meet, and ways along them.

Written from the points in ``shop_carriers.py``: MW-03 runs from x=20 to x=44 and C-03 comes off it at x=28, so 28 - 20 = 8 along it.
A conduit begins at the side of a wireway, half the wireway's width from its axis: 2 in = 0.1667 ft of a 4 in one, 1.25 in = 0.1042 ft of a
2-1/2 in one. Trays of 12 in are met half a foot from their axis.

What seems to meet and doesn't: RC-12 crosses above MW-03 (12.5 ft over 12 ft), FA-03 above MW-05 (13 ft over 12 ft). RC-99 stops 4 in
short of LW-04, on purpose. FD-01 runs from board to board, and a board is no way through: so it meets nothing, and neither do MW-01,
LW-01 and PT-01 meet each other at the boards they start from.
"""

from tests.sample_models.plans import Plan, read_ways

# Bent ones: C-10 4 + 8, C-11 2 + 8, RC-05 6.8333 + 4 + 4, RC-12 0.3333 + 24, FD-01 1.5 + 10 + 1.5. RC-06 has a bend of 1 ft radius:
# 8.3333 + 2.5 - 2 x 1 + 3.1416 / 2 = 10.4041. FA-03 9.75 + 1 + 4 + 1 + 12 + 1.
CARRIERS = """
wireway: MW-01 6, MW-02 19, MW-03 24, MW-04 22, MW-05 17.8958, LW-01 5.5, LW-02 20.5, LW-03 22, LW-04 20
machine: C-01 7.8333, C-12 7.8333, C-02 7.8958, C-03 7.8958, C-04 7.8958, C-05 7.8958, C-06 7.8958, C-07 7.8958, C-08 7.8958
bent: C-09 7.8958, C-10 12, C-11 10, RC-05 14.8333, RC-06 10.4041, RC-12 24.3333, FD-01 13
receptacle: RC-01 6.5833, NP-01 1.5, RC-02 2.75, RC-03 5.75, RC-07 11, RC-08 11.5, RC-09 5.8333, RC-10 3.8333, RC-99 5.5
fire: FA-01 6.75, FA-02 18.25, FA-03 28.75
data: DT-01 20
tray: DT-02 20, DT-03 15.5, PT-01 8, PT-02 14.25, PT-03 13.5, PT-04 12
"""

#: Of DT-02 the project file says nothing, as it has no type: it takes what comes, like everything that isn't named here.
TAKES = {"fire": "fire-alarm", "data": "data"}

# What a cable does in a corner isn't drawn. At the most it goes round it: through an elbow by where the axes meet, 0.5 + 0.5 = 1 ft; and
# from PT-03, which leaves PT-02 in the corner at its end, 0.25 ft before that, by the end: the root of 0.5 x 0.5 + 0.25 x 0.25 = 0.5590.
CORNERS = """
LB-01: LW-01 end 0.5, LW-02 start 0.5
FB-01: FA-01 end 0.5, FA-02 start 0.5
side: PT-03 start 0.5590, PT-02 end 0
"""

# At the least it goes straight: through an elbow from end to end, 0.5 x 1.4142 = 0.7071 ft, and from PT-03 to the axis of PT-02.
CORNERS_CUT = """
LB-01: LW-01 end 0.35355, LW-02 start 0.35355
FB-01: FA-01 end 0.35355, FA-02 start 0.35355
side: PT-03 start 0.5, PT-02 14 0
"""

MEETINGS = """
end: MW-01 end 0, MW-02 start 0
end: MW-02 end 0, MW-03 start 0
end: MW-03 end 0, MW-04 start 0
side: MW-05 start 0.1042, MW-03 12 0
side: C-01 start 0.1667, MW-02 7 0
side: C-12 start 0.1667, MW-02 13 0
side: C-02 start 0.1042, MW-03 4 0
side: C-03 start 0.1042, MW-03 8 0
side: C-04 start 0.1042, MW-03 20 0
side: C-05 start 0.1042, MW-05 3.8958 0
side: C-06 start 0.1042, MW-05 7.8958 0
side: C-07 start 0.1042, MW-05 12.8958 0
side: C-08 start 0.1042, MW-04 6 0
side: C-09 start 0.1042, MW-04 12 0
end: C-10 start 0, MW-04 end 0
end: C-11 start 0, MW-05 end 0
end: LW-02 end 0, LW-03 start 0
end: LW-03 end 0, LW-04 start 0
side: RC-01 start 0.1667, LW-02 8.5 0
side: RC-09 start 0.1667, LW-02 3.5 0
side: RC-05 start 0.1667, LW-03 4 0
side: RC-12 start 0.1667, LW-03 14 0
side: RC-10 start 0.1667, LW-03 18 0
side: RC-06 start 0.1667, LW-04 16 0
JB-01: RC-01 end 0.25, NP-01 start 0.25
JB-03: NP-01 end 0.25, RC-02 start 0.25, RC-03 start 0.25
JB-02: RC-06 end 0.5, RC-07 start 0.5, RC-08 start 0.5
JB-04: FA-02 end 0.25, FA-03 start 0.25
end: DT-01 end 0, DT-02 start 0
side: DT-03 start 0.5, DT-02 10 0
end: PT-01 end 0, PT-02 start 0
end: PT-03 end 0, PT-04 start 0
"""

MOST, LEAST = (Plan(CARRIERS, MEETINGS + corners.lstrip(), TAKES) for corners in (CORNERS, CORNERS_CUT))

WAYS = read_ways("""
power: MW-01 MW-02 MW-03 MW-04 C-10
power: C-12 MW-02 C-01
power: C-11 MW-05 MW-03 C-02
power: C-05 MW-05 MW-03 MW-04 C-09
control: C-04 MW-03 C-03
power: C-07 MW-05 C-06
power: LW-01 LW-02 RC-01 NP-01 RC-02
elv: RC-02 RC-03
power: RC-09 LW-02 LW-03 LW-04 RC-06 RC-08
power: RC-07 RC-08
data: RC-12 LW-03 RC-10
power: RC-05 LW-03 LW-02 RC-01 NP-01 RC-03
fire-alarm: FA-01 FA-02 FA-03
data: DT-01 DT-02 DT-03
fire-alarm: DT-03 DT-02
power: PT-04 PT-03 PT-02 PT-01
power: RC-99 x LW-04
power: RC-12 x MW-03
fire-alarm: FA-03 x MW-05
power: FD-01 x LW-01
power: MW-01 x FD-01
""")
