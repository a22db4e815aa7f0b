"""What both user files are read with: values, TOML, messages."""

from __future__ import annotations

from typing import TYPE_CHECKING

__all__ = [
    "LARGEST_MEGABYTES",
    "ValueRefused",
    "read_date",
    "read_length",
    "read_table",
    "read_text",
    "read_toml",
    "read_toml_text",
    "readable",
]

if TYPE_CHECKING:
    from cutlayers.reading.tables import read_table
    from cutlayers.reading.toml_file import LARGEST_MEGABYTES, read_toml, read_toml_text
    from cutlayers.reading.values import ValueRefused, read_date, read_length, read_text, readable
else:
    from cutlayers.later import loaded_later

    __getattr__, __dir__ = loaded_later(
        __name__,
        {
            "tables": "read_table",
            "toml_file": "LARGEST_MEGABYTES read_toml read_toml_text",
            "values": "ValueRefused read_date read_length read_text readable",
        },
    )
