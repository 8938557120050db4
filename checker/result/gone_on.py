"""What has become of earlier notes in a run that went on with them, counted."""

from dataclasses import dataclass

from checker.model.texts import listed


@dataclass(frozen=True, slots=True)
class GoneOn:
    """What has become of the topics of an earlier file.

    The new file has ``topics + new`` topics; those that this run raises are ``still + new``.

    Attributes:
        file: What messages call the earlier file.
        topics: All topics in it that could be read.
        ours: Those of them that we made for this project, each Guid once.
        still: Those of ours of which something fails or is asked in this run as well.
        commented: Those of ours that got a comment of this run.
        to_review: Those of ours whose status was set to the one that asks for a review.
        set_back: Those of ours whose status was set back from that.
        reopened: Those of ours that people closed and that were opened, as the run was asked to.
        closed_failing: Those of ours that people closed, that still fail, and that stay closed.
        new: Topics that this run added.
    """

    file: str
    topics: int = 0
    ours: int = 0
    still: int = 0
    commented: int = 0
    to_review: int = 0
    set_back: int = 0
    reopened: int = 0
    closed_failing: int = 0
    new: int = 0

    @property
    def told(self) -> str:
        """The same in a line."""
        changes = [
            text
            for amount, text in (
                (self.commented, f"{self.commented} got a comment"),
                (self.to_review, f"{self.to_review} set to review"),
                (self.set_back, f"{self.set_back} set back from review"),
                (self.reopened, f"{self.reopened} reopened"),
                (self.new, f"{self.new} new"),
            )
            if amount
        ]
        closed = f"; {self.closed_failing} that people closed still {'fails' if self.closed_failing == 1 else 'fail'}"
        return (
            f"Went on with {self.file}: {self.ours} of its {self.topics} topics {'is' if self.ours == 1 else 'are'} ours, "
            f"{self.still or 'none'} of them raised again; {listed(changes, len(changes)) if changes else 'nothing new to say'}"
            f"{closed if self.closed_failing else ''}."
        )
