"""How what has become of a topic's findings is said in a comment."""

from collections.abc import Iterator

from checker.history import outcome as words
from checker.history.change import Change
from checker.history.outcome import WORDS, Run
from checker.history.topic import MOVED
from checker.model.texts import listed, natural
from checker.result.archive import time_told
from checker.result.facts import Judgement
from checker.result.note_state import State

_MOST_LINES = 20


def change_text(topic_change: Change, run: Run, ending: str) -> str:
    """The comment on a change, with a sentence at its end."""
    facts = run.facts
    lines = [f"Checked again{' ' if facts.is_time_given else '; '}{as_of(run)}."]
    if topic_change.by_other_code and topic_change.old:
        lines.append(_of_codes(topic_change.old.code, topic_change.new.code, facts.code_title))
    told = [_line(key, pair, topic_change, run) for key, pair in topic_change.differing.items()]
    told.sort(key=lambda line: (natural(line), line))
    lines += told[:_MOST_LINES]
    if len(told) > _MOST_LINES:
        lines.append(f"and {len(told) - _MOST_LINES} more")
    return "\n".join([*lines, ending] if ending else lines)


def as_of(run: Run) -> str:
    """Of when a run is, and which issue of its models the project says that it is of."""
    facts = run.facts
    issue = f", {facts.document}" if facts.document else ""
    return f"{'as of' if facts.is_time_given else 'the model is of'} {time_told(facts.created)}{issue}"


def _of_codes(old: str, new: str, title: str) -> str:
    before, now = _key(old), _key(new)
    if before != now:
        return f"Judged by {now} now, by {before} before."
    return f"Judged by another edition of {now} than before: {title}."


def _key(code: str) -> str:
    return code.partition("/")[0]


def _line(key: str, pair: tuple[str | None, str], topic_change: Change, run: Run) -> str:
    judged = run.facts.findings.get(key)
    state = topic_change.old or topic_change.new
    if topic_change.is_question:
        label = run.facts.questions.get(key) or topic_change.labels.get(key) or "A question"
        return f"{label}: {_of_question(key, pair[1], topic_change, run)}"
    label = (
        judged.label if judged else topic_change.labels.get(key) or run.label(state.rule, key) or f"Finding {key[:8]}"
    )
    old, new = pair
    if new not in WORDS:
        if old and old not in WORDS:
            return f"{label}: {old} → {new}"
        figures = "" if new == words.FAILS else f", {new}"
        if not old:
            is_new = old is None and topic_change.old is not None  # not so where nobody knows what the topic had
            return f"{label}{', new here' if is_new else ''}: fails{figures}"
        ran_out = f"; {judged.ran_out}" if old == words.WAIVED and judged and judged.ran_out else ""
        return f"{label}: fails now{figures} (before: {_BEFORE.get(old, old)}{ran_out})"
    before = f", before {old}" if old and old not in WORDS and old != words.FAILS else ""
    return f"{label}: {_said(key, new, judged, topic_change, run)}{before if new in _PASSES else ''}"


_BEFORE = {words.OTHER_CODE: "judged by another code", words.PASSES_IN_PART: "pass, but not everything was read"}
_PASSES = frozenset({words.PASSES, words.PASSES_IN_PART, words.WAIVED})


def _said(key: str, word: str, judged: Judgement | None, topic_change: Change, run: Run) -> str:
    shown = f" ({judged.shown})" if judged and judged.shown else ""
    reason = f": {judged.reason}" if judged and judged.reason else ""
    state = topic_change.old or topic_change.new
    if word == words.PASSES_IN_PART:
        return f"passes now{shown}, but not everything was read"
    if word == words.GONE and state.rule in run.of_circuits:
        return "no circuit of that mark is in what was read: taken out, or marked otherwise"
    if word == words.MADE_ANEW:
        return "gone from the model, but " + "; ".join(_made_anew(key, topic_change, run))
    if word == words.OTHER_CODE:
        return "not re-checked " + _by_other(state.code, run, f"says {judged.verdict if judged else ''}")
    if word == words.NOT_JUDGED:
        said = [
            f"{one.rule} says {one.verdict}{f' ({one.shown})' if one.shown else ''}"
            for one in run.others(state.rule, key)
        ]
        now = f"; of the same {listed(said)}" if said else ""
        rule = _rule_of(key, state, run)
        return f"not re-checked, since {rule} judged nothing in this run{now}"
    if word == words.NOT_ASKED:
        rule = _rule_of(key, state, run)
        return (
            f"not re-checked: still in the model, but {rule} has no question about it now, as of what nothing runs in"
        )
    return {
        words.PASSES: f"passes now{shown}",
        words.UNKNOWN: f"unknown now{reason}",
        words.WAIVED: f"waived now{reason}",
        MOVED: f"now part of the topic “{run.titles.get(key, '')}”",
        words.NOT_READ: "not re-checked, since its model was not read",
        words.NO_SCHEDULE: "not re-checked, since no schedule was read",
    }.get(word, "gone from the model: deleted, made anew with another GlobalId, or joined or divided otherwise")


def _rule_of(key: str, state: State, run: Run) -> str:
    """The rule of a finding: a topic may have some of other rules than its own."""
    found = run.subject(state.rule, key)
    return found[0] if found else state.rule


def _of_question(key: str, word: str, topic_change: Change, run: Run) -> str:
    said = {
        words.ASKED: "asked now",
        words.ANSWERED: "no longer asked",
        words.ANSWERED_IN_PART: "not asked now, but not everything was read",
    }
    if word == words.OTHER_CODE:
        return "asked " + _by_other((topic_change.old or topic_change.new).code, run, "doesn't ask it")
    return said.get(word) or _said(key, word, None, topic_change, run)


def _by_other(code: str, run: Run, does: str) -> str:
    before, now = _key(code), _key(run.facts.code)
    if before != now:
        return f"by {before}; {now} {does}"
    return f"by that edition of {before}; this one {does}"


def _made_anew(key: str, topic_change: Change, run: Run) -> Iterator[str]:
    row = topic_change.made_anew.get(key)
    yield f"{row.place.label if row else 'it'} was made anew there with another GlobalId"
    if row is not None:
        rule = (topic_change.old or topic_change.new).rule
        failing = [own for own in run.on_carrier.get((rule, row.key), ()) if own in run.titles]
        if any(topic_change.new.values.get(own, MOVED) != MOVED for own in failing):
            yield "that one is in this topic too"
        else:
            titles = dict.fromkeys(run.titles[own] for own in failing)
            yield f"see the topic {listed([f'“{title}”' for title in titles])}" if titles else "nothing of it fails"
