"""Everything a user can do, one verb a file."""
