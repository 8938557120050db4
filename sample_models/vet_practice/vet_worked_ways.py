"""The way of each circuit, read off the plan by hand: carriers in order, each with the compartment it lies in.

Nothing here is computed, and nothing is taken from what the checker says. Floor trunking: 1 power, 2 controls, 3 data.
Corridor tray: 1 power and controls, 2 data. Everything else is undivided.
"""

WAYS: dict[str, str] = {
    # --- from DB-G down to the front and along it
    "FP-01": "MT-4/1 FS-01/1 FS-02/1",
    "FP-02": "MT-4/1 FS-01/1 FS-02/1 FS-03/1",
    "FP-03": "MT-4/1 FS-01/1 FS-02/1 FS-03/1",
    "FP-04": "MT-4/1 FS-01/1 FS-02/1 FS-03/1 FS-04/1",
    "FP-18": "MT-4/1 FS-01/1 FS-02/1",
    # --- from DB-G down and along the middle of the floor
    "FP-05": "MT-1/1 FT-01/1 FT-02/1 FT-03/1 FT-04/1 FT-05/1",
    "FP-09": "MT-1/1 FT-01/1 FT-02/1 FT-03/1 FT-04/1 FT-05/1 FT-14/1",
    "FP-11": "MT-1/1 FT-01/1 FT-02/1 FT-03/1 FT-04/1 FT-05/1 FT-06/1",
    "FP-12": "MT-1/1 FT-01/1 FT-02/1 FT-03/1 FT-04/1",
    "FP-13": "MT-1/1 FT-01/1 FT-02/1 FT-11/1",
    "FP-14": "MT-1/1 FT-01/1 FT-02/1",
    "FP-15": "MT-1/1 FT-01/1 FT-02/1 FT-03/1 FT-04/1 FT-17/1",
    "FP-16": "MT-1/1 FT-01/1 FT-02/1 FT-03/1 FT-12/1",
    "FP-17": "",  # removed: it lies nowhere
    # --- from DB-P down into the floor of the pharmacy
    "PP-01": "MT-6/1 FT-07/1 FT-06/1",
    "PP-02": "MT-6/1 FT-07/1 FT-15/1 CP-41/1 CP-42/1",
    "PP-03": "MT-6/1 FT-07/1 FT-15/1 CP-41/1 CP-42/1",
    "PP-04": "MT-6/1 FT-07/1 FT-15/1",
    # --- from the 24 V supply in the pharmacy
    "EV-01": "FT-07/2 FT-15/2",
    "EV-02": "FT-07/2 FT-06/2",
    # --- from the isolated supply on the loop: MP-01 goes all round it (see LOOPS)
    "MP-01": "FT-16/1 FT-13/1 FT-05/1 FT-14/1",
    "MP-02": "FT-16/1 FT-13/1",
    # --- from DB-G up into the wall trunking at high level
    "WP-01": "MT-3/1 WT-01/1 WT-03/1 CP-01/1",
    "WP-02": "MT-3/1 WT-01/1 WT-03/1 CP-01/1",
    "WP-03": "MT-3/1 WT-01/1 WT-02/1 CP-11/1 CP-12/1 CP-13/1 CP-14/1",
    "WP-04": "MT-3/1 WT-01/1 WT-02/1 CP-11/1 CP-12/1 CP-13/1 CP-14/1",
    "WP-05": "MT-3/1 WT-01/1 WT-02/1 CP-21/1 CP-22/1 CP-23/1",
    "WL-01": "MT-3/1 WT-01/1 WT-02/1",
    "WL-02": "MT-3/1 WT-01/1 WT-02/1",
    # --- from DB-G up the ladder onto the corridor tray
    "TP-01": "RL-0/1 TR-01/1 TR-02/1 TR-03/1 TR-04/1 RL-1/1 RL-2/1 RL-3/1 TU-01/1 TU-04/1 TU-05/1 RL-4/1",
    "TP-02": "RL-0/1 TR-01/1 TR-02/1 TR-03/1 TR-05/1 TR-06/1 TR-08/1",
    "TP-03": "RL-0/1 TR-01/1 TR-02/1 TR-03/1 TR-05/1 TR-07/1",
    "TP-04": "RL-0/1 TR-01/1 TR-02/1 TR-03/1 TR-05/1 TR-06/1 TR-08/1",
    "TP-05": "RL-0/1 TR-01/1 TR-02/1 TR-03/1 TR-05/1 TR-06/1 TR-08/1",
    "TP-06": "RL-0/1 TR-01/1 TR-02/1 TR-03/1 TR-05/1 TR-07/1",
    "TP-07": "RL-0/1 TR-01/1 TR-02/1 TR-03/1 TR-05/1 TR-06/1",
    "TP-08": "RL-0/1 TR-01/1 TR-02/1 TR-03/1 TR-05/1 TR-06/1",
    "TP-09": "RL-0/1 TR-01/1 TR-02/1 TR-03/1 TR-05/1 TR-06/1 TR-11/1 TR-12/1 RL-5/1",
    "TL-01": "RL-0/1 TR-01/1 TR-02/1 TR-03/1 TR-05/1",
    "TL-02": "RL-0/1 TR-01/1 TR-02/1 TR-03/1 TR-05/1 TR-07/1",
    # --- from DB-1: down to the east or to the west into the dado trunking, or up onto the first floor's tray
    "UP-01": "MT-2/1 WD-01/1",  # a ring: see RINGS
    "UP-02": "MT-2/1 WD-01/1 WD-02/1",
    "UP-03": "MT-5/1 WD-03/1",
    "UP-04": "MT-2/1 WD-01/1 WD-02/1 CP-51/1 CP-52/1 CP-53/1",
    "UP-05": "MT-5/1 WD-03/1 WE-1/1 WE-2/1",
    "UP-06": "MT-5/1 WD-03/1 WE-1/1 WE-2/1 CP-61/1",
    "UL-01": "MT-5/1 WD-03/1 WE-1/1 WE-2/1 CP-61/1",
    "UL-04": "MT-2/1 WD-01/1 WD-02/1 CP-51/1 CP-52/1 CP-53/1",
    "UL-02": "RL-4/1 TU-05/1 TU-06/1",
    "UL-03": "RL-4/1 TU-05/1 TU-04/1 TU-03/1",
    "UP-07": "RL-4/1 TU-05/1 TU-06/1",
    "UP-08": "RL-4/1 TU-05/1 TU-06/1 TU-07/1",
    # --- from the controls panel: up onto the tray, or down to the floor
    "CT-01": "WC-1/1 WC-2/1 TR-09/1 TR-02/1 TR-03/1 TR-05/1 TR-06/1 TR-08/1 CC-1/1",
    "CT-02": "WC-1/1 WC-2/1 TR-09/1 TR-02/1 TR-03/1 TR-05/1 TR-07/1",
    "CT-03": "WC-1/1 WC-2/1 TR-09/1 TR-02/1 TR-03/1 TR-04/1 RL-1/1 RL-2/1 RL-3/1 TU-01/1 TU-04/1 TU-06/1 TU-07/1",
    "CT-04": "WC-3/1 FT-08/2 FT-01/2 FT-02/2 FT-03/2",
    "CT-05": "WC-3/1 FT-08/2 FT-01/2 FT-02/2 FT-03/2 FT-04/2 FT-05/2",
    # --- fire alarm; FA-06 goes where the schedule sends it
    "FA-01": "FM-1/1 FC-01/1 FC-03/1 FC-04/1",
    "FA-02": "FM-1/1 FC-W/1",
    "FA-03": "FM-1/1 FC-W/1",
    "FA-04": "FM-1/1 FC-R/1 FC-21/1 FC-22/1",
    "FA-05": "FM-1/1 FC-R/1 FC-21/1",
    "FA-06": "FM-1/1 FC-01/1 FC-09/1 WT-02/1",
    # --- emergency lighting from the central battery
    "EM-01": "EC-01/1 EC-03/1 EC-04/1",
    "EM-02": "EC-01/1 EC-03/1 EC-04/1 EC-05/1",
    "EM-03": "EC-01/1 EC-03/1 EC-04/1 EC-05/1 EC-07/1 EC-11/1",
    "EM-04": "EC-01/1 EC-02/1",
    # --- from the data rack: down to the floor, up onto the tray, or up the data riser
    "DA-01": "DT-1/1 FT-11/3 FT-02/3",
    "DA-02": "DT-1/1 FT-11/3 FT-03/3",
    "DA-03": "DT-1/1 FT-11/3 FT-03/3 FT-04/3",
    "DA-04": "DT-1/1 FT-11/3 FT-03/3 FT-04/3 FT-13/3 FT-16/3",
    "DA-05": "DT-1/1 FT-11/3 FT-03/3 FT-04/3 FT-05/3 FT-06/3",
    "DA-06": "DT-1/1 TR-10/2 TR-03/2 TR-05/2 TR-06/2 TR-08/2 CD-3/1",
    "DA-07": "DT-1/1 CD-R/1 TU-02/2 TU-03/2 TU-04/2 TU-06/2 CD-1/1 CD-2/1 WD-01/1",
    "DA-08": "DT-1/1 CD-R/1 TU-02/2 TU-03/2 TU-04/2 TU-06/2 CD-1/1 CD-2/1 WD-02/1",
    "DA-09": "DT-1/1 CD-R/1 TU-02/2 TU-03/2",
}

