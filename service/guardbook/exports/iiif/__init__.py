"""Volumes, leaves and pieces as IIIF Presentation 3 manifests (IIIF Consortium, 2020), and lists of them."""
