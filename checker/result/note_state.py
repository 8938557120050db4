"""What a topic's text says for machines: which findings it is of, what stood there of each, and whether people have changed it since.

The last lines of a description that we write are for the next run::

    wayroom: <finding id> <finding id>
    wayroom state: <rule> | <code> | <value> | <value> | <seals, with / between>

One value per finding, in the same order. Seals are of the title, the text, the status, the project's key, and of the fields besides; notes
of earlier versions have the first two alone. Where a person changed one of these, its seal no longer fits: it is theirs now. Everything
is read back by words, not by lines, since other programs wrap and trim texts as they like.
"""

import hashlib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

#: The seal of a text that isn't ours, or of which we can't tell.
NO_SEAL = "0" * 12

#: As what we set a status.
OPEN, REVIEW = "open", "review"

_UUID = r"[0-9a-fA-F]{8}(?:-[0-9a-fA-F]{4}){3}-[0-9a-fA-F]{12}"
_IDS = re.compile(rf"(?:wayroom:(?:\s+{_UUID})+\s*)+")
_SEAL = "([0-9a-f]{12})"
_STATE = re.compile(
    rf"wayroom\s+state:\s([^|]*)\|([^|]*)\|(.*?)\|\s*{_SEAL}/{_SEAL}(?:/{_SEAL}/{_SEAL}(?:/{_SEAL})?)?\b", re.DOTALL
)
#: What XML 1.0 can't hold, not even escaped.
_FORBIDDEN = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


@dataclass(frozen=True, slots=True)
class State:
    """What a topic's text says for machines.

    ``values`` are by finding id: figures for one that fails, else a word. Empty text: nothing was said of it. ``status_seal`` is of the
    status that we set last, and as what (``status_seal``); ``project_seal`` is of the key of the project whose findings they are;
    ``fields_seal`` is of what the topic said besides when it was made.
    """

    values: dict[str, str]
    rule: str = ""
    code: str = ""
    title_seal: str = NO_SEAL
    body_seal: str = NO_SEAL
    status_seal: str = NO_SEAL
    project_seal: str = NO_SEAL
    fields_seal: str = NO_SEAL

    @property
    def seals(self) -> tuple[str, ...]:
        """As they stand in a text."""
        return self.title_seal, self.body_seal, self.status_seal, self.project_seal, self.fields_seal


def plain(value: str) -> str:
    """A value as it will be read back."""
    return " ".join(clean(value).replace("|", " ").split())


@lru_cache(maxsize=8)
def project_seal(key: str) -> str:
    """A seal of a project's key."""
    return seal(key)


@lru_cache(maxsize=32)
def status_seal(role: str, status: str) -> str:
    """A seal of a status that we set, and as what: a project may call it otherwise the next time. Case doesn't count."""
    return seal(f"{role} {status.lower()}") if status.strip() else NO_SEAL


def fields_seal(fields: Mapping[str, Iterable[str]]) -> str:
    """A seal of what a topic says besides its title, text and status, by tag; in which order labels stand doesn't count."""
    return seal("\n".join(f"{tag}: {text}" for tag, texts in sorted(fields.items()) for text in sorted(texts)))


def seal(text: str) -> str:
    """A short hash of a text that tells whether somebody changed it; spaces and line ends don't count."""
    return hashlib.sha256(" ".join(clean(text).split()).encode()).hexdigest()[:12]


def state_lines(state: State) -> str:
    """The lines that end a description."""
    values = "".join(f"{plain(value)} | " for value in state.values.values())
    return (
        f"wayroom: {' '.join(state.values)}\n"
        f"wayroom state: {state.rule} | {state.code} | {values}{'/'.join(state.seals)}"
    )


@dataclass(frozen=True, slots=True)
class Parted:
    """A description: what it says to people, to machines, and what somebody wrote after that."""

    text: str
    state: State | None
    after: str = ""

    def rejoined(self, state: State) -> str:
        """The same with another state; one that had none gets its lines at the end."""
        text = self.text if self.text.endswith("\n") or not self.text else f"{self.text}\n\n"
        return text + state_lines(state) + (f"\n{self.after}" if self.after else "")


@lru_cache(maxsize=8)  # each is asked for several times in a row
def split_text(description: str) -> Parted:
    """Parts a description. What is given must not be changed."""
    text = clean(description)
    every = list(_IDS.finditer(text))  # people quote ids; ours are those that the state is of
    if not every:
        return Parted(text, None)
    ids = next((one for one in every if _STATE.match(text, one.end())), every[0])
    keys = list(dict.fromkeys(key.lower() for key in re.findall(_UUID, ids[0])))
    before, rest = text[: ids.start()], text[ids.end() :]
    found = _STATE.match(rest)
    if found is None:
        return Parted(before, State(dict.fromkeys(keys, "")), rest.strip())
    values = [" ".join(value.split()) for value in found[3].split("|")]
    known = values if len(values) == len(keys) else [""] * len(keys)
    seals = (found[place] or NO_SEAL for place in range(4, 9))
    state = State(dict(zip(keys, known, strict=True)), found[1].strip(), found[2].strip(), *seals)
    return Parted(before, state, rest[found.end() :].strip())


def disarmed(text: str) -> str:
    """A text for people in which no name of a model reads as the words that our lines for machines begin with."""
    return clean(text).replace("wayroom:", "wayroom :")


def clean(text: str) -> str:
    """A text as XML can hold it, with plain line ends."""
    if text.isprintable():  # most are, and that is quick to tell
        return text
    return _FORBIDDEN.sub("", text).replace("\r\n", "\n").replace("\r", "\n")
