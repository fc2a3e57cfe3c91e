"""The packet: one file for deposit or for handing over, readable without this program."""
