"""Tells how far a run is."""


class Progress:
    """Is told how far a run is. This one keeps silent."""

    def stage(self, text: str) -> None:
        """A new stage begins."""

    def step(self, done: int, total: int) -> None:
        """So much of the stage is done."""
