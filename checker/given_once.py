"""Options that are for one value, given several times: the last would win, and nobody would hear of the others."""

from collections import Counter
from typing import Any

from typer.core import TyperCommand

from checker.errors import InputError


class GivenOnce(TyperCommand):
    """A command that refuses an option for one value that is given several times."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Reads the command line.

        Raises:
            InputError: An option that is for one value is given several times.
        """
        _, _, order = self.make_parser(ctx).parse_args(args=list(args))
        single = [
            one
            for one in order
            if one.param_type_name == "option" and not (one.multiple or getattr(one, "is_flag", False))
        ]
        for name, times in Counter(one.opts[0] for one in single).items():
            if times > 1:
                raise InputError(name, f"it is given {times} times, and is for one value", "give it once")
        return super().parse_args(ctx, args)
