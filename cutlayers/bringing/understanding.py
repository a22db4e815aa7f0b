"""A drawing understood: how large it is, which line is what, what was mended, which nets it holds.

    file ─▶ lines ─▶ mm ─▶ what each is for ─▶ cleaned ─▶ nets, each counted

Nothing is guessed in silence: the scale and each kind come with what speaks for them, and what a
user says comes first.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from cutlayers.bringing.alike import alike
from cutlayers.bringing.cleaning import Cleaned, clean
from cutlayers.bringing.files import LARGEST_MB, drawing_of
from cutlayers.bringing.kinds import meant
from cutlayers.bringing.lines import Drawing, Meant, Scale, turned_over
from cutlayers.bringing.panels import FlatNet, flat_nets
from cutlayers.bringing.rules import Asked, Shows
from cutlayers.bringing.scale import of_line, of_unit, scaled
from cutlayers.bringing.stroke_outlines import middles
from cutlayers.frozen import frozen
from cutlayers.geometry.segments import union_bounds
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge
from cutlayers.reading.user_files import read_user_file
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.errors import DrawingError, NetError
from cutlayers.telling.refusals import Span

SMALLEST = 4.0
"""mm²; a smaller piece is a scrap between lines that miss each other. No source."""

FARTHEST = 100_000.0
"""mm; a hundred times the largest sheets. What lies farther apart is in another unit, or a slip."""

MOST_PANELS = 2000
"""Ten times those of the largest style; more are a hatch or a map."""

KEPT = 32
"""Drawings kept understood: a page reads its job again after each change."""


@frozen
class Understood:
    """What a drawing holds, in mm.

    `nets` are its different nets, each with how often it is there; no two of their panels have one
    name.
    """

    drawing: Drawing
    scale: Scale
    meant: tuple[Meant, ...]
    cleaned: Cleaned
    nets: tuple[tuple[FlatNet, int], ...]
    shows: Shows | None = None
    """The side of the card that the drawing is said to show; an inside is turned over here."""
    scraps: int = 0
    """Pieces too small for anything, left out."""
    strokes: int = 0
    """Outlines of strokes, in whose place lines along their middles stand."""

    @property
    def boxes(self) -> int:
        """How many boxes the drawing holds, if each takes as many of every net as all others do."""
        return math.gcd(*(count for _, count in self.nets))


def understand(path: Path, asked: Asked) -> Understood:
    """Read a drawing and make nets of its lines.

    Raises ValueRefused, placed within the piece of a job, where it cannot be read, does not say
    how large it is, or no lines of it bound a panel.
    """
    try:
        content = read_user_file(path, LARGEST_MB)
        return _understood(content, asked)
    except ValueRefused as refused:
        if not refused.refusal.place:
            refused.refusal = refused.refusal.under("drawing")
        raise


def understood_of(drawing: Path, asked: Asked) -> Understood:
    """The same for a file by itself. Raises DrawingError."""
    try:
        return understand(drawing, asked)
    except ValueRefused as refused:
        raise DrawingError(refused.refusal.within(str(drawing))) from None


@lru_cache(KEPT)
def _understood(content: bytes, asked: Asked) -> Understood:
    drawing = drawing_of(content)
    scale = _scale(drawing, asked)
    drawing = scaled(drawing, scale)
    _refuse_far_apart(drawing)
    drawing, strokes = middles(drawing)
    try:
        kinds = meant(drawing, asked.lines, asked.join)
        if asked.shows == "inside":
            drawing, kinds = turned_over(drawing, kinds)
        cleaned = clean(kinds, asked.join, asked.ends)
        nets = flat_nets(cleaned.edges, drawing.texts)
    except NetError as error:
        raise ValueRefused(f"holds no box: {error}") from None
    whole = [flat for flat in nets if _area(flat.net) >= SMALLEST]
    if not whole:
        raise ValueRefused("has no outline that closes, so there is no panel in it")
    panels = sum(len(flat.net.panels) for flat in whole)
    if panels > MOST_PANELS:
        raise ValueRefused(
            f"holds {panels:,} panels",
            fault="unreadable",
            allowed=Span(most=MOST_PANELS, whole=True),
            advice="bring the lines of one box at a time",
        )
    named = _named_apart(alike(whole))
    scraps = len(nets) - len(whole)
    return Understood(drawing, scale, kinds, cleaned, named, asked.shows, scraps, strokes)


def _refuse_far_apart(drawing: Drawing) -> None:
    """Raises ValueRefused for lines that lie farther apart than those of a net do."""
    left, bottom, right, top = union_bounds(line.path.bounds for line in drawing.lines)
    across = max(right - left, top - bottom)
    if across > FARTHEST:
        raise ValueRefused(
            f"is {across / 1000:,.0f} m across",
            fault="unreadable",
            allowed=f"at most {FARTHEST / 1000:g} m",
            advice="say another unit or scale, or take out the line that lies far off",
        )


def _area(net: Net) -> float:
    return sum(panel.outline.area for panel in net.panels)


def _scale(drawing: Drawing, asked: Asked) -> Scale:
    """What the user says, or else the file. Raises ValueRefused where neither does."""
    said = [name for name in ("unit", "scale", "known") if getattr(asked, name) is not None]
    if len(said) > 1:
        raise _at(said[1], ValueRefused(f"says the same as {said[0]}; leave one of them out"))
    if asked.unit is not None:
        return of_unit(asked.unit)
    if asked.scale is not None:
        return Scale(asked.scale, f"said to have units of {asked.scale:g} mm")
    if asked.known is not None:
        try:
            return of_line(drawing, asked.known.line, asked.known.length)
        except ValueRefused as refused:
            raise _at("known", _at("line", refused)) from None
    if drawing.scale is None:
        ways = "; ".join(each.reason for each in drawing.candidates)
        raise ValueRefused(
            "does not say how long its unit is", advice=f"write unit, scale or known: {ways}"
        )
    return drawing.scale


def _at(key: str, refused: ValueRefused) -> ValueRefused:
    refused.refusal = refused.refusal.under(key)
    return refused


def _named_apart(nets: tuple[tuple[FlatNet, int], ...]) -> tuple[tuple[FlatNet, int], ...]:
    """The nets by numbers, and their panels too; those that the drawing names keep their names."""
    taken: set[str] = set()
    found = []
    for number, (flat, count) in enumerate(nets, start=1):
        names = {}
        for panel in flat.net.panels:
            names[panel.name] = _free(panel.name, taken)
            taken.add(names[panel.name])
        net = _renamed(flat.net, "box" if len(nets) == 1 else f"net {number}", names)
        found.append((replace(flat, net=net), count))
    return tuple(found)


def _free(name: str, taken: set[str]) -> str:
    stem, number = name, 2
    if name.startswith("panel ") and name[6:].isdigit():
        stem, number = "panel", 1
    while name in taken:
        name, number = f"{stem} {number}", number + 1
    return name


def _renamed(net: Net, name: str, panels: dict[str, str]) -> Net:
    return replace(
        net,
        name=name,
        panels=tuple(replace(panel, name=panels[panel.name]) for panel in net.panels),
        hinges=tuple(
            replace(hinge, first=panels[hinge.first], second=panels[hinge.second])
            for hinge in net.hinges
        ),
    )


def fold_name(hinge: Hinge) -> str:
    """What a fold is called in a job."""
    return f"{hinge.first} | {hinge.second}"
