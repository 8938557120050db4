"""The commands: options, and what they are passed to; no logic."""
