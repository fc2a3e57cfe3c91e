"""Hold what is kept against itself."""

from __future__ import annotations

from guardbook.catalogue.access import Access
from guardbook.errors import Fault


def verify_catalogue(access: Access) -> tuple[Fault, ...]:
    """Give a fault for each altered entry of the ledger and all that no longer fits it; none if all is well.

    Raises NotAllowed for the public, StorageFailed where a file cannot be read.
    """
    return access.verify()
