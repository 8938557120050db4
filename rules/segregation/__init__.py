"""Rules of segregation: are services apart that must be."""