RINGS = {"UP-01"}
"""Circuits that go out to their farthest call and come back the same way: their cables pass each carrier twice."""

LOOPS: dict[str, tuple[str, ...]] = {"MP-01": ("FT-16 FT-13", "FT-13 FT-05", "FT-05 FT-14 FT-16")}
"""Rings that come back by another way than they go out, as the schedule's `return_way` asks: the carriers of each leg.

West from MED-1 along FT-16, round by FT-13 and FT-05, and back by FT-14 to FT-16 from the east: no place is passed twice.
"""

NEAR_M = 2.0
"""By how much another way may be longer to be looked at, as wayroom.toml says."""

NEAR: dict[str, tuple[str, str]] = {
    "FP-09": ("FT-16", "MT-1/1 FT-01/1 FT-02/1 FT-03/1 FT-04/1 FT-13/1 FT-16/1 FT-14/1"),
}
"""Circuits that could as well go another way that is no more than NEAR_M longer: the carrier that tells it apart, and the way.

The loop is the only place of the plan where there are two ways. All others that come to it end where the other way round is 4 m longer
or more: FP-11 and DA-05 in FT-06 (8 m against 4 m between the boxes), FP-05, CT-05, DA-04, MP-01 and MP-02 on the loop itself.
"""

UNDECLARED: dict[str, str] = {"UT-4": "TU-06/1 TU-06/2 TU-07/1 CD-1/1"}
"""Tees of which wayroom.toml doesn't say whether they keep compartments apart, and the compartments that lead there.

In UT-4 CT-03 and UP-08 pass from lane to lane, 400 V among them, and DA-07 and DA-08 into CD-1, made for 125 V.
"""

