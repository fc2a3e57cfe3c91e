"""The catalogue as a dataset among others: what it holds, where it is asked, and what changed in it."""
