"""Models of single boxes, as `cutlayers fold` makes them."""

from __future__ import annotations

from typing import Any

from cutlayers.box.box import build
from cutlayers.construction.card import SHARE, Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles, styles_by_name
from cutlayers.job.order import Job, Order
from cutlayers.job.stock import Stock
from cutlayers.solids.model import Model, model_of

STYLES = tuple(style.name for style in styles())


def job_of(name: str, caliper: float, **dims: Any) -> Job:
    """A job of one box, its sizes those of the style's example where none are given; `coarse` and
    `relief` are those of its card."""
    style: Style = styles_by_name()[name]
    values = {key: default for key, (_, default) in style.table.items()} | dims
    measure, share = values.pop("measure", "inside"), values.pop("share", SHARE)
    card = Card(caliper, measure, values.pop("coarse", 0.0), share, values.pop("relief", 0.0))
    box = build(style, style.dimensions(**values), card)
    stock = Stock("card", caliper=caliper, sheet=(600.0, 600.0))
    return Job("A box", "mm", {"card": stock}, (Order(box, "card", 1, "box"),))


def example(name: str, caliper: float = 0.5, opened: float = 0.0, **dims: Any) -> Model:
    """A model of it."""
    job = job_of(name, caliper, **dims)
    return model_of(job, job.orders, opened)
