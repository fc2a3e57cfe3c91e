"""A linked-data catalogue of fragments taken out of bookbindings, and of where each of them sat."""

__version__ = "0.1.0"
