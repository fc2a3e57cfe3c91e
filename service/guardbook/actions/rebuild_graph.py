"""Make the graph and the search anew from the ledger."""

from __future__ import annotations

from guardbook.catalogue.access import Access


def rebuild_graph(access: Access) -> int:
    """Throw away all that is made from the ledger and make it again; give the number of records.

    Raises NotAllowed for the public, StorageFailed where the disk does not take it.
    """
    return access.rebuild()
