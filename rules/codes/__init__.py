"""Codes of practice, one edition of one code a file: which rules run, and their limits."""

WAYROOM = "wayroom"
