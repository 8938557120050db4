"""The way of each circuit and every place where two elements meet, read off the drawing by hand.

Nothing here is computed, and nothing is taken from what the checker says. Every carrier has one compartment.
"""

TO_MW_03 = "MW-01 MW-02 MW-03"
TO_LW_04 = "LW-01 LW-02 LW-03 LW-04"

WAYS: dict[str, str] = {
    # --- machines, from DP-1 along the machine wireway, each down a conduit of its own
    "DP-1/1,3,5": "MW-01 MW-02 C-01",
    "DP-1/2,4,6": f"{TO_MW_03} C-02",
    "DP-1/7,9,11": f"{TO_MW_03} C-03",
    "DP-1/8,10,12": f"{TO_MW_03} C-04",
    "DP-1/13,15,17": f"{TO_MW_03} MW-05 C-05",
    "DP-1/14,16,18": f"{TO_MW_03} MW-05 C-06",
    "DP-1/19,21,23": f"{TO_MW_03} MW-05 C-07",
    "DP-1/20,22,24": f"{TO_MW_03} MW-04 C-08",
    "DP-1/25,27,29": f"{TO_MW_03} MW-04 C-09",
    "DP-1/26,28,30": f"{TO_MW_03} MW-04 C-10",
    "DP-1/31,33,35": f"{TO_MW_03} MW-05 C-11",
    "DP-1/32,34,36": "MW-01 MW-02 C-12",
    # --- receptacles, from LP-1: the column line, the south benches, the metal shop
    "LP-1/1": "LW-01 LW-02 RC-01 NP-01 RC-02",
    "LP-1/3": "LW-01 LW-02 RC-01 NP-01 RC-03",
    "LP-1/5": "LW-01 LW-02 RC-01 NP-01 RC-03",
    "LP-1/7": "LW-01 LW-02 RC-01 NP-01 RC-03",
    "LP-1-9": "LW-01 LW-02 LW-03 RC-05",
    "LP-1/11": "LW-01 LW-02 LW-03 RC-05",
    "LP-1/13": f"{TO_LW_04} RC-06 RC-08",
    "LP-1/15": f"{TO_LW_04} RC-06 RC-08",
    "LP-1/17": f"{TO_LW_04} RC-06 RC-08",
    "LP-1/19": "",  # removed: it lies nowhere
    # --- lights
    "LP-1/2": f"{TO_LW_04} RC-06 RC-07",
    "LP-1/4": f"{TO_LW_04} RC-06 RC-07",
    "LP-1 6": "LW-01 LW-02 RC-09",
    "LP-1/8": "LW-01 LW-02 LW-03 RC-10",
    "LP-1/10": "LW-01 LW-02 LW-03 RC-10",
    "38": "LW-01 LW-02 LW-03 RC-12",
    # --- by the schedule's own route
    "F-1": "FD-01",
    # --- fire alarm, data, and the power of the metal shop's large machines
    "FA-1": "FA-01 FA-02 FA-03",
    "FA-2": "FA-01 FA-02 FA-03",
    "DA-1": "DT-01",
    "DA-2": "DT-01 DT-02 DT-03",
    "DA-3": "DT-01 DT-02",
    "DP-2/1,3,5": "PT-01 PT-02 PT-03 PT-04",
    "DP-2/2,4,6": "PT-01 PT-02 PT-03 PT-04",
    "DP-2/7,9,11": "PT-01 PT-02 PT-03",
    "DP-2/8,10,12": "PT-01 PT-02 PT-03 PT-04",
}

#: Circuits whose ends the schedule leaves to the model: what feeds them, and what they feed.
ENDS_FROM_MODEL: dict[str, tuple[str, str]] = {
    "DP-1/7,9,11": ("DP-1", "MO-03"),
    "DP-1/13,15,17": ("DP-1", "MO-05"),
    "DP-1/19,21,23": ("DP-1", "MO-07"),
    "DP-1/31,33,35": ("DP-1", "MO-11"),
    "LP-1/1": ("LP-1", "RO-1"),
    "LP-1-9": ("LP-1", "RO-5"),
    "LP-1 6": ("LP-1", "LF-3"),
    "LP-1/8": ("LP-1", "LF-4A LF-4B"),  # both come in at the end of RC-10, so their order changes nothing
    "38": ("LP-1", "LF-6"),
}

END, SIDE, BODY = "end to end", "end at a side", "end in a body"

#: Two elements and how they meet; at a side it is the first one's end that lies there.
JOINTS: tuple[tuple[str, str, str], ...] = (
    ("MW-01", "MW-02", END),
    ("MW-02", "MW-03", END),
    ("MW-03", "MW-04", END),
    ("MW-05", "MW-03", SIDE),
    ("C-01", "MW-02", SIDE),
    ("C-12", "MW-02", SIDE),
    ("C-02", "MW-03", SIDE),
    ("C-03", "MW-03", SIDE),
    ("C-04", "MW-03", SIDE),
    ("C-05", "MW-05", SIDE),
    ("C-06", "MW-05", SIDE),
    ("C-07", "MW-05", SIDE),
    ("C-08", "MW-04", SIDE),
    ("C-09", "MW-04", SIDE),
    ("C-10", "MW-04", END),
    ("C-11", "MW-05", END),
    ("LW-01", "LB-01", BODY),
    ("LW-02", "LB-01", BODY),
    ("LW-02", "LW-03", END),
    ("LW-03", "LW-04", END),
    ("RC-01", "LW-02", SIDE),
    ("RC-01", "JB-01", BODY),
    ("NP-01", "JB-01", BODY),
    ("NP-01", "JB-03", BODY),
    ("RC-02", "JB-03", BODY),
    ("RC-03", "JB-03", BODY),
    ("RC-05", "LW-03", SIDE),
    ("RC-06", "LW-04", SIDE),
    ("RC-06", "JB-02", BODY),
    ("RC-07", "JB-02", BODY),
    ("RC-08", "JB-02", BODY),
    ("RC-09", "LW-02", SIDE),
    ("RC-10", "LW-03", SIDE),
    ("RC-12", "LW-03", SIDE),
    ("FA-01", "FB-01", BODY),
    ("FA-02", "FB-01", BODY),
    ("FA-02", "JB-04", BODY),
    ("FA-03", "JB-04", BODY),
    ("DT-01", "DT-02", END),
    ("DT-03", "DT-02", SIDE),
    ("PT-01", "PT-02", END),
    ("PT-03", "PT-02", SIDE),
    ("PT-03", "PT-04", END),
)

#: What must be listed: its kind, and the tags, marks or words that tell which it is.
PROBLEMS: tuple[tuple[str, str], ...] = (
    ("gap", "RC-99 LW-04"),  # 4 in apart, and not joined
    ("gap", "RC-09"),  # a trade size without a family has no bore
    ("inference", "circuits.xlsx rows 1, 2 title"),
    ("assumption", "circuits.xlsx merged"),  # the marks of nine circuits
    # seven circuits begin below the headings in row 4, each in two rows; of the seventh, the mill, a third row is gone
    ("assumption", "circuits.xlsx row 19 removed"),
    *(("inference", f"circuit {mark}") for mark in ENDS_FROM_MODEL),
)
