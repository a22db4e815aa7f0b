"""The page of each finding's code: what is measured, why it matters, how to cure it, the source."""

from __future__ import annotations

from typing import TYPE_CHECKING

__all__ = [
    "CODES",
    "Code",
    "Key",
    "Page",
    "StyleKey",
    "Table",
    "all_tables",
    "beside",
    "keys_named",
    "known_names",
    "page_of",
    "report_schema",
    "style_keys",
    "tables_named",
]

if TYPE_CHECKING:
    from cutlayers.explaining.codes import CODES, Code
    from cutlayers.explaining.keys import (
        Key,
        StyleKey,
        Table,
        all_tables,
        keys_named,
        known_names,
        style_keys,
        tables_named,
    )
    from cutlayers.explaining.pages import Page, beside, page_of
    from cutlayers.explaining.schema import report_schema
else:
    from cutlayers.later import loaded_later

    __getattr__, __dir__ = loaded_later(
        __name__,
        {
            "codes": "CODES Code",
            "keys": "Key StyleKey Table all_tables keys_named known_names style_keys tables_named",
            "pages": "Page beside page_of",
            "schema": "report_schema",
        },
    )
