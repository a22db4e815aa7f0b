"""A job as the rest of the package sees it: plain values, already checked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from cutlayers.job.limits import Limits
from cutlayers.job.stock import Stock
from cutlayers.telling.lengths import Unit

if TYPE_CHECKING:  # an order only carries them
    from cutlayers.artwork.model import Art
    from cutlayers.box import Box
    from cutlayers.box.facing import Facing
    from cutlayers.fitting import Item


Rotation = Literal["none", "half", "quarter", "free"]
"""How far a piece may be turned on the sheet."""

GrainWay = Literal["any", "along", "across"]
"""How a piece's main folds are to run to the grain of the card."""

Mode = Literal["quick", "thorough"]


@dataclass(frozen=True, slots=True)
class SheetRules:
    """How sheets are to be filled.

    `gap` lies between pieces, `border` is the edge of the sheet to keep free whatever the machine
    reaches, such as the border a printer cannot print. The thorough mode searches for `seconds`;
    the same `seed` finds the same sheets.
    """

    gap: float = 4.0
    border: float = 0.0
    mode: Mode = "quick"
    seconds: int = 20
    seed: int = 1
    rotation: Rotation = "quarter"


@dataclass(frozen=True, slots=True)
class Order:
    """So many boxes alike, from one stock.

    `box` is one of them, lettering and guide lines on its nets. `name` is different
    for each order of a job. With `fill` there are as many boxes as one sheet of the stock holds,
    and `count` is 1. `rotation` None leaves the turning to the job's rules.
    """

    box: Box
    stock: str
    count: int
    name: str
    holds: Item | None = None
    """What is to be packed in it, where the job says so."""
    fill: bool = False
    rotation: Rotation | None = None
    grain: GrainWay = "any"
    art: tuple[Art, ...] = ()
    """What is printed on the nets."""
    facings: tuple[Facing, ...] = ()
    """Further pieces of each box, to be glued on its panels."""

    @property
    def stocks(self) -> tuple[str, ...]:
        """The stock of the box and those of its facing pieces, each once."""
        return tuple(dict.fromkeys((self.stock, *(facing.stock for facing in self.facings))))


@dataclass(frozen=True, slots=True)
class PrintChoice:
    """What a job asks of the printing; None leaves it to the profile. Lengths are mm."""

    bleed: float | None = None
    safe_margin: float | None = None
    dpi: int | None = None


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
    sheets: SheetRules = SheetRules()
    printing: PrintChoice = PrintChoice()
    limits: Limits = field(default_factory=Limits)
