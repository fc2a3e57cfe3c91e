"""Floor 6: bytes in, drafts out. Turtle and its kin, JSON, CSV and XLSX are read into drafts of records."""
