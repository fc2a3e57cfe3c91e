"""Records of other catalogues, kept apart from our own, each with where it came from."""
