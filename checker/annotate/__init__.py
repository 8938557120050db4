"""The same model with a property set of ours on each carrier that says what was found, and nothing else changed.

STEP text is added to, never written anew: what a model's bytes were they stay.
"""
