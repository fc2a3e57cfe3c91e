"""Floor 9: the catalogue over HTTP: records as data under `/api`, and the records' own addresses."""
