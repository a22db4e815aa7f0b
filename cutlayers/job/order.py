"""A job as the rest of the package sees it: plain values, already checked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from typing import TYPE_CHECKING, Annotated, Literal

from cutlayers.frozen import frozen
from cutlayers.job.limits import Limits
from cutlayers.job.stock import Stock
from cutlayers.reading.declared import Flag, Inner, Key, Length, Named, Text, Whole, Word
from cutlayers.telling.lengths import Unit

if TYPE_CHECKING:  # an order only carries them
    from cutlayers.artwork.model import Art
    from cutlayers.box import Box
    from cutlayers.box.facing import Facing
    from cutlayers.fitting import Item
    from cutlayers.job.drawings import Brought


Rotation = Literal["none", "half", "quarter", "free"]
"""How far a piece may be turned on the sheet."""

GrainWay = Literal["any", "along", "across"]
"""How a piece's main folds are to run to the grain of the card."""

Grains = GrainWay | Mapping[str, GrainWay]
"""One way for all blanks of a box, or one for each that has a way of its own, by its net."""

Stocks = str | Mapping[str, str]
"""One stock for all blanks of a box, or that of each blank, by its net."""

Mode = Literal["quick", "thorough"]

ROTATION_HELP = "turns allowed on the sheet: none, half turns, quarter turns, or free: any angle"


@frozen
class SheetRules:
    """How sheets are to be filled.

    The `border` is kept free whatever the machine reaches; the same `seed` finds the same sheets.

    Example:

        [sheets]
        gap = 3
        border = 5
        mode = "thorough"
        seconds = 30
        seed = 2
        rotation = "half"
        coupon = true
    """

    gap: Annotated[float, Length(0.0, 100.0, "card left between pieces")] = 4.0
    border: Annotated[
        float,
        Length(0.0, 100.0, "edge of the sheet kept free, such as what a printer cannot print on"),
    ] = 0.0
    mode: Annotated[Mode, Word("quick, or thorough: search for sheets that hold more")] = "quick"
    seconds: Annotated[int, Whole(1, 36_000, "that a thorough search takes, for each stock")] = 20
    seed: Annotated[int, Whole(0, 1_000_000, "another number searches in another order")] = 1
    rotation: Annotated[Rotation, Word(ROTATION_HELP)] = "quarter"
    coupon: Annotated[
        bool, Flag("a small square with a V and a hole in each sheet's waste, to be cut first")
    ] = False


@frozen
class Order:
    """So many boxes alike.

    `stock` is that of all their blanks, or of each. `box` is one of them, lettering and guide lines
    on its nets. `name` is different for each order of a job. With `fill` there are as many boxes as
    one sheet of the stock holds, and `count` is 1. `rotation` None leaves the turning to the job's
    rules.
    """

    box: Box
    stock: Stocks
    count: int
    name: str
    holds: Item | None = None
    """What is to be packed in it, where the job says so."""
    fill: bool = False
    rotation: Rotation | None = None
    grain: Grains = "any"
    art: tuple[Art, ...] = ()
    """What is printed on the nets."""
    facings: tuple[Facing, ...] = ()
    """Further pieces of each box, to be glued on its panels."""
    drawing: Brought | None = None
    """What was understood of the drawing that it is made from, if it is."""

    def stock_of(self, net: str) -> str:
        """The stock of one blank."""
        return self.stock if isinstance(self.stock, str) else self.stock[net]

    @property
    def card_stocks(self) -> tuple[str, ...]:
        """The stocks of the blanks, each once."""
        return tuple(dict.fromkeys(self.stock_of(blank.name) for blank in self.box.blanks))

    @property
    def stocks(self) -> tuple[str, ...]:
        """The stocks of the blanks and of the facing pieces, each once."""
        own = (facing.stock for facing in self.facings)
        return tuple(dict.fromkeys((*self.card_stocks, *own)))

    def glued_on(self, stocks: Mapping[str, Stock]) -> tuple[tuple[Facing, float], ...]:
        """The facing pieces, each with its caliper."""
        return tuple((facing, stocks[facing.stock].caliper) for facing in self.facings)

    def grain_of(self, net: str) -> GrainWay:
        """How the main folds of one blank are to run to the grain."""
        return self.grain if isinstance(self.grain, str) else self.grain.get(net, "any")

    @property
    def grain_for_each(self) -> bool:
        """Whether the way to the grain is meant for each blank by itself: a box may have one alone,
        or the job names them."""
        return len(self.box.wholes) == 1 or not isinstance(self.grain, str)

    @property
    def blank_names(self) -> tuple[str, ...]:
        """What the blanks of one box are called, on the sheets and by hand."""
        blanks = self.box.blanks
        if len(blanks) == 1:
            return (self.name,)
        return tuple(f"{self.name}: {blank.label}" for blank in blanks)


@frozen
class PrintChoice:
    """What a job asks of the printing; None leaves it to the profile. Lengths are mm.

    Example:

        [print]
        bleed = 2
        safe_margin = 4
        dpi = 150
    """

    bleed: Annotated[float | None, Length(0, 20, "how far ink runs past cut edges")] = None
    safe_margin: Annotated[
        float | None, Length(0, 50, "how far lettering and pictures keep from a panel's edges")
    ] = None
    dpi: Annotated[int | None, Whole(72, 1200, "dots per inch of the PNG to print")] = None


@frozen
class Job:
    """Everything to be made. Guaranteed: one order or more, and every order's stock is known.

    `unit` is the unit the user thinks in, for reports; every length is mm. `profile` names the
    machine profile where the job file does.
    """

    title: str
    unit: Unit
    stocks: Annotated[
        Mapping[str, Stock],
        Key("stock"),
        Named(
            "the card you own, a table [stock.NAME] for each kind",
            each="one kind of card, [stock.NAME]",
            needed=True,
        ),
    ]
    orders: tuple[Order, ...]
    profile: Annotated[str | None, Text("the machine's profile, a name or a file")] = None
    sheets: Annotated[SheetRules, Inner("how sheets are to be filled")] = SheetRules()
    printing: Annotated[
        PrintChoice, Key("print"), Inner("printing, where not as in the profile")
    ] = PrintChoice()
    limits: Annotated[Limits, Inner("from which measure on the checks speak up")] = field(
        default_factory=Limits
    )
