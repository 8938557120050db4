"""Sections of carriers with what lies in them: packing, laying, drawing."""
