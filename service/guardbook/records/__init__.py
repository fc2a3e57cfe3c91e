"""Floor 1: what a record is. Typed models, terms, identifiers, dates and the mapping to RDF."""
