"""The whole catalogue as an archive in the Oxford Common File Layout (OCFL 1.1)."""
