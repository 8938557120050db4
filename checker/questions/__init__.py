"""Which few questions settle the most of what is unknown: rules are asked again with answers given, and the answers ranked."""

from checker.questions.rows import question_rows
from checker.questions.unknowns import Unknowns

__all__ = ["Unknowns", "question_rows"]
