"""Two ways to make a job side by side: what each takes, nothing of it written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cutlayers import Severity, format_length, in_words_without_severity
from cutlayers.page.laying import amounts_of, laid
from cutlayers.page.looking import Look, controls, folding, sizes_of

if TYPE_CHECKING:
    from cutlayers import Budget


def told_to_compare(
    text: str, path: Path, look: Look, piece: int, budget: Budget
) -> dict[str, Any]:
    """A job as a column of a comparison: its box, sizes, sheets, minutes, cost, weight, and whether
    it works; of a kit the row that is seen. Raises Cancelled where the budget says so."""
    look = replace(look, rows=None)
    job = look.job
    piece = min(piece, len(job.orders) - 1)
    order = job.orders[piece]
    found = laid(text, path, look, budget, cures=False)
    amounts: Mapping[str, Any] = {"rows": [], "stocks": []}
    if found.layout is not None:
        from cutlayers import plan

        amounts = amounts_of(plan(found.layout, budget=budget))
    findings = [each for each in found.findings if each.severity is Severity.ERROR]
    origin = order.box.origin
    box = folding(look, piece)
    return {
        "style": origin.style.name.replace("-", " ") if origin else "a drawing",
        "sizes": sizes_of(order, job),
        "box": box,
        "blank": _blank(box, job.unit),
        "controls": controls(text, piece, other=False)["size"],
        "holds": order.holds is not None,
        "works": not findings and found.layout is not None,
        "wrong": [in_words_without_severity(each, job.unit) for each in findings[:3]]
        + [words for _, words in found.trouble],
        **_totals(amounts),
    }


def _blank(box: Mapping[str, Any], unit: Any) -> list[str]:
    """How large each blank is, cut out and flat."""
    return [
        f"{format_length(blank['box'][2], unit)} × {format_length(blank['box'][3], unit)}"
        for blank in box["blanks"]
    ]


def _totals(told: Mapping[str, Any]) -> dict[str, Any]:
    """What all sheets together take; None for what is not known of one of them."""
    rows, stocks = told["rows"], told["stocks"]

    def total(values: list[float | None]) -> float | None:
        known = [each for each in values if each is not None]
        return round(sum(known), 2) if values and len(known) == len(values) else None

    minutes = [None if row["minutes"] is None else row["minutes"] * row["copies"] for row in rows]
    return {
        "sheets": [f"{each['sheets']} × {each['stock']}" for each in stocks],
        "minutes": total(minutes),
        "cost": total([each["cost"] for each in stocks]),
        "weight": total([each["weight"] for each in stocks]),
    }
