"""What stands on the page, in the order in which it is read: texts and drawings, no markup.

A text may hold names of panels between asterisks, which the page sets in italics.
"""

from __future__ import annotations

from cutlayers.frozen import frozen


@frozen
class Table:
    """A table, a text a cell; `numbers` are the columns that stand to the right."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: tuple[int, ...] = ()
    caption: str = ""


@frozen
class Picture:
    """A view of a folded box, an SVG whose names are its own on the page; `part` is where it
    stands."""

    part: str
    svg: str
    caption: str = ""


@frozen
class BoxLine:
    """One kind of box at the top of the page."""

    line: str
    sizes: str


@frozen
class Top:
    """The head of the page."""

    kicker: str
    boxes: tuple[BoxLine, ...]
    note: str
    pictures: tuple[Picture, ...]


@frozen
class Needs:
    """What one box takes; `box` is empty where the page has one kind only."""

    box: str
    glue: str
    closure: tuple[str, ...]
    weight: str


@frozen
class Material:
    """Card to buy and blanks to trim, None where none is trimmed; `too_large` tells of blanks that
    no sheet holds, stock by stock."""

    cards: Table
    too_large: tuple[tuple[str, ...], ...]
    blanks: Table | None
    needs: tuple[Needs, ...]


@frozen
class LoadedStock:
    """What to load for one stock, and what is left to the hand."""

    heading: str
    sentence: str
    steps: Table
    driving: tuple[str, ...]
    coupon: tuple[str, ...]
    by_hand: str


@frozen
class MachineWork:
    """The setup sheet, and how long each sheet takes; the lists of a kit tell that of its own."""

    stocks: tuple[LoadedStock, ...]
    driving: tuple[str, ...]
    """What holds for every stock."""
    times: Table | None
    total: str


@frozen
class LegendLine:
    """A short line of a drawing, an SVG, and what it stands for."""

    sample: str
    text: str


@frozen
class Drawing:
    """A drawing of a blank, an SVG, with what stands below it."""

    svg: str
    caption: str
    legend: tuple[LegendLine, ...]
    waste: bool
    """Whether the drawing shows waste, which the legend then explains last."""


@frozen
class Rounding:
    """What rounding did to a box, where it did more than take the nearest."""

    notes: tuple[str, ...]
    reason: str
    adjusted: tuple[str, ...]
    left: str


@frozen
class Score:
    """One step of scoring."""

    heading: str
    how: str
    rows: Table | None
    between: str
    """Lines between points; empty where there are none."""


@frozen
class Cut:
    """One step of cutting or perforating."""

    heading: str
    how: str
    tables: tuple[Table, ...]
    between: str
    points: bool
    """Whether the points of the blank are told here."""
    drawing: Drawing | None


@frozen
class Blank:
    """One blank by hand."""

    name: str
    rounding: Rounding | None
    relief: str
    """What keeps thick card from tearing, if anything is to be done."""
    drawing: Drawing
    trim: str
    points: tuple[tuple[str, str, str], ...]
    """Name, distance from the left, distance from the top."""
    points_first: bool
    """Whether scores need the points, so that they are marked before."""
    scores: tuple[Score, ...]
    cuts: tuple[Cut, ...]
    holes: Table | None


@frozen
class StepLine:
    """One step in a sentence, what to mind in it, and the box after it over where it is seen
    from."""

    text: str
    notes: tuple[str, ...]
    picture: Picture | None
    caption: str


@frozen
class Together:
    """How a kind of box goes together, or several that do so alike; `box` is empty where the page
    has one kind only."""

    box: str
    views: Picture | None
    steps: tuple[StepLine, ...]


@frozen
class TickLine:
    """One piece in the list of a sheet, and what a screen reader calls its two boxes to tick."""

    cells: tuple[str, ...]
    ticks: tuple[str, str]


@frozen
class TickList:
    """The list of one sheet and its plan, an SVG. The columns of ticks come after those of
    `head`."""

    heading: str
    line: str
    head: tuple[str, ...]
    pieces: tuple[TickLine, ...]
    plan: Picture


@frozen
class KitWork:
    """What comes after what in a kit, and the lists of its sheets."""

    sheets: Table
    notes: tuple[str, ...]
    steps: tuple[str, ...]
    lists: tuple[TickList, ...]


@frozen
class Found:
    """A finding in words, its severity apart."""

    severity: str
    text: str


@frozen
class Page:
    """The whole page; `machine` is None where everything is done by hand."""

    title: str
    paper: str
    """Width and height as the style sheet wants them."""
    top: Top
    material: Material
    machine: MachineWork | None
    blanks: tuple[Blank, ...]
    together: tuple[Together, ...]
    findings: tuple[Found, ...]
    cautions: tuple[str, ...]
    kit: KitWork | None = None
