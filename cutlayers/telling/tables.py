"""Texts in columns."""

from __future__ import annotations

from collections.abc import Collection, Sequence


def table(rows: Sequence[Sequence[str]], right: Collection[int] = ()) -> list[str]:
    """Rows of texts as aligned lines, the first row as the head; `right` columns align right."""
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return [
        "  ".join(
            text.rjust(width) if i in right else text.ljust(width)
            for i, (text, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]
