"""Wayroom: checks cable carriers in IFC models against a code of practice."""

__version__ = "0.1.0"
__all__ = ["__version__"]
