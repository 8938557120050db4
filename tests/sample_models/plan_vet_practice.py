"""The vet practice's plan, in millimetres, as a person reads it off the drawing: lengths, where carriers meet, and ways along them.

Written from the points in ``vet_carriers.py``: a way through a fitting goes from where one carrier ends to the fitting's centre, where the
axes meet, and from there to the next. MT-1 ends at z=0 and FB-0 has its centre at z=-40, so MT-1 lies 40 from it.

What seems to meet and doesn't: FS-01 passes below FT-02 at x=2700 (z=-110 and z=-40). The boards and panels are ends of circuits, no ways
through: so MT-1, MT-3, MT-4 and RL-0 don't meet in DB-G, nor MT-2, MT-5 and RL-4 in DB-1, MT-6 and RL-5 in DB-P, WC-1 and WC-3 in BMS.
FC-21 and FC-22 pass above FC-01 and FC-03 a storey higher; FC-09 is the only piece from the fire alarm's boxes into WB-1.

The loop FT-13, FT-16, FT-14 lies round FT-05, which is the shorter way. From FT-16 to FT-05 both halves are as long:
150 + 150 + 1700 + 150 + 150 = 2300, and either is right.
"""

from tests.sample_models.plans import Plan, read_ways

CARRIERS = """
floor: FT-01 1750, FT-02 3400, FT-03 3700, FT-04 3700, FT-05 3700, FT-06 3700, FT-07 1750, FT-08 1200
branch: FT-11 3800, FT-12 1950, FT-13 1700, FT-14 1700, FT-15 1850, FT-16 3700, FT-17 1450
front: FS-01 4350, FS-02 4000, FS-03 4700, FS-04 3850
main: MT-1 1050, MT-2 500, MT-3 850, MT-4 1050, MT-5 500, MT-6 1050
ladder: RL-0 850, RL-1 1200, RL-2 1200, RL-3 700, RL-4 350, RL-5 850
tray: TR-01 550, TR-02 3200, TR-03 3500, TR-04 600, TR-05 3500, TR-06 3500, TR-07 3500, TR-08 3500, TR-09 1000, TR-10 700
tray east: TR-11 3500, TR-12 550
tray up: TU-01 600, TU-02 700, TU-03 3500, TU-04 3500, TU-05 700, TU-06 3500, TU-07 3500
wall: WT-01 3050, WT-02 3800, WT-03 1350, WC-1 1200, WC-2 600, WC-3 950, WD-01 3550, WD-02 3800, WD-03 1550, WE-1 800, WE-2 2700
power: CP-01 1900, CP-11 740, CP-12 1280, CP-13 1080, CP-14 440, CP-21 3800, CP-22 3800, CP-23 3800
power out: CP-41 1390, CP-42 880, CP-51 2240, CP-52 1380, CP-53 540, CP-61 2500
data: DT-1 2600, CD-R 3300, CD-1 780, CD-2 1680, CD-3 1400
control: CC-1 850
fire: FM-1 850, FC-W 1400, FC-01 5850, FC-03 3900, FC-04 3750, FC-09 250, FC-R 3400, FC-21 5850, FC-22 5850
emergency: EC-01 800, EC-02 3200, EC-03 3430, EC-04 5580, EC-05 5900, EC-07 3450, EC-11 5800
"""

EXCEPT_ALARM = "power emergency-self-contained control data elv"
OUTLETS = "power emergency-self-contained"
#: Of wall trunking the project file says nothing: it is undivided and takes what comes.
TAKES = {
    "floor": EXCEPT_ALARM,
    "branch": EXCEPT_ALARM,
    "front": OUTLETS,
    "main": f"{OUTLETS} control",
    "ladder": f"{OUTLETS} control",
    "tray": EXCEPT_ALARM,
    "tray east": EXCEPT_ALARM,
    "tray up": EXCEPT_ALARM,
    "power": OUTLETS,
    "power out": OUTLETS,
    "data": "data elv",
    "control": "control",
    "fire": "fire-alarm",
    "emergency": "emergency-central",
}

