"""Floor 4: planes, positions, the replay of stages, and where a piece sat. Pure functions over records."""
