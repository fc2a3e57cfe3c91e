"""Drawings of a volume, a section, a leaf: SVG to scale, in a graphic language that needs no colour."""
