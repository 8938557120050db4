"""Rules of support: does what bears cables bear their weight."""
