"""Reads IFC models, schedules and project files into an installation and a list of problems."""
