"""Notes that stand where new ones go. People may work on them at any time: what they wrote is kept, or nothing is written."""

from dataclasses import dataclass
from pathlib import Path

from checker.errors import OutputError
from checker.report.publish import digest, digest_at
from checker.result.archive import File


@dataclass(frozen=True, slots=True)
class Standing:
    """A file as it was when a run began; ``sha256`` is empty where there was none."""

    path: Path
    sha256: str

    @classmethod
    def of(cls, path: Path) -> "Standing":
        """The file as it is.

        Raises:
            OutputError: There is one that can't be read, so what people wrote in it couldn't be kept.
        """
        found = cls(path, digest_at(path))
        if not found.sha256 and path.exists():
            what = "notes stand there that can't be read, and would be written over"
            raise OutputError(str(path), what, "look at its permissions, move it, or name another folder with --out")
        return found

    def differs(self, content: File) -> bool:
        """Whether there is a file, with another content."""
        return self.sha256 not in {"", digest(content)}

    def not_spared(self, name: str) -> OutputError:
        """What to raise where a run that goes on with other notes, of that name, would lose what people wrote in these."""
        return OutputError(
            str(self.path),
            f"people have worked on these notes, and {name}, which this run goes on with, hasn't all of that",
            "leave out --previous to go on with these, move them, or name another folder with --out",
        )

    def check_unchanged(self) -> None:
        """Sees that nobody has worked on it since.

        Raises:
            OutputError: Somebody has.
        """
        if digest_at(self.path) != self.sha256:
            raise OutputError(
                str(self.path), "these notes were changed while the check ran; nothing was written", "check once more"
            )
