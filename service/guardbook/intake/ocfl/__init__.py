"""Archives in the Oxford Common File Layout (OCFL 1.1), read and checked."""
