"""The way of each circuit, read off the plan by hand: carriers in order. No carrier here has more than one compartment.

Nothing here is computed, and nothing is taken from what the checker says.
"""

WAYS: dict[str, str] = {
    # --- supply A: from the switchboard, past the UPS, up the riser and down to the panel
    "PA-01": "LA-01 LA-02",
    "PA-02": "LA-02 LA-03 LA-04 LA-05 LA-09",
    # --- from the panel up to the spine, and along the first row
    "PA-03": "LA-10 LA-06 LA-11 LA-12",
    "A101": "LA-10 LA-06 LA-11",
    "A102": "LA-10 LA-06 LA-11",
    "A103": "LA-10 LA-06 LA-11",
    "A104": "LA-10 LA-06 LA-11 LA-12",
    "A105": "LA-10 LA-06 LA-11 LA-12",
    "A106": "LA-10 LA-06 LA-11 LA-12",
    "A-SP": "LA-10 LA-06 LA-11 LA-12",
    # --- along the second row
    "A201": "LA-10 LA-06 LA-07 LA-21",
    "A202": "LA-10 LA-06 LA-07 LA-21",
    "A203": "LA-10 LA-06 LA-07 LA-21",
    "A204": "LA-10 LA-06 LA-07 LA-21 LA-22",
    "A205": "LA-10 LA-06 LA-07 LA-21 LA-22",
    "A206": "LA-10 LA-06 LA-07 LA-21 LA-22",
    # --- to the network rack of row 1
    "PN-01": "LA-31",
    # --- supply B: the same from the north; the second row comes first
    "PB-01": "LB-01 LB-02",
    "PB-02": "LB-02 LB-03 LB-04 LB-05 LB-09",
    "PB-03": "LB-10 LB-06 LB-21 LB-22",
    "B101": "LB-10 LB-06 LB-07 LB-11",
    "B102": "LB-10 LB-06 LB-07 LB-11",
    "B103": "LB-10 LB-06 LB-07 LB-11",
    "B104": "LB-10 LB-06 LB-07 LB-11 LB-12",
    "B105": "LB-10 LB-06 LB-07 LB-11 LB-12",
    "B106": "LB-10 LB-06 LB-07 LB-11 LB-12",
    "B201": "LB-10 LB-06 LB-21",
    "B202": "LB-10 LB-06 LB-21",
    "B203": "LB-10 LB-06 LB-21",
    "B204": "LB-10 LB-06 LB-21 LB-22",
    "B205": "LB-10 LB-06 LB-21 LB-22",
    "B206": "LB-10 LB-06 LB-21 LB-22",
    # --- metering: the schedule gives its way, along the power ladder
    "ME-01": "LB-10 LB-06 LB-07 LB-11 LB-12",
    # --- data along the rows
    "DT-101": "BD-01 BD-11 BD-12 BD-13",
    "DT-102": "BD-01 BD-11 BD-12 BD-13",
    "DT-103": "BD-01 BD-11 BD-12 BD-13",
    "DT-104": "BD-01 BD-11 BD-12",
    "DT-105": "BD-01 BD-11 BD-12",
    "DT-106": "BD-01 BD-11 BD-12",
    "DT-201": "BD-02 BD-21 BD-22 BD-23",
    "DT-202": "BD-02 BD-21 BD-22 BD-23",
    "DT-203": "BD-02 BD-21 BD-22 BD-23",
    "DT-204": "BD-02 BD-21 BD-22",
    "DT-205": "BD-02 BD-21 BD-22",
    "DT-206": "BD-02 BD-21 BD-22",
    # --- from row to row: BD-31 and BD-32 would be short, but don't meet
    "DX-01": "BD-13 BD-12 BD-11 BD-01 BD-02 BD-21 BD-22 BD-23",
    # its partner has to go apart from it, and can't: the only other way would be the one that doesn't meet
    "DX-02": "BD-13 BD-12 BD-11 BD-01 BD-02 BD-21 BD-22 BD-23",
    "EN-01": "BD-01 BD-11 BD-12 BD-13 BD-31",
    "EN-02": "BD-02 BD-21 BD-22 BD-23 BD-32",
    "CA-01": "BD-02 BX-01",
    # both would come in on BR-00, the nearest; FO-01 keeps apart from FO-02 by the second riser
    "FO-01": "BR-04 BR-05 BR-06 BD-42 BD-01",
    "FO-02": "BR-00 BR-01 BR-02 BD-41 BD-02",
    "EX-01": "BD-02 BD-21 BD-22 BE-01",
    "EX-02": "",  # removed: it lies nowhere
    # --- below the floor
    "CT-01": "BU-01",
    "CT-02": "BU-01 BU-02",
    "CT-03": "BU-01 BU-02 BU-03",
    "LD-01": "BU-01 BU-02 BU-03",
    "LD-02": "",  # no way: BU-04, at which it ends, is joined to nothing
}

AT_PORTS = {"RPP-A": ("LA-09:end", "LA-10:start"), "RPP-B": ("LB-09:end", "LB-10:start")}
"""Where the panels open into carriers: the way in, and the way out."""

UNROUTED = {"LD-02": ("BU-01", "BU-02", "BU-03", "BU-04")}
"""Circuits without a way, and where they could lie: in all that takes their service."""

APART: tuple[tuple[str, str], ...] = (
    ("PA-01", "PB-01"),
    ("PA-02", "PB-02"),
    ("PA-03", "PB-03"),
    *((f"A{row}0{rack}", f"B{row}0{rack}") for row in (1, 2) for rack in range(1, 7)),
    ("FO-01", "FO-02"),
    ("DX-01", "DX-02"),
)
"""Circuits that may share no carrier: the two supplies of one thing, and two links that stand in for each other."""

SHARING: dict[tuple[str, str], str] = {("DX-01", "DX-02"): "BD-13 BD-12 BD-11 BD-01 BD-02 BD-21 BD-22 BD-23"}
"""What those of them share for which the plan has no second way: in the west BD-31 and BD-32 don't meet."""

BREAKS: tuple[tuple[str, str, float, str], ...] = (("BU-03", "BU-04", 60.0, "LD-02"),)
"""Two carriers between which a circuit would have to pass and can't, how far their ends are apart in mm, and the circuit."""

TAKE_OFF = ("A101", "FO-01", "CT-01")
"""Circuits whose cables are taken off by hand."""
