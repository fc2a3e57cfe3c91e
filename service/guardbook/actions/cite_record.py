"""Cite a record in plain words."""

from __future__ import annotations

import io

from guardbook.actions.export_records import export_records
from guardbook.catalogue.access import Access


def cite_record(access: Access, name: str) -> str:
    """Give the citation of a record, by an identifier in any spelling or a workshop number.

    Raises NotFound and Gone.
    """
    output = io.BytesIO()
    export_records(access, [name], "citation", output)
    return output.getvalue().decode().strip()
