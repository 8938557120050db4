"""What can go wrong so far that nothing can be checked at all. Each says where, what, and what to do.

Defects of the data are not errors: they are problems, and the rest goes on (see ``checker.model.Problem``).
"""


class WayroomError(Exception):
    """Nothing can be checked. The command ends with exit status 2.

    Args:
        where: The file, line, option or plug-in.
        what: What is wrong with it, in one sentence.
        hint: What the user can do.
    """

    def __init__(self, where: str, what: str, hint: str) -> None:
        super().__init__(f"{where}: {what}")
        self.where = where
        self.what = what
        self.hint = hint


class InputError(WayroomError):
    """A file that was asked for can't be read."""


class ProjectFileError(WayroomError):
    """``wayroom.toml`` is wrong."""


class PluginError(WayroomError):
    """A rule, code or catalogue doesn't load, clashes, or has a bad signature. The run stops: fewer rules is never silent."""


class OutputError(WayroomError):
    """The results can't be written."""
