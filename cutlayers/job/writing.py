"""A job file for one kind of box whose dimensions are known."""

from __future__ import annotations

import dataclasses
import math
from typing import Any

from cutlayers.construction.card import Measure
from cutlayers.construction.dimension import Dimension
from cutlayers.construction.style import Style
from cutlayers.job.stock import SHEETS_MM, Stock
from cutlayers.reading.editing import length_in
from cutlayers.telling.lengths import Unit

DECIMALS = 4
"""Of inches as people write them: card is sold by thousandths, and a caliper halves these."""


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
    """A job that makes one such box. Lengths are exact: in inches where they are a fraction or
    thousandths of one in a job that counts in these, otherwise in mm, with their unit where it
    counts in another; options that have the style's default are left out."""
    import tomlkit

    job = tomlkit.document()
    job.add(tomlkit.comment(f"{style.name}: {style.summary}"))
    job.add(tomlkit.nl())
    job.update({"title": title, "units": unit} | ({"profile": profile} if profile else {}))
    job["stock"] = {
        stock.name: {
            "caliper": _length(stock.caliper, unit),
            "sheet": _sheet(stock.sheet, unit),
            **({} if stock.grammage is None else {"grammage": _number(stock.grammage)}),
            "grain": stock.grain,
            **({} if stock.material is None else {"material": stock.material}),
        }
    }
    piece = {
        "style": style.name,
        "stock": stock.name,
        "count": 1,
        "size": {**_values(dims, "size", unit), "measure": measure},
    }
    options = _values(dims, "option", unit)
    job["piece"] = [piece | ({"options": options} if options else {})]
    return tomlkit.dumps(job)


def _sheet(sides: tuple[float, float], unit: Unit) -> str | list[Any]:
    """A sheet by its name, where its size has one."""
    for name, size in SHEETS_MM.items():
        for turn, (width, height) in (("", size), (" landscape", size[::-1])):
            if math.isclose(sides[0], width) and math.isclose(sides[1], height):
                return name + turn
    return [_length(side, unit) for side in sides]


def _values(dims: Any, group: str, unit: Unit) -> dict[str, Any]:
    values: dict[str, Any] = {}
    for field in dataclasses.fields(dims):
        dimension: Dimension = field.metadata["dimension"]
        value = getattr(dims, field.name)
        given = value is not None and (group == "size" or value != field.default)
        if dimension.group == group and given:
            values[field.name] = _length(value, unit) if dimension.is_length else value
    return values


def _length(millimetres: float, unit: Unit) -> float | str:
    """In the job's unit where that says it, as inches in a fraction or in thousandths do;
    otherwise in mm."""
    number = _number(round(millimetres, 6))
    if unit == "mm":
        return number
    written = length_in(millimetres, unit)
    if isinstance(written, float) and round(written, DECIMALS) != written:
        return f"{number} mm"
    return written


def _number(value: float) -> float:
    """As people write it: 62, not 62.0."""
    return int(value) if float(value).is_integer() else value
