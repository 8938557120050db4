"""What is said of waivers themselves, so that none that has run out or names nothing any more goes unseen.

A waiver that doesn't do what somebody meant it to do is a finding of its own, of the family ``waiver``:

* ``waiver.expired``, fail: it ran out, and something that it names fails again. That fails beside it, as if nobody had waived it, and says
  in its reason whose waiver ran out. Somebody decides anew, or it is mended.
* ``waiver.expired``, unknown: it ran out, and nothing that it names fails; or whether it ran out isn't known, since no model tells of when
  it is. What it names, if it fails, isn't waived then.
* ``waiver.exceeded``, fail: it still holds, but something that it names goes further than its ``up_to``, or isn't known not to, and fails.
* ``waiver.unmatched``, unknown: it still holds, but names nothing that was found, or only what passes, isn't known, or is waived by a
  looser limit. Whether it is still meant nobody but who gave it can say: left in the file it would hide what fails there later.

It is a fail only where something fails because of it; in the other cases nothing of the building fails, but the run isn't clean (exit
status 3) until the line is taken out or put right. Such findings are in the counts, on the page, in the terminal and in ``result.json``,
and fails in ``failing.csv``; no issue note is made of them, since what fails has its own.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from checker.model.texts import listed, natural
from checker.result.gravity import gravity
from checker.result.guids import stable_guid
from checker.result.tables import FindingRow
from checker.result.waiver_tables import FAMILY, NO_LONGER, WaiverRow
from checker.rule import Basis, Outcome
from checker.rule.waiver import Waiver

EXPIRED, EXCEEDED, UNMATCHED = f"{FAMILY}.expired", f"{FAMILY}.exceeded", f"{FAMILY}.unmatched"
SOURCE = "wayroom.toml, [[waivers]]"
#: What is found of one that is exceeded.
TOO_FAR = "doesn't reach so far"
#: What the manual says of them: title, and the rest as a rule's docstring has it.
PAGES = {
    EXPIRED: (
        "Does every waiver still hold on the day of the run?",
        """A waiver is somebody's decision for a time. After its last day what it waived counts again, and the waiver is told beside it, so
that somebody decides anew.

It fails if the waiver ran out and something that it names fails, and no other waiver waives that. It is unknown if it ran out and nothing
that it names fails, or if no model says of when it is.

    day  >  until

    day    of the run by UTC: of the newest model, or of --now
    until  the last day on which the waiver counts

Clause: none; the waiver is the project's own.

Worked example. R. Okafor waives the fill of FT-01 until 2027-06-30. In a model of 2027-07-01 it is 48.7 % full where the limit is 45 %:
the fill fails, and so does the waiver. With cables taken out, so that it is 40 % full, the fill passes, and the waiver is unknown until it
is taken out of the file.

Not asked here: whether a waiver names anything, see waiver.unmatched; whether a looser limit ran out, see [[loosened]]: that stands among
the problems.
""",
    ),
    EXCEEDED: (
        "Does every waiver reach as far as what it names goes?",
        """Who waives 47 % where 45 % is the limit hasn't seen the 60 % that it may be next month. With up_to the waiver says how far it
reaches, and what goes further fails as if nobody had waived it. Without up_to it holds whatever the figure is, and its text says so.

It fails if something that the waiver names fails and goes further than up_to, and no other waiver waives that; also where that isn't known,
since a size or a number isn't, or where what is found is no figure. What doesn't go further stays waived. It fails as well where it isn't
known whether what fails was meant: a waiver of an issue reaches what the earlier notes hold in it, and of an issue that they don't hold
only the finding that its GUID is made of; a name that carriers of several storeys have reaches none of them unless storeys says which.

    value  >  up_to         where the limit is the most that is allowed
    value  <  up_to         where it is the least that is wanted
    needed / carried  >  up_to    of a current that a circuit needs

    value   the finding's figure as in failing.csv, in its unit: a ratio is 0.5, not 50; read against it, where it isn't certain
    needed  current that the circuit needs, A
    carried current that it carries where it governs, A, which changes with what lies beside it
    up_to   the figure that the waiver gives

Clause: none; the waiver is the project's own.

Worked example. R. Okafor waives the fill of FT-01, 47.7 % where the limit is 45 %, with up_to = 0.5. With two cables more it is 54.5 %
full: the fill fails, and so does the waiver. Of a circuit that needs 25 A and carries 24 A, 25 / 24 = 1.042, a waiver with up_to = 1.05
holds; with another circuit beside it, it carries 19.2 A, 25 / 19.2 = 1.302, and the waiver fails.

Not asked here: whether the waiver ran out, see waiver.expired; where in a window a figure lies, as fill.jam has one: leave up_to out there.
""",
    ),
    UNMATCHED: (
        "Does every waiver that holds waive something?",
        """What was renamed, made anew or mended leaves its waiver behind, and that would hide what fails there later.

It is unknown if the waiver names nothing that was found, or only what passes, isn't known, or is waived by a looser limit: whether it is
still meant only who gave it can say. It never fails. Only a fail can be waived; what isn't known stays unknown.

Clause: none; the waiver is the project's own.

Worked example. A waiver of fill.compartment at FT-01 holds until 2027-06-30, and FT-01 is called FT-101 in the new model: the fill of
FT-101 fails, and the waiver is unknown, since no carrier is called FT-01.