# Conduit runs between points where cables can be drawn in, read off the plan: the lengths, their nominal size, how
# many right-angle bends, and the length along the middle line in metres, bends with their two straight arms.
RUNS: tuple[tuple[str, int, int, float], ...] = (
    ("CP-01", 20, 0, 1.90),
    ("CP-11 CP-12 CP-13 CP-14", 20, 3, 0.80 + 1.40 + 1.20 + 0.50),
    ("CP-21 CP-22 CP-23", 25, 0, 3 * 3.80),
    ("CP-41 CP-42", 20, 1, 1.45 + 0.94),
    ("CP-51 CP-52 CP-53", 20, 2, 2.30 + 1.50 + 0.60),
    ("CP-61", 25, 0, 2.50),
    ("CD-R", 25, 0, 3.30),
    ("CD-1 CD-2", 25, 1, 0.85 + 1.75),
    ("CD-3", 25, 0, 1.40),
    ("CC-1", 20, 0, 0.85),
    ("FC-W", 25, 0, 1.40),
    ("FC-01", 25, 0, 5.85),
    ("FC-03", 20, 0, 3.90),
    ("FC-04", 20, 0, 3.75),
    ("FC-09", 20, 0, 0.25),
    ("FC-R", 25, 0, 3.40),
    ("FC-21", 25, 0, 5.85),
    ("FC-22", 20, 0, 5.85),
    ("EC-01", 25, 0, 0.80),
    ("EC-02", 20, 0, 3.20),
    ("EC-03 EC-04", 25, 1, 3.50 + 5.65),
    ("EC-05", 25, 0, 5.90),
    ("EC-07", 20, 0, 3.45),
    ("EC-11", 20, 0, 5.80),
)
