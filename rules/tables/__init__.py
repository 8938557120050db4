"""Figures of codes, cables and carriers. Every row names its source."""

WAYROOM = "wayroom"
