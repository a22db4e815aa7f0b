"""Words of the work by hand: trimming, scoring and cutting a blank with a ruler."""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.geometry.strokes import Fold
from cutlayers.guide.by_hand import CardFace, Curve, Edge, Join, Position, Turn
from cutlayers.guide.words import counted, marked

BOARD = (
    "Use a board with a stop on the left and a fence along the top. Distances are from the left "
    "stop; where a line does not run through, the second figures are from the fence down. Score "
    "with a blunt tool, twice lightly rather than once hard."
)
TRIM_FIRST = "Trim the card to {width} × {height} (width × height), corners square."
STEP, DISTANCE, FROM_TO, WHAT = "step", "from the stop", "from the fence", "what"
THROUGH = "all the way"
POINTS = "Points"
POINTS_NOTE = (
    "Mark these points lightly, or prick them through with a pin, so that they show on both "
    "faces. Distances are from the left and the top edge of the blank, as drawn."
)
POINT, LEFT_EDGE, TOP_EDGE = "point", "from left", "from top"
CUTTING = "Cut"
PERFORATING = "Perforate"
DOWN = "straight down"
ACROSS = "straight across"
AT_LEFT, AT_TOP, SPAN_TOP, SPAN_LEFT = (
    "from left",
    "from top",
    "line, from top",
    "line, from left",
)
CUT_NOTE = (
    "Blank as drawn, outside up, on a mat; cut along a steel ruler. The hatched parts fall off."
)
PERFORATE_NOTE = "Blank as drawn, outside up, with a toothed wheel along a ruler."
SLANTED = "between points"
HOLES_NOTE = (
    "Only mark the middle of every hole now: the assembly says when it is punched, some of them "
    "through several layers at once."
)
HOLES = "Mark holes"
HOLE_COLUMNS = ("hole on", "across", "from left", "from top")

EDGES = {Edge.LEFT: "left", Edge.TOP: "top", Edge.RIGHT: "right", Edge.BOTTOM: "bottom"}


def position_sentence(turn: Turn, position: Position) -> str:
    """How to lay the blank for a step."""
    start = {
        Turn.LAY: f"Lay the blank with its {position.face.value} up",
        Turn.QUARTER_LEFT: "Turn it a quarter to the left",
        Turn.QUARTER_RIGHT: "Turn it a quarter to the right",
        Turn.OVER: f"Turn it over, head over heels, so that its {position.face.value} is up",
        Turn.OVER_AND_QUARTER: (
            f"Turn it over and a quarter round, so that its {position.face.value} is up"
        ),
    }[turn]
    stop, fence = EDGES[position.at_stop], EDGES[position.at_fence]
    return f"{start}: {stop} edge at the stop, {fence} edge at the fence."


def score_heading(face: CardFace, fold: Fold) -> str:
    """What a step scores."""
    way = "fold away from the outside" if fold is Fold.MOUNTAIN else "fold towards the outside"
    return f"Score on the {face.value}; these {way}"


def fold_names(names: Sequence[str]) -> str:
    """Folds named by the panels that they part."""
    return ", ".join(name.replace(" | ", " – ") for name in names)


def join_sentence(joins: Sequence[Join], rises: Sequence[str]) -> str:
    """Lines between points, alike ones together."""
    straight = [f"{j.start}–{j.end}" for j in joins if j.curve is Curve.STRAIGHT]
    parts = [f"straight {', '.join(straight)}"] if straight else []
    for curve in (Curve.QUARTER, Curve.HALF, Curve.ARC):
        mine = [(j, r) for j, r in zip(joins, rises, strict=True) if j.curve is curve]
        if mine:
            which = ", ".join(
                f"{j.start}–{j.end} ({_bulging(j)}{f' by {r}' if curve is Curve.ARC else ''})"
                for j, r in mine
            )
            name = {
                Curve.QUARTER: "quarter circles",
                Curve.HALF: "half circles",
                Curve.ARC: "arcs",
            }[curve]
            parts.append(f"{name} {which}")
    return "; ".join(parts) + "."


def _bulging(join: Join) -> str:
    return f"bulging towards the {EDGES[join.towards]} edge" if join.towards else ""


def relief(holes: int, across: str, stops: int, short: str) -> str:
    """What keeps thick card from tearing; nothing where there is nothing to do."""
    parts = []
    if holes:
        parts.append(
            f"before you cut, punch {counted(holes, 'hole', 'holes')} about {across} wide where "
            "cuts end or creases meet in a point"
        )
    if stops:
        corners = counted(stops, "inner corner", "inner corners")
        parts.append(f"stop scores about {short} short of {corners} of cuts")
    return f"So that card this thick does not tear: {', and '.join(parts)}." if parts else ""


def adjusted(what: str, panels: Sequence[str], net: str, nearest: str, taken: str) -> str:
    """A size that was not rounded to the nearest."""
    return (
        f"{net}: {marked(panels)} {'are' if len(panels) > 1 else 'is'} {taken} {what}, not the "
        f"nearest {nearest}."
    )


def because(reasons: Sequence[str]) -> str:
    """Why sizes were not rounded to the nearest."""
    return f"Rounded to the nearest, this would be wrong: {'; '.join(reasons)}. So:"


def still(faults: Sequence[str]) -> str:
    """Faults that are left."""
    return (
        f"None of the roundings that were tried is free of this: {'; '.join(faults)}. A finer "
        "ruler may help."
    )


def and_more(fault: str, more: int) -> str:
    """A fault with others of its kind."""
    return f"{fault} (and {more} more of the kind)" if more else fault


FAR = "More than a division off, since equal sizes stay equal and halves halves: "
WIDE_WORD, HIGH_WORD = "wide", "high"
