"""TEI P5: a manuscript description for every volume, piece and carrier (TEI P5 Guidelines, chapter 11)."""
