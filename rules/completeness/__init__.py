"""Rules of completeness: does the model hold what the other rules need of it."""
