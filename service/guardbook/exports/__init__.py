"""Floor 7: one file a format; records in, bytes out."""
