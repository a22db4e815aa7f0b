"""A job file for one kind of box whose dimensions are known."""

from __future__ import annotations

import dataclasses
import json
import re
from collections.abc import Iterator
from typing import Any

from cutlayers.construction.card import Measure
from cutlayers.construction.dimension import Dimension
from cutlayers.construction.style import Style
from cutlayers.job.stock import Stock
from cutlayers.telling.lengths import Unit


def job_text(
    style: Style,
    dims: Any,
    measure: Measure,
    stock: Stock,
    *,
    title: str,
    unit: Unit = "mm",
    profile: str | None = None,
) -> str:
    """A job that makes one such box. Lengths are exact and written in mm, with their unit where
    the job counts in another; options that have the style's default are left out."""
    lines = [
        f"# {style.name}: {style.summary}",
        "",
        f"title = {_text(title)}",
        f'units = "{unit}"',
        *([f"profile = {_text(profile)}"] if profile else []),
        "",
        f"[stock.{_key(stock.name)}]",
        f"caliper = {_length(stock.caliper, unit)}",
        f"sheet = [{', '.join(_length(side, unit) for side in stock.sheet)}]",
        *([f"grammage = {stock.grammage:g}"] if stock.grammage is not None else []),
        f'grain = "{stock.grain}"',
        "",
        "[[piece]]",
        f"style = {_text(style.name)}",
        f"stock = {_text(stock.name)}",
        "count = 1",
        "",
        "[piece.size]",
        *_values(dims, "size", unit),
        f'measure = "{measure}"',
    ]
    options = list(_values(dims, "option", unit))
    if options:
        lines += ["", "[piece.options]", *options]
    return "\n".join(lines) + "\n"


def _values(dims: Any, group: str, unit: Unit) -> Iterator[str]:
    for field in dataclasses.fields(dims):
        dimension: Dimension = field.metadata["dimension"]
        value = getattr(dims, field.name)
        given = value is not None and (group == "size" or value != field.default)
        if dimension.group == group and given:
            shown = _length(value, unit) if dimension.is_length else json.dumps(value)
            yield f"{field.name} = {shown}"


def _length(millimetres: float, unit: Unit) -> str:
    number = f"{round(millimetres, 6):.6f}".rstrip("0").rstrip(".")
    return number if unit == "mm" else f'"{number} mm"'


def _key(name: str) -> str:
    return name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else _text(name)


def _text(value: str) -> str:
    """A TOML basic string; JSON's are the same but for U+007F."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007F")
