"""An answer as text: yes or no first, then how many, by which way, where it is fullest, what stops the next."""

from collections.abc import Sequence

from checker.fit_text import CAUTION
from checker.model import Cable
from checker.model.texts import listed, number
from checker.result.notes import shown
from checker.result.tables import FindingRow
from checker.room.answering import Answer
from checker.room.counting import Counting, Tried
from checker.room.question import MOST_CIRCUITS
from checker.room.told import (
    alike,
    already,
    assumed,
    counted,
    drops_m,
    failed_before,
    figures,
    gives,
    label,
    length_m,
    room_left,
    tightest,
    wants_route,
    way_steps,
    way_words,
    where_of,
)
from checker.room.tries import one_more
from checker.rule import Outcome, Tells

#: So many findings that fail or are unknown, and so many other ways, are told one by one.
MOST_TOLD, MOST_WAYS_TOLD = 6, 5
#: Longer ones are cut; the object has them whole.
LONGEST_REASON, LONGEST_CLAUSE = 300, 140
#: So many carriers of a way are named, and so many in which another differs.
MOST_STEPS, MOST_DIFFERENT = 18, 6


def as_text(answer: Answer) -> str:
    """The answer, a line for each thing."""
    question = answer.question
    lines = [
        f"From {question.origin} to {question.call}, under {answer.code.key}",
        f"  each circuit: {_cables(answer)}",
    ]
    if answer.none is not None or answer.best is None:
        lines += [f"  assumed: {problem.what}" for problem in answer.bundle.problems if problem.what]
        why = answer.none.why if answer.none is not None else ""
        hint = answer.none.hint if answer.none is not None else ""
        return "\n".join([*lines, f"{answer.outcome.value.upper()}: {why}", *([f"  {hint}"] if hint else []), CAUTION])
    tried = answer.best.of(answer.times)
    lines += [f"  assumed: {what}" for what in assumed(answer, tried)]
    lines += [_verdict(answer, tried), *_how_many(answer, answer.best)]
    lines += _way(answer, answer.best)
    lines += _tightest(answer, tried, answer.best)
    lines += _fails(answer, tried, f"With {_circuits(answer.times)} it fails:")
    if answer.next is not None and answer.next.number != answer.times:
        lines += _fails(answer, answer.next, f"What stops circuit {answer.next.number}:")
        if not answer.next.fails:
            lines += _unknown(answer, answer.next, f"What isn't known of circuit {answer.next.number}:")
    lines += _already(answer, answer.best)
    lines += _unknown(answer, tried, "Not known:", answer.doubts)
    lines += _others(answer)
    rules = counted(tried.effects.after.values())
    told = ", ".join(f"{rule} {count}" for rule, count in rules.items())
    lines.append(f"Judged, with what it touches of other circuits: {told}.")
    return "\n".join([*lines, *answer.cautions, CAUTION])


def _circuits(count: int) -> str:
    return f"{count} such circuit{'' if count == 1 else 's'}"


def _cables(answer: Answer) -> str:
    circuit = answer.bundle.circuit
    told = [f"{'?' if cable.count is None else cable.count} × {_cable(cable)}" for cable in circuit.cables]
    service = circuit.service.value if circuit.service else "for a service that isn't said"
    return ", ".join([" and ".join(told), service])


def _cable(cable: Cable) -> str:
    if cable.key:
        return cable.key
    if cable.diameter_mm is not None:
        low = f"{cable.diameter_least_mm:g} to " if cable.diameter_least_mm is not None else ""
        return f"{low}{cable.diameter_mm:g} mm"
    return f"{cable.width_mm:g} × {cable.height_mm:g} mm" if cable.width_mm and cable.height_mm else "unknown size"


def _verdict(answer: Answer, tried: Tried) -> str:
    count = _circuits(answer.times)
    goes = "go" if answer.times > 1 else "goes"
    if answer.outcome is Outcome.PASS:
        return f"PASS: {count} {goes} in by every rule that was asked."
    if answer.outcome is Outcome.FAIL:
        rules = listed(list(dict.fromkeys(row.rule for row in tried.fails)))
        return f"FAIL: {count} {'do' if answer.times > 1 else 'does'}n't go in, by {rules}."
    return f"UNKNOWN: whether {count} {goes} in can't be said; nothing that could be judged speaks against it."


def _how_many(answer: Answer, best: Counting) -> list[str]:
    lines = []
    beyond = " or more" if best.fits >= MOST_CIRCUITS else ""
    if answer.fits is None:
        is_said = answer.bundle.circuit.compartment is not None
        lines.append(f"  In which compartment it would lie isn't known{'' if is_said else ': say --compartment'}.")
    elif answer.most is None:
        lines.append(f"  As far as can be judged, {best.fits}{beyond} go in.")
    elif answer.most == best.fits:
        if answer.most or answer.times > 1:
            goes = "goes" if answer.most == 1 else "go"
            lines.append(f"  {answer.most}{beyond} {goes} in." if answer.most else "  Not even one goes in.")
    else:
        lines.append(f"  {answer.most} go in; as far as can be judged, {best.fits}{beyond}.")
    if best.except_for:
        lines.append(f"  But not exactly {', '.join(str(number) for number in best.except_for)}.")
    return lines


def _way(answer: Answer, counting: Counting) -> list[str]:
    picked = (
        "" if counting.way.compartment is None else f", in compartment {counting.way.compartment} where none is said"
    )
    lines = [f"  way, {_length(counting)}{picked}: {_few(way_words(answer, counting))}"]
    if wants_route(answer, counting):
        lines.append(
            "    A check finds another by itself: write this one into the schedule as route; --json has it whole."
        )
    return lines


