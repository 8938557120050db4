"""The code's answer on one compartment: its rule of fill, and the spare that is wanted beside it."""

from collections.abc import Collection
from dataclasses import dataclass, replace

from checker.errors import InputError, ProjectFileError
from checker.fit.question import share_of
from checker.model import CarrierKind, LoadedCompartment
from checker.rule import Outcome, Tells, Verdict, judge, judge_subject, worst
from checker.rule.code import Code
from checker.rule.filled import filled_by
from checker.rule.plugins import Plugins
from checker.rule.tighten import tightened

SPARE, SPARE_SHARE = "fill.spare", "spare_share"
#: Ten times what lies there.
MOST_SPARE = 10.0
SPACE_FACTOR = "space_factor"


@dataclass(frozen=True, slots=True)
class Judged:
    """What the code says: ``rule`` is the one of fill that said it, ``spare`` what was said of the spare, None where none is wanted.

    ``against``: what the rule answers with all that isn't certain against it, with its arithmetic; None: there is nothing uncertain. The
    arithmetic of ``fill`` is in its favour.
    """

    rule: str
    fill: Verdict
    spare: Verdict | None = None
    against: Verdict | None = None

    def unless(self, proof: str) -> "Judged":
        """The same; a fail where it passes and a proof speaks against that."""
        if not proof or self.fill.outcome is not Outcome.PASS:
            return self
        reason = f"by the figures of the code it passes ({self.fill.reason}), but it can't go in: {proof}"
        return replace(self, fill=replace(self.fill, outcome=Outcome.FAIL, reason=reason))

    @property
    def outcome(self) -> Outcome:
        """The worse of both."""
        return worst([self.fill.outcome, *([] if self.spare is None else [self.spare.outcome])])

    @property
    def decisive(self) -> Verdict:
        """The one of both that decides: the fill, unless that passes and the spare is wanted."""
        return self.spare if self.spare is not None and self.fill.outcome is Outcome.PASS else self.fill


@dataclass(frozen=True, slots=True)
class ByCode:
    """A code to be asked, with the limits of one's own in it. ``spare``: whether a spare is wanted."""

    code: Code
    plugins: Plugins
    spare: bool = False

    def judged(self, subject: LoadedCompartment) -> Judged:
        """The worst answer of the code's fill rules for that kind of carrier, and what is said of the spare."""
        kind = subject.carrier.kind
        answers = [(key, judge(self.plugins.rules[key], subject, self.code.limits[key])) for key in self.rules(kind)]
        if not answers:
            return Judged("", Verdict(Outcome.UNKNOWN, f"{self.code.key} has no fill rule for {kind}"))
        bad = worst([verdict.outcome for _, verdict in answers])
        key, fill = next((key, verdict) for key, verdict in answers if verdict.outcome is bad)
        spare = self._spare(key, subject) if self.spare else None
        return Judged(key, fill, spare, self._against(key, subject, fill) if subject.with_working else None)

    def rules(self, kind: CarrierKind) -> list[str]:
        """The rules of the code that say how full such a carrier is."""
        rules = self.plugins.rules
        return [key for key in self.code.limits if rules[key].tells is Tells.FILL and rules[key].speaks_of(kind)]

    def _against(self, key: str, subject: LoadedCompartment, fill: Verdict) -> Verdict | None:
        if subject.is_certain:
            return None
        against = self.plugins.rules[key].function(subject.most_loaded(), self.code.limits[key])
        return None if against.working == fill.working else against

    def _spare(self, key: str, subject: LoadedCompartment) -> Verdict:
        filled = filled_by(self.plugins.rules[key], subject, self.code.limits[key])
        return judge_subject(self.plugins.rules[SPARE], filled, self.code.limits[SPARE])


def in_own_words(verdict: Verdict) -> Verdict:
    """The rules speak to who checks a model; here a limit of one's own is given by an option."""
    start, found, _ = verdict.reason.partition(": give the project's own in wayroom.toml")
    return replace(verdict, reason=f"{start}: say one of your own with --space-factor") if found else verdict


def by_code(
    code: Code,
    plugins: Plugins,
    kinds: Collection[CarrierKind],
    space_factor: float | str | None = None,
    spare: str = "",
) -> ByCode:
    """A code with the limits of one's own: stricter than the code's, or where it has none.

    Args:
        code: As it is shipped.
        plugins: All that is installed.
        kinds: The kinds of carriers that are asked about.
        space_factor: The part of the inside that may be taken.
        spare: What is to be free for later, as a share of what lies there.

    Raises:
        InputError: A limit of one's own is none, or is looser than the code's.
    """
    if space_factor is not None:
        code = _with_space_factor(code, plugins, kinds, space_factor)
    if not spare.strip():
        return ByCode(code, plugins)
    if SPARE not in code.limits:
        raise InputError("--spare", f"{code.key} has no rule about spare", "leave it out")
    share = share_of("--spare", spare, "what is to be free for later, of what lies there", MOST_SPARE)
    if share == 0.0:
        raise InputError("--spare", "none is wanted", "leave it out")
    wanted: dict[str, float | str] = {SPARE_SHARE: share, "reason": "asked for by --spare"}
    return ByCode(tightened(code, {SPARE: wanted}, "--spare"), plugins, spare=True)


def _with_space_factor(code: Code, plugins: Plugins, kinds: Collection[CarrierKind], factor: float | str) -> Code:
    share = share_of("--space-factor", factor, "the part of the inside that cables may take")
    if share == 0.0:
        raise InputError("--space-factor", "0 isn't a number above 0", "write it as 40% or 0.40")
    own: dict[str, float | str] = {SPACE_FACTOR: share, "reason": "asked for by --space-factor"}
    asked = ByCode(code, plugins)
    wanted = {
        key: own
        for kind in sorted(kinds)
        for key in asked.rules(kind)
        if SPACE_FACTOR in type(code.limits[key]).model_fields
    }
    if not wanted:
        kinds_told = " or ".join(sorted(kinds))
        what = f"{code.key} has no fill rule for {kinds_told} that goes by one"
        raise InputError("--space-factor", what, "leave it out")
    try:
        return tightened(code, wanted, "--space-factor")
    except ProjectFileError as error:
        hint = "a limit of one's own can only be stricter: write a smaller one, or leave it out"
        raise InputError("--space-factor", error.what, hint) from error
