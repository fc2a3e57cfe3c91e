"""Floor 9: a plain page for every record, for the search, and for whatever went wrong."""
