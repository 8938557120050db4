"""Whether cables can be drawn through a run of conduit: its bends, their radii, and the force that it takes."""
