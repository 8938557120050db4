"""Writers: one a format. They compute nothing."""
