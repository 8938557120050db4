"""What a topic says of itself beside what people read first: when it was changed and by whom, and of which issue its documents are.

A person's entries stay: when a topic was modified is set only where nothing stands there of it, or where we set it; a reference to a
document is renewed only where it is ours and still reads as we wrote it.
"""

import re

from lxml import etree

from checker.history.outcome import Run
from checker.history.topic import Topic
from checker.result.archive import xml_time
from checker.result.guids import stable_guid
from checker.result.note_state import clean, disarmed, seal
from checker.result.notes import AUTHOR

_DATE, _AUTHOR = "ModifiedDate", "ModifiedAuthor"
#: Revision and status in our words, where each is one word.
_PLAIN = re.compile(r"revision [^\s,]+(?:, status [^\s,]+)?|status [^\s,]+")


def stamp(topic: Topic, date: str) -> None:
    """Says when a topic of which we have changed status, title, text or documents was modified, and that it was by us.

    Args:
        topic: The topic; nothing is set where nothing of that was changed, or where somebody else's word on it stands there.
        date: Of the run, as XML has it; what is set is never before what stands there, nor before the topic was made.
    """
    if not topic.is_rewritten:
        return
    said_date, said_author = ((topic.element.findtext(tag) or "").strip() for tag in (_DATE, _AUTHOR))
    if said_author.lower() != AUTHOR and (said_date or said_author):
        return
    for tag, text in ((_DATE, max(date, topic.created, xml_time(said_date) or "")), (_AUTHOR, AUTHOR)):
        child = topic.element.find(tag)
        if child is None:
            child = etree.Element(tag)
            topic.dialect.add(topic.tree.getroot(), f"Topic/{tag}", child)
        child.text = text


def renew_documents(topic: Topic, run: Run) -> None:
    """Brings our references to models that were read to the revision and status of this run, before the topic's text is brought there.

    Where the project names neither any more, one has the model's name alone, and learns the next one that is named.

    Whether one still reads as we wrote it is told by that text, which names revision and status as well. Where somebody has changed the
    text, so that it isn't brought up to date any more, one that is in our words is ours.
    """
    issue = run.facts.document
    documents = topic.documents()
    if not documents:
        return
    names = {stable_guid("document", topic.guid.lower(), name): name for name in run.facts.models}
    parted = topic.description
    text = " ".join(parted.text.split())
    is_ours = parted.state is not None and parted.state.body_seal == seal(parted.text)
    for one in documents:
        name = names.get(one.get("Guid", "").strip().lower())
        child = one.find("Description")
        if name is None or child is None:
            continue
        said, lead = " ".join((child.text or "").split()), " ".join(name.split())
        told = "" if said == lead else said.removeprefix(f"{lead}, ")
        if told == said or told == " ".join(clean(issue).split()):
            continue
        as_told = f"Documents: {disarmed(told)}." in text if told else "Documents: " not in text
        if as_told or (not is_ours and (not told or _PLAIN.fullmatch(told))):
            child.text = clean(f"{name}, {issue}" if issue else name)
            topic.changed = topic.is_rewritten = True