MEETINGS = """
FB-0: FT-01 start 150, MT-1 end 40, FT-08 end 150
FB-1: FT-01 end 150, FT-02 start 150
FB-2: FT-02 end 150, FT-03 start 150, FT-11 start 150
FB-3: FT-03 end 150, FT-04 start 150, FT-12 start 150
FB-4: FT-04 end 150, FT-05 start 150, FT-13 start 150, FT-17 start 150
FB-5: FT-05 end 150, FT-06 start 150, FT-14 start 150
FB-6: FT-06 end 150, FT-15 start 150, FT-07 end 150
FB-7: FT-15 end 150, CP-41 start 150
FB-8: FT-13 end 150, FT-16 start 150
FB-9: FT-14 end 150, FT-16 end 150
FB-10: MT-6 end 40, FT-07 start 150
FB-11: FT-11 end 150, DT-1 start 40
FB-12: WC-3 end 40, FT-08 start 150
FB-20: MT-4 end 110, FS-01 start 150
FB-21: FS-01 end 150, FS-02 start 150
FB-22: FS-02 end 150, FS-03 start 150
FB-23: FS-03 end 150, FS-04 start 150
RB-0: RL-0 end 150, TR-01 start 150
TT-0: WC-2 end 250, TR-09 start 250
TT-1: TR-09 end 250, TR-02 start 250, TR-01 end 250
TT-2: TR-02 end 250, TR-03 start 250, TR-10 end 250
TT-3: TR-03 end 250, TR-05 start 250, TR-04 start 250
TT-4: TR-05 end 250, TR-06 start 250, TR-07 start 250
TT-5: TR-06 end 250, TR-08 start 250, TR-11 start 250
TT-6: TR-11 end 250, TR-12 start 250
RB-5: TR-12 end 150, RL-5 start 150
TB-1: TR-08 end 150, CD-3 start 150, CC-1 start 150
DX-0: DT-1 end 150, TR-10 start 150, CD-R start 150
RB-1: TR-04 end 250, RL-1 start 250
end: RL-1 end 0, RL-2 start 0
end: RL-2 end 0, RL-3 start 0
RB-2: RL-3 end 250, TU-01 start 250
DX-2: CD-R end 150, TU-02 start 150
UT-1: TU-02 end 250, TU-03 start 250
UT-2: TU-03 end 250, TU-04 start 250, TU-01 end 250
UT-3: TU-04 end 250, TU-06 start 250, TU-05 start 250
UT-4: TU-06 end 250, TU-07 start 250, CD-1 start 250
RB-4: TU-05 end 150, RL-4 start 150
PB-7: CD-1 end 70, CD-2 start 70
MB-1: MT-3 end 150, WT-01 start 150
WB-0: WT-01 end 100, WT-02 start 100, WT-03 start 100
WB-1: WT-02 end 100, CP-11 start 100, CP-21 start 100, FC-09 end 100
WB-2: WT-03 end 100, CP-01 start 100
WB-3: WC-1 end 100, WC-2 start 100
MB-3: MT-2 end 150, WD-01 start 150
WB-4: WD-01 end 100, WD-02 start 100, CD-2 end 100
WB-5: WD-02 end 100, CP-51 start 100
MB-5: MT-5 end 150, WD-03 start 150
WB-6: WD-03 end 100, WE-1 start 100
WB-7: WE-1 end 100, WE-2 start 100
WB-8: WE-2 end 100, CP-61 start 100
PB-1: CP-11 end 60, CP-12 start 60
PB-2: CP-12 end 60, CP-13 start 60
PB-3: CP-13 end 60, CP-14 start 60
end: CP-21 end 0, CP-22 start 0
end: CP-22 end 0, CP-23 start 0
PB-4: CP-41 end 60, CP-42 start 60
PB-5: CP-51 end 60, CP-52 start 60
PB-6: CP-52 end 60, CP-53 start 60
AB-1: FM-1 end 100, FC-W start 100, FC-01 start 100, FC-R start 100
AB-2: FC-01 end 50, FC-03 start 50, FC-09 start 50
AB-3: FC-03 end 50, FC-04 start 50
AB-4: FC-R end 100, FC-21 start 100
AB-5: FC-21 end 50, FC-22 start 50
EB-1: EC-01 end 50, EC-02 start 50, EC-03 start 50
EB-4: EC-03 end 70, EC-04 start 70
EB-2: EC-04 end 50, EC-05 start 50
EB-3: EC-05 end 50, EC-07 start 50
EB-5: EC-07 end 50, EC-11 start 50
"""

PLAN = Plan(CARRIERS, MEETINGS, TAKES)

WAYS = read_ways("""
power: FT-01 FT-02 FT-03 FT-04 FT-05 FT-06 FT-15
power: MT-1 FT-01 FT-02 FT-03 FT-04 FT-05 FT-06 FT-15 CP-41 CP-42
data: FT-17 FT-04 FT-03 FT-11
power: FT-16 FT-13 FT-04 FT-12
power: FT-16 FT-14 FT-06
data: FT-03 FT-11 DT-1 CD-R TU-02 TU-03 TU-04 TU-06 TU-07
data: TR-08 TR-06 TR-05 TR-03 TR-10 CD-R TU-02 TU-03 TU-04 TU-06 CD-1 CD-2 WD-02
elv: FT-07 FT-06 FT-05 FT-04 FT-03 FT-11 DT-1 TR-10 TR-03 TR-05 TR-06 TR-08 CD-3
power: RL-0 TR-01 TR-02 TR-03 TR-04 RL-1 RL-2 RL-3 TU-01 TU-04 TU-06 TU-07
power: RL-5 TR-12 TR-11 TR-06 TR-05 TR-04 RL-1 RL-2 RL-3 TU-01 TU-04 TU-05 RL-4
control: WC-1 WC-2 TR-09 TR-02 TR-03 TR-05 TR-06 TR-08 CC-1
control: WC-3 FT-08 FT-01 FT-02 FT-03 FT-04 FT-05 FT-14
power: MT-3 WT-01 WT-02 CP-11 CP-12 CP-13 CP-14
emergency-self-contained: CP-01 WT-03 WT-02 CP-21 CP-22 CP-23
power: MT-5 WD-03 WE-1 WE-2 CP-61
power: MT-2 WD-01 WD-02 CP-51 CP-52 CP-53
power: MT-4 FS-01 FS-02 FS-03 FS-04
fire-alarm: FM-1 FC-01 FC-09 WT-02 WT-03
fire-alarm: FC-W FC-R FC-21 FC-22
emergency-central: EC-02 EC-03 EC-04 EC-05 EC-07 EC-11
power: MT-1 x MT-4
power: FS-02 x FT-02
power: FT-11 x TR-10
power: WD-01 x TU-06
control: WC-1 x WC-3
emergency-central: WT-01 x WC-1
data: WD-01 x WD-03
""")
