"""What a job file says in other words than the job's own: its pieces, before a box is built.

The values that a Job takes as they are written are declared on it (`order.py`); `reading.py` and
`orders.py` make orders of the pieces.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import field
from pathlib import Path
from typing import Annotated, Any, TypeVar, cast, get_args

from cutlayers.bringing.rules import FromDrawing
from cutlayers.fitting import SHAPES
from cutlayers.frozen import frozen
from cutlayers.job.order import ROTATION_HELP, Grains, GrainWay, Job, Rotation, Stocks
from cutlayers.job.written_art import WrittenArt, WrittenFacing
from cutlayers.lettering.inscriptions import Inscription
from cutlayers.reading.declared import (
    Flag,
    Inner,
    Key,
    Loose,
    Several,
    Special,
    Text,
    Whole,
    Word,
    a_file,
)
from cutlayers.reading.tables import Declared, declared
from cutlayers.reading.values import ValueRefused, read_choice, read_text
from cutlayers.telling.lengths import Unit

UNITS: tuple[Unit, ...] = ("mm", "in")
MOST_BOXES = 10_000
"""Of one piece; more is a slip, and would keep the placing busy for hours."""


T = TypeVar("T")

_NAME: Mapping[str, Any] = {"type": "string"}
_WAYS: Mapping[str, Any] = {"enum": list(get_args(GrainWay))}


def _read_grain(value: object, _unit: Unit) -> Grains:
    """A way for all blanks, or a table of one for each."""
    return _by_net(value, lambda way: cast(GrainWay, read_choice(way, get_args(GrainWay))))


def _read_stock(value: object, _unit: Unit) -> Stocks:
    """A stock for all blanks, or a table of one for each."""
    if value == {}:
        raise ValueRefused("is empty; name a stock for each net of the box")
    return _by_net(value, read_text)


def _by_net(value: object, read: Callable[[object], T]) -> T | Mapping[str, T]:
    """One value, or a table of one for each net; which nets there are the box will say."""
    if not isinstance(value, Mapping):
        return read(value)
    found: dict[str, T] = {}
    for net, own in value.items():
        try:
            found[net] = read(own)
        except ValueRefused as error:
            error.refusal = error.refusal.under(net)
            raise
    return found


@frozen(kw_only=True)
class WrittenPiece(FromDrawing):
    """Boxes of one style and size, or of one drawing, [[piece]].

    `size` and `options` are as the file has them: the style says what may be in them.

    Example:

        [[piece]]
        name = "soap tray"
        style = "tray"
        stock = "kraft"
        count = 2
        rotation = "quarter"
        grain = "any"
        guides = true
        size = { length = 90, width = 60, height = 30, measure = "inside" }
        options = { tab = 10 }

        [[piece]]
        style = "tray"
        stock = "kraft"
        fill = true
        holds = { shape = "cuboid", length = 60, width = 40, height = 20, clearance = 1 }

        [[piece]]
        drawing = "friend.svg"
        stock = "kraft"
        unit = "mm"
        folds = { "panel 1 | panel 2" = 90 }

        [[piece]]
        drawing = "friend.svg"
        stock = "kraft"
        scale = 0.3528

        [[piece]]
        drawing = "friend.svg"
        stock = "kraft"
        join = 0.5
        ends = "keep"
        shows = "outside"
    """

    style: Annotated[str | None, Text("a box style; 'cutlayers styles' lists them")] = None
    stock: Annotated[
        Stocks,
        Special(
            "the NAME of one of the [stock.NAME] tables; of a box of several nets also a table of "
            "these by net",
            _read_stock,
            {"anyOf": [_NAME, {"type": "object", "additionalProperties": _NAME}]},
        ),
    ]
    count: Annotated[
        int | None, Whole(1, MOST_BOXES, "how many of these boxes to make; 1 if not given")
    ] = None
    fill: Annotated[bool, Flag("make as many boxes as one sheet holds, in place of count")] = False
    rotation: Annotated[
        Rotation | None, Word(f"{ROTATION_HELP}; [sheets] decides if not given")
    ] = None
    grain: Annotated[
        Grains,
        Special(
            "how the main folds are to run to the grain, across for tubes and along for others: "
            "any, along or across, or a table of these by net",
            _read_grain,
            {"anyOf": [_WAYS, {"type": "object", "additionalProperties": _WAYS}]},
        ),
    ] = "any"
    name: Annotated[str | None, Text("what to call them; the style's name by default")] = None
    guides: Annotated[
        bool, Flag("draw where the glue goes and which flaps fold towards you, hidden once glued")
    ] = False
    holds: Annotated[
        Mapping[str, Any] | None,
        Loose(
            "the thing to be packed, instead of a size: shape = "
            f"{', '.join(sorted(SHAPES))}, its measures, and clearance"
        ),
    ] = None
    art: Annotated[
        tuple[WrittenArt, ...],
        Several("what is printed on it, [[piece.art]]", each="art on panels, [[piece.art]]"),
    ] = ()
    facing: Annotated[
        tuple[WrittenFacing, ...],
        Several(
            "pieces to be glued on its panels",
            each="a decorative piece to be glued on each of some panels, [[piece.facing]]",
        ),
    ] = ()
    size: Annotated[
        Mapping[str, Any],
        Loose(
            "the style's size dimensions, and measure: inside, score or outside; "
            "with `holds`, those that are to keep a size of their own"
        ),
    ] = field(default_factory=dict)
    options: Annotated[
        Mapping[str, Any], Loose("the style's other dimensions, where not the default")
    ] = field(default_factory=dict)
    lettering: Annotated[
        tuple[Inscription, ...],
        Several(
            "lines of text on the panels", each="a line of text on a panel, [[piece.lettering]]"
        ),
    ] = ()


@frozen
class KitSource:
    """Where the rows of a kit are.

    Example:

        [kit]
        file = "guests.csv"
    """

    file: Annotated[
        Path, a_file("a CSV file, from where the job is; its first line names the columns")
    ]


@frozen(kw_only=True)
class BesideTheJob:
    """What the file has beside the fields of a Job.

    Example:

        title = "Winter market"
        units = "mm"
        profile = "drag-blade-340"
    """

    piece: Annotated[
        tuple[WrittenPiece, ...],
        Several(
            "what to make, a table [[piece]] for each kind of box",
            each="boxes of one style and size, [[piece]]",
            needed=True,
        ),
    ]
    title: Annotated[str | None, Text("a line for the reports; the file's name by default")] = None
    unit: Annotated[Unit, Key("units"), Word("what a bare number means, mm or in", UNITS)] = "mm"
    kit: Annotated[
        KitSource | None,
        Inner("kit.file names a CSV file: a set of pieces a row, {COLUMN} in them is its cell"),
    ] = None


def job_fields() -> tuple[Declared, ...]:
    """The tables and keys of a job file."""
    known = {field.key: field for field in (*declared(BesideTheJob), *declared(Job))}
    order = ("title", "units", "profile", "print", "kit", "sheets", "limits", "stock", "piece")
    return tuple(known[key] for key in order)
