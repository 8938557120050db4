"""A worked answer of ``wayroom fit`` on one page, or the same with the numbers to be worked out left blank."""

from checker.sheet.content import Sheet, sheet_of

__all__ = ["Sheet", "sheet_of"]
