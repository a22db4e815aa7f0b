"""The guide as plain values: `page` sets it as HTML, `words` and the like into sentences."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from enum import StrEnum
from typing import TYPE_CHECKING, Literal

from cutlayers.box.steps import Step
from cutlayers.construction.card import Measure
from cutlayers.frozen import frozen
from cutlayers.guide.material import BoxNeeds
from cutlayers.guide.ruler import Ruler
from cutlayers.job.stock import Stock
from cutlayers.pictures.scene import Scene
from cutlayers.profile.setup_sheet import SetupSheet
from cutlayers.report.report import SheetRow
from cutlayers.telling.findings import Finding
from cutlayers.telling.lengths import Unit

if TYPE_CHECKING:  # a job that a machine makes has no work by hand, and nobody walks its steps
    from cutlayers.box import Press, Way
    from cutlayers.guide.by_hand import HandBlank
    from cutlayers.guide.fits import Adjustment


Paper = Literal["A4", "letter"]


class Caution(StrEnum):
    """What the page warns of, apart from the machine, whose cautions its setup sheets carry."""

    KNIFE = "knife"
    SMALL_PARTS = "small parts"
    FOOD = "food"


@frozen
class StockNeed:
    """How many sheets of a stock the job takes; `too_large` names blanks that no sheet holds
    when they are trimmed by hand, with their sizes in mm."""

    stock: Stock
    sheets: int
    too_large: tuple[tuple[str, float, float], ...] = ()


@frozen
class FacingGuide:
    """A decorative piece for one panel, and the stock it is cut from."""

    blank: HandBlank
    stock: str


@frozen
class HandWork:
    """How the blanks of one box are made by hand, each of its stock.

    `adjustments` are sizes that were not rounded to the nearest, for the `reasons`; `left` are
    faults that no rounding tried is free of, `far` sizes more than a division off; `uneven` says
    that edges which meet may differ by a division, since slanted panels cannot be rounded and stay
    alike.
    """

    stocks: tuple[str, ...]
    blanks: tuple[HandBlank, ...]
    facings: tuple[FacingGuide, ...] = ()
    adjustments: tuple[Adjustment, ...] = ()
    far: tuple[Adjustment, ...] = ()
    reasons: tuple[Finding, ...] = ()
    left: tuple[Finding, ...] = ()
    uneven: bool = False
    too_small: bool = False
    """Whether parts are too small for the ruler, so that each point is rounded by itself."""
    drawn: bool = False
    """Whether there are lines for a pen, which are left out here."""
    traced: bool = False
    """Whether letters are cut out, which are drawn here and not measured."""

    @property
    def cut_from(self) -> tuple[tuple[HandBlank, str], ...]:
        """Every blank of the box, facing pieces included, with its stock."""
        own = zip(self.blanks, self.stocks, strict=True)
        return (*own, *((facing.blank, facing.stock) for facing in self.facings))


@frozen
class BoxGuide:
    """One kind of box. `sizes` are the style's own, or those of a drawing between its creases, in
    mm, with their names; a drawn box has no `style`. `nets` are the names of its flat pieces;
    `hand` is None where a machine does it all.

    `bent` are the moves in which card has to bend, each with its step, and `unreached` what no
    finger gets in to; none where nobody walked the steps. `step_pictures` show the box after steps
    that move panels, each titled with where it is seen from if that is not the usual place.
    `picture` is a scene of the finished box, and `views` one of the box on its way there where its
    steps are not drawn; both are None for a box that cannot be folded.
    """

    name: str
    style: str
    summary: str
    count: int
    sizes: tuple[tuple[str, float], ...]
    measure: Measure
    nets: tuple[str, ...]
    needs: BoxNeeds
    steps: tuple[Step, ...]
    bent: tuple[Way, ...] = ()
    unreached: tuple[Press, ...] = ()
    step_pictures: Mapping[Step, Scene] = field(default_factory=dict)
    hand: HandWork | None = None
    picture: Scene | None = None
    views: Scene | None = None


@frozen
class MachineCard:
    """The machine's part of the page: what to load for each stock, and each side of each sheet."""

    title: str
    cards: tuple[SetupSheet, ...]
    sheets: tuple[SheetRow, ...]


@frozen
class LaidPiece:
    """A piece on a sheet of a kit: its number there, what stands in its row, what it is, and the
    other sheets that hold more of its row."""

    position: int
    row: str
    name: str
    others: tuple[int, ...]


@frozen
class KitSheetGuide:
    """What lies on one sheet of a kit. `files` are the stems of its files in working order, and
    `plan` is a small picture with the pieces' numbers."""

    number: int
    stock: str
    files: tuple[str, ...]
    minutes: float
    pieces: tuple[LaidPiece, ...]
    plan: Scene


@frozen
class KitGuide:
    """How a kit is worked through. `rows` is how many there are and `columns` which of their cells
    are told; `merged` are the names of pieces that come in so many sizes that one stands for all,
    each with how many; `printed`, `backs` and `coupon` say what comes before the front of a sheet
    is cut."""

    rows: int
    columns: tuple[str, ...]
    sheets: tuple[KitSheetGuide, ...]
    merged: tuple[tuple[str, int], ...] = ()
    printed: bool = False
    backs: bool = False
    coupon: bool = False


@frozen
class Guide:
    """The whole guide. Without a machine every box has its work by hand; with one they all
    have, or none."""

    title: str
    unit: Unit
    ruler: Ruler
    boxes: tuple[BoxGuide, ...]
    stocks: tuple[StockNeed, ...]
    machine: MachineCard | None
    findings: tuple[Finding, ...]
    cautions: tuple[Caution, ...] = tuple(Caution)
    kit: KitGuide | None = None
    """The sheets one by one, where rows of a table make the boxes."""

    @property
    def by_hand(self) -> tuple[HandWork, ...]:
        """What is done by hand, box by box."""
        return tuple(box.hand for box in self.boxes if box.hand is not None)
