"""What is worse in one result than in another, told from the two alone."""

from checker.result.tables import FindingRow, Result

GRADES = {"pass": 0, "waived": 1, "unknown": 2, "fail": 3}


def worse(after: Result, than: Result) -> list[FindingRow]:
    """Findings that are worse: by verdict, or farther beyond the limit; new ones that don't pass.

    A new one that is unknown isn't, where one of its rule on the same carriers and more, that was no better, has gone.
    """
    old = {row.id: row for row in than.findings}
    left = {row.id for row in after.findings}
    gone = [row for row in than.findings if row.id not in left]
    found = []
    for row in after.findings:
        before = old.get(row.id)
        if before is not None:
            is_farther = row.verdict == before.verdict == "fail" and (row.use or 0.0) > (before.use or 0.0) * (
                1.0 + 1e-9
            )
            if GRADES[row.verdict] > GRADES[before.verdict] or is_farther:
                found.append(row)
        elif row.verdict != "pass":
            parted = [one for one in gone if one.rule == row.rule and set(row.carriers) < set(one.carriers)]
            if row.verdict != "unknown" or not any(GRADES[one.verdict] >= GRADES["unknown"] for one in parted):
                found.append(row)
    return found
