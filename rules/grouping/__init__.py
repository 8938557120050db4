"""Rules about circuits that heat each other."""
