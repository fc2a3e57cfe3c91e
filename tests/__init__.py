"""Guardbook's tests, one folder a floor."""
