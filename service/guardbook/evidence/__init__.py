"""What the records prove: dates with their reasons, readings of what was seen, and what to decide by."""
