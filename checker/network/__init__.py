"""Joins carriers into a graph, finds each circuit's way through it, and puts cables into compartments."""
