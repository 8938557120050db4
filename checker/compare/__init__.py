"""Compares two results: what is new, worse, better, fixed, gone or no longer known, and what changed of carriers and circuits."""
