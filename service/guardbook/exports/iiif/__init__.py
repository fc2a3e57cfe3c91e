"""Volumes and leaves as IIIF Presentation 3 manifests (IIIF Consortium, 2020)."""
