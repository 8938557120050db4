"""Rules of fill: does what lies in a compartment fit."""
