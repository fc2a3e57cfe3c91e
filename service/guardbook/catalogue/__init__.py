"""Keep, find, revise: the ledger (the truth), the graph made from it, search, and who may see what."""
