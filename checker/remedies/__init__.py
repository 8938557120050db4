"""Advice that was tried: for what fails, changes that make it pass and nothing else worse, judged by every rule that they touch."""

from checker.remedies.finding import Remedied, remedies_of

__all__ = ["Remedied", "remedies_of"]
