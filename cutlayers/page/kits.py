"""What a page shows of a kit: its rows, one of them open, and how all of them lie on sheets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from cutlayers import Budget, Finding, Rows

MOST_ROWS = 500
"""Rows that a page lists; any other is reached by its number."""


def row_told(rows: Rows, number: int) -> dict[str, Any]:
    """The row that is open."""
    row = rows.rows[number]
    return {
        "file": Path(rows.file).name,
        "count": len(rows.rows),
        "row": number,
        "line": row.line,
        "cells": [[column, row.cells[column]] for column in rows.columns],
    }


def rows_told(rows: Rows) -> dict[str, Any]:
    """The table, as far as a page lists it."""
    return {
        "columns": [*rows.columns],
        "rows": [[row.cells[each] for each in rows.columns] for row in rows.rows[:MOST_ROWS]],
    }


class Steps:
    """What is told, step by step, how far some work has come, which may be called off."""

    def __init__(self, budget: Budget, step: Callable[[], None] = lambda: None) -> None:
        self._budget, self._step = budget, step

    def update(self, n_steps: int) -> None:
        """So many more. Raises Cancelled."""
        self._budget.check()
        for _ in range(n_steps):
            self._step()


def bars_for(
    budget: Budget, tell: Callable[[float], None] = lambda _: None
) -> Callable[[int], AbstractContextManager[Steps]]:
    """Bars that stop the work once the budget is called off; `tell` hears of shares, 0 to 1."""

    @contextmanager
    def bar(count: int) -> Iterator[Steps]:
        done = 0

        def step() -> None:
            nonlocal done
            done += 1
            tell(done / max(1, count))

        yield Steps(budget, step)

    return bar


def plan_of_kit(path: Path, budget: Budget) -> tuple[tuple[Finding, ...], dict[str, Any]]:
    """What is found of all rows, and which of them lie on which sheet.

    Raises JobError for what is wrong in a row, Cancelled where the budget says so.
    """
    from cutlayers import open_kit

    opened = open_kit(path, None, bars_for(budget))
    rows = opened.kit.rows
    first = rows.columns[0]
    sheets: list[dict[str, Any]] = []

    def words(row: int) -> str:
        return rows.rows[row].cells[first] or f"line {rows.rows[row].line}"

    for sheet in opened.sorter.sheets(quick=True):
        budget.check()
        count = Counter(laid.row for laid in sheet.pieces)
        sheets.append(
            {
                "number": sheet.number,
                "stock": sheet.stock,
                "pieces": len(sheet.pieces),
                "rows": [{"row": row, "words": words(row)} for row in count],
            }
        )
    pieces = sum(sheet["pieces"] for sheet in sheets)
    return opened.kit.findings, {"rows": len(rows.rows), "pieces": pieces, "sheets": sheets}