def _few(way: str) -> str:
    """A way, the middle of a long one left out."""
    steps = way.split("; ")
    if len(steps) <= MOST_STEPS:
        return way
    first, last = MOST_STEPS * 2 // 3, MOST_STEPS // 3
    return "; ".join([*steps[:first], f"… {len(steps) - first - last} more …", *steps[-last:]])


def _unlike(answer: Answer, counting: Counting, best: Counting) -> str:
    """By what a way differs from the best."""
    keys, usual = ([key for key, _ in way_steps(one)] for one in (counting, best))
    mine = [label(answer, key) for key in dict.fromkeys(keys) if key not in usual]
    theirs = [label(answer, key) for key in dict.fromkeys(usual) if key not in keys]
    parts = [f"by {listed(mine, MOST_DIFFERENT)}"] if mine else []
    parts += [f"{'instead of' if mine else 'without'} {listed(theirs, MOST_DIFFERENT)}"] if theirs else []
    if counting.way.compartment is not None:
        parts.append(f"in compartment {counting.way.compartment}")
    return " ".join(parts) or "the same way, its compartment not said"


def _length(counting: Counting) -> str:
    length, drops = length_m(counting), drops_m(counting)
    told = "of unknown length" if length is None else f"{length:.2f} m"
    known = [f"{drop:.2f} m" for drop in drops if drop]
    return f"{told} and drops of {' and '.join(known)}" if known else told


def _tightest(answer: Answer, tried: Tried, best: Counting) -> list[str]:
    found = tightest(tried)
    if found is None:
        return []
    row, left = found.row, room_left(found.row)
    was = (
        "" if found.before is None or found.before.value is None else f", {number(found.before.value, row.unit)} before"
    )
    rest = f"; {left} left" if left else ""
    lines = [f"  fullest: {where_of(answer, row)}, {row.rule}: {shown(row)}{was}{rest}"]
    return [*lines, *_arithmetic(tried, best, row)]


def _arithmetic(tried: Tried, best: Counting, row: FindingRow) -> list[str]:
    """The areas of the fullest compartment, where its figure is one of areas."""
    if row.measure != "area" or best.plugins.rules[row.rule].tells is not Tells.FILL or len(row.carriers) != 1:
        return []
    for item in tried.effects.situation.loading.compartments:
        if (item.carrier.key, item.number) == (row.carriers[0], row.compartment) and item.is_certain and item.area_mm2:
            mine = [cable for cable in item.cables if cable.circuit.startswith(best.bundle.stem)]
            added = sum(cable.occupied_mm2 or 0.0 for cable in mine)
            all_of_it = item.occupied_mm2 or 0.0
            there = all_of_it - added
            sums = f"{there:.1f} mm² lie there + {added:.1f} mm² added = {all_of_it:.1f} mm²"
            return [f"    {sums}, of {item.area_mm2:.1f} mm²: {100 * all_of_it / item.area_mm2:.1f} %"]
    return []


def _fails(answer: Answer, tried: Tried, head: str) -> list[str]:
    if not tried.fails:
        return []
    told = alike(answer, tried.fails)
    lines = [head]
    for one in told[:MOST_TOLD]:
        before = " (fails already without it)" if failed_before(tried, one.row) else ""
        clause = f" [{_cut(one.row.source, LONGEST_CLAUSE)}]" if one.row.source else ""
        lines.append(f"  {one.where}, {one.row.rule}: {figures(one.row)}{before}{clause}")
    return [*lines, *([f"  and {len(told) - MOST_TOLD} more"] if len(told) > MOST_TOLD else [])]


def _already(answer: Answer, best: Counting) -> list[str]:
    told = alike(answer, already(best))
    if not told:
        return []
    lines = [f"  {one.where}, {one.row.rule}: {figures(one.row)}" for one in told[:MOST_TOLD]]
    more = [f"  and {len(told) - MOST_TOLD} more"] if len(told) > MOST_TOLD else []
    return ["On its way these fail already, without anything added:", *lines, *more]


def _unknown(answer: Answer, tried: Tried, head: str, doubts: Sequence[str] = ()) -> list[str]:
    lines = [f"  {doubt}" for doubt in doubts]
    told = alike(answer, tried.unknowns)
    for one in told[:MOST_TOLD]:
        wanted = gives(answer, one.row)
        give = f"; give {', '.join(wanted)}" if wanted else ""
        lines.append(f"  {one.where}, {one.row.rule}: {_cut(one.row.reason, LONGEST_REASON)}{give}")
    if len(told) > MOST_TOLD:
        lines.append(f"  and {len(told) - MOST_TOLD} more")
    return [head, *lines] if lines else []


def _cut(text: str, most: int) -> str:
    return text if len(text) <= most else f"{text[: most - 1]}…"


def _others(answer: Answer) -> list[str]:
    if not answer.others or answer.best is None:
        return []
    lines = ["Other ways; --json has each as the schedule's route:"]
    for counting in answer.others[:MOST_WAYS_TOLD]:
        most = None if answer.doubts and counting.most else counting.most
        count = f"{counting.fits} as far as can be judged" if most is None else str(most)
        more = one_more(counting)
        rows = () if more is None else more.fails or more.unknowns
        stop = f", then {rows[0].rule} at {where_of(answer, rows[0])}" if rows else ""
        count = count if counting.fits < MOST_CIRCUITS or most not in {None, counting.fits} else f"{count} or more"
        lines.append(f"  {_unlike(answer, counting, answer.best)}, {_length(counting)}: {count}{stop}")
    return [*lines, *(["  Further ways weren't tried."] if answer.not_all else [])]
