"""A job as the rest of the package sees it: plain values, already checked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from cutlayers.lengths import Unit
from cutlayers.stock import Stock

if TYPE_CHECKING:  # an order only carries them
    from cutlayers.fitting import Item
    from cutlayers.net import Net
    from cutlayers.style import Measure


@dataclass(frozen=True, slots=True)
class Order:
    """So many boxes of one style and size, from one stock.

    `dims` is an instance of the style's own dimensions, in mm; `nets` are the flat pieces of one
    box that the style built from them. `name` is different for each order of a job.
    """

    style: str
    dims: object
    stock: str
    count: int
    name: str
    nets: tuple[Net, ...]
    measure: Measure = "inside"
    holds: Item | None = None
    """What is to be packed in it, where the job says so."""


@dataclass(frozen=True, slots=True)
class Job:
    """Everything to be made. Guaranteed: one order or more, and every order's stock is known.

    `unit` is the unit the user thinks in, for reports; every length is mm. `profile` names the
    machine profile where the job file does.
    """

    title: str
    unit: Unit
    stocks: Mapping[str, Stock]
    orders: tuple[Order, ...]
    profile: str | None = None