Not asked here: whether a waiver ran out, see waiver.expired; whether a looser limit is needed, see [[loosened]]: that stands among the
problems.
""",
    ),
}


@dataclass(frozen=True, slots=True)
class Stands:
    """How a waiver stands in a run.

    Attributes:
        waiver: The waiver.
        named: The findings that it names, as the rules gave them.
        day: Of the run; None: not known.
        no_day: Why it isn't.
        none_named: Why it names nothing, where it doesn't.
        beyond: Of those findings that fail and that it doesn't reach, why, by id.
    """

    waiver: Waiver
    named: tuple[FindingRow, ...]
    day: date | None
    no_day: str
    none_named: str
    beyond: Mapping[str, str] = field(default_factory=dict)

    @property
    def holds(self) -> bool:
        """Whether it counts on the day of the run."""
        return self.day is not None and self.day <= self.waiver.until

    def waives(self, row: FindingRow) -> bool:
        """Whether it waives a finding that it names, as the rules gave it."""
        return self.holds and row.verdict == Outcome.FAIL and row.id not in self.beyond

    def why_not(self, row: FindingRow) -> str:
        """Of a finding that it doesn't waive, why, after the reason."""
        waiver = self.waiver
        if self.day is None:
            return f"not waived by {waiver.who}, since whether that ran out isn't known: {self.no_day}"
        if not self.holds:
            return f"{NO_LONGER}that of {waiver.who} ran out on {waiver.until}"
        return f"not waived: the waiver of {waiver.who} {self.beyond[row.id]}"


def about_waiver(
    stands: Stands, now: Mapping[str, FindingRow], project_key: str, code: str
) -> tuple[WaiverRow, FindingRow | None]:
    """A waiver's row, and the finding about it where there is something to say.

    Args:
        stands: How it stands.
        now: The findings that waivers name, with what is waived, by id.
        project_key: For its identity over revisions.
        code: Key of the code of the run.
    """
    waiver = stands.waiver
    waived = tuple(row.id for row in stands.named if stands.waives(row))
    failing = [now[row.id] for row in stands.named if now[row.id].verdict == Outcome.FAIL]
    state, reason = _state(stands, failing)
    fails = tuple(one.id for one in sorted(failing, key=gravity))
    until = waiver.until.isoformat()
    row = WaiverRow(waiver.names, waiver.who, waiver.why, until, state, reason, waived, up_to=waiver.up_to, fails=fails)
    if not reason:
        return row, None
    rule = EXPIRED if not stands.holds else EXCEEDED if failing else UNMATCHED
    is_fail = stands.day is not None and bool(failing)
    carriers = sorted({key for one in failing for key in one.carriers}) if is_fail else []
    circuits = sorted({mark for one in failing for mark in one.circuits}, key=natural) if is_fail else []
    place = [",".join(waiver.carriers), str(waiver.compartment or ""), ",".join(waiver.circuits)]
    # what is left out stands for nothing, so that ids are those of before these could be given
    place += [f"on {','.join(waiver.storeys)}"] if waiver.storeys else []
    place += [] if waiver.up_to is None else [f"up to {waiver.up_to!r}"]
    whose = [waiver.issue, waiver.rule, *place, waiver.who, waiver.why, until]
    finding = FindingRow(
        id=stable_guid("finding", project_key, rule, "waiver", whose),
        rule=rule,
        code=code,
        carriers=tuple(carriers),
        compartment=None,
        verdict=(Outcome.FAIL if is_fail else Outcome.UNKNOWN).value,
        value=None,
        limit=None,
        unit="",
        measure="",
        basis=Basis.PROJECT.value,
        source=SOURCE,
        reason=reason,
        circuits=tuple(circuits),
        at=f"waiver by {waiver.who} of {waiver.names}",
        found="" if not is_fail else f"ran out on {waiver.until}" if rule == EXPIRED else TOO_FAR,
    )
    return replace(row, finding=finding.id), finding


def _state(stands: Stands, failing: list[FindingRow]) -> tuple[str, str]:
    """How it stands in a word, and in a sentence where there is something to say."""
    waiver, named = stands.waiver, stands.named
    if stands.day is None:
        reason = f"whether it ran out isn't known, since {stands.no_day}, so nothing is waived by it: give the time with --now"
        return "no time", reason
    if not stands.holds:
        ran_out = f"it ran out on {waiver.until}, and the run is of {stands.day}"
        if failing:
            fails = f"{len(failing)} that it names {'fails' if len(failing) == 1 else 'fail'} again"
            return "ran out", f"{ran_out}; {fails}: have {waiver.who} decide anew, or mend what fails and take it out"
        return "ran out", f"{ran_out}; {_only(stands)}: take it out"
    if failing:
        first = min(failing, key=gravity)
        rest = len(failing) - 1
        more = f", and so {'does' if rest == 1 else 'do'} {rest} more that it names" if rest else ""
        reason = f"it {stands.beyond[first.id]}; that fails{more}: have {waiver.who} decide anew, or mend what fails"
        return "exceeded", reason
    if any(map(stands.waives, named)):
        return "holds", ""
    hint = "take it out, so that it doesn't hide what fails later, or put right what it names"
    return "waives nothing", f"nothing is waived by it: {_only(stands)}; {hint}"


def _only(stands: Stands) -> str:
    """What has become of what it names, where nothing of that fails now."""
    if not stands.named:
        return stands.none_named
    counts = {verdict: sum(row.verdict == verdict for row in stands.named) for verdict in Outcome}
    told = [
        f"{counts[verdict]} {'is' if counts[verdict] == 1 else 'are'} {words}"
        for verdict, words in (
            (Outcome.FAIL, "waived by another waiver"),
            (Outcome.UNKNOWN, "unknown, and only a fail can be waived"),
            (Outcome.WAIVED, "waived by a looser limit"),
        )
        if counts[verdict]
    ]
    if counts[Outcome.PASS]:
        told.insert(0, f"{counts[Outcome.PASS]} {'passes' if counts[Outcome.PASS] == 1 else 'pass'}")
    return f"of what it names {listed(told, len(told), ' and ')}"
