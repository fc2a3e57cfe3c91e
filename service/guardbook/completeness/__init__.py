"""Floor 2: a graph and shapes in, answers in plain words out."""
