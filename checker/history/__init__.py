"""Identity over model revisions, and merging what reviewers wrote."""
