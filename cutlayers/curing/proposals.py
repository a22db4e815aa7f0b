"""Edits of the job that may cure a finding, made from its facts; nobody has tried them yet.

What is short of its limit says by how much to move a dimension, a small table says which
dimensions are likely to help, and after those every other length that the style lets a person
choose is moved by as much. New lengths are rounded to half a millimetre, or to a sixteenth in a
job in inches, always beyond what is asked.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.job.order import GrainWay, Order
from cutlayers.telling.findings import Cure, Edit, Finding
from cutlayers.telling.lengths import MM_PER, Unit
from cutlayers.telling.quantities import length
from cutlayers.telling.written import write_place

GRID: Mapping[Unit, float] = {"mm": 0.5, "in": MM_PER["in"] / 16}
"""mm; what new lengths are rounded to, as fine as a person measures."""

HOLED = ("layers", "hole-at-edge", "hole-covered")
HOLES = ("punch_inset", "punch")
"""Findings of a punched hole, and the options that say where it is and how large."""

HELPFUL: Mapping[str, tuple[str, ...]] = {
    "card-too-thick": ("tuck_depth", "tab"),
    "closure": (),
    "closure-angle": (),
    "collision": ("clearance", "slot_clearance", "tab", "tuck_depth", "dust_depth"),
    "flat-point": (),
    "tab-misses": ("tab", "lap"),
    "tab-overhangs": ("tab", "lap"),
    "tab-small": ("tab", "lap"),
    "flaps-meet": ("tuck_depth", "dust_depth", "side_flap_depth", "lap", "tab"),
    "lid-tight": ("clearance",),
    "lid-loose": ("clearance",),
    "lock-shallow": ("slit", "tongue_length", "lap"),
    "lock-tight": (),
    "bridge-thin": ("slit", "tongue_width", "body", "lap"),
    **dict.fromkeys(HOLED, HOLES),
}
"""Findings of a folded box, and the options that are likely to cure them."""

GRAIN_WAYS: Mapping[str, GrainWay] = {"grain": "along", "grain-of-tube": "across"}
"""Findings of the grain, and how the main folds are to run to it instead."""

FACTORS = (1, 2)
"""How often a shortfall is moved: once, or for both sides of the box."""

MARGINS = (0.75, 0.5, 0.25, 0.0)
"""Shares of a safe margin that are tried where it leaves art no room."""


@frozen
class JobPiece:
    """A piece of the job: its order, its place in the file counted from 0, and its table there."""

    order: Order
    index: int
    table: Mapping[str, Any]
    unit: Unit

    @property
    def style(self) -> Style | None:
        """The style that made its box."""
        origin = self.order.box.origin
        return None if origin is None else origin.style

    def value(self, name: str) -> Any:
        """A dimension of its box, lengths in mm; None where the style chose it."""
        origin = self.order.box.origin
        return None if origin is None else getattr(origin.dims, name)

    def option(self, name: str, millimetres: float | None) -> Cure:
        """One of the style's lengths to choose given another value, or left out."""
        value = None if millimetres is None else length(millimetres)
        return Cure((Edit(("piece", self.index, "options", name), value),))


def proposals(finding: Finding, piece: JobPiece, safe_margin: float | None) -> Iterator[Cure]:
    """Cures to be tried, in the order in which they are to be preferred: what is likely before
    what is not, and the smaller change first.

    `safe_margin` is the job's for art in mm, None where it is not known. Nothing for findings that
    no edit of a job can cure, or none that can be tried cheaply.
    """
    if finding.code in HELPFUL and _may_move(finding):
        yield from _moved(finding, piece)
    if finding.code in GRAIN_WAYS:
        yield _turned(str(finding.subject.net), GRAIN_WAYS[finding.code], piece)
    if finding.code == "lettering-reduced":
        yield from _lower_letters(finding, piece)
    if finding.code == "lettering-upside-down":
        yield from _upright(finding, piece)
    if finding.code == "art-without-room" and safe_margin is not None:
        for share in MARGINS:
            margin = _rounded(safe_margin * share, -1, piece.unit)
            yield Cure((Edit(("print", "safe_margin"), length(margin)),))


def _upright(finding: Finding, piece: JobPiece) -> Iterator[Cure]:
    """The lettering of a panel turned upright, each by itself and all of it."""
    net, panel = finding.subject.net, finding.subject.panel
    edits = [
        Edit(("piece", piece.index, "lettering", index, "turn"), "upright")
        for index, written in enumerate(piece.table.get("lettering", ()))
        if written["panel"] in (panel, f"{net}.{panel}") and "turn" in written
    ]
    yield from (Cure((edit,)) for edit in edits)
    if len(edits) > 1:
        yield Cure(tuple(edits))


def _turned(net: str, way: GrainWay, piece: JobPiece) -> Cure:
    """A blank turned to the grain: by a word where the box has no other, by its own word in a table
    where it has. One word for all becomes a table, and the others keep it."""
    place = ("piece", piece.index, "grain")
    blanks = [blank.name for blank in piece.order.box.wholes]
    if len(blanks) == 1:
        return Cure((Edit(place, way),))
    written = piece.table.get("grain")
    if not isinstance(written, str):
        return Cure((Edit((*place, net), way),))
    ways = {name: way if name == net else written for name in blanks}
    return Cure((Edit(place, None), *(Edit((*place, name), each) for name, each in ways.items())))


def _moved(finding: Finding, piece: JobPiece) -> Iterator[Cure]:
    """Options moved by what is wanting, one at a time; then those that the file gives left out,
    and at last a hole that a box can do without."""
    if piece.style is None:
        return
    likely = HELPFUL[finding.code]
    lengths = {
        name: dimension
        for name, (dimension, _) in piece.style.table.items()
        if dimension.group == "option" and dimension.is_length
    }
    for names in (
        [name for name in likely if name in lengths],
        [name for name in lengths if name not in likely],
    ):
        steps = [
            (abs(value - (piece.value(name) or 0.0)), name, value)
            for name in names
            for value in _values(finding, name, piece, likely=name in likely)
            if lengths[name].least <= value <= lengths[name].most
        ]
        for _, name, value in sorted(steps, key=lambda step: step[0]):
            yield piece.option(name, value)
    yield from (
        piece.option(name, None) for name in lengths if name in piece.table.get("options", {})
    )
    if finding.code in HOLED and "punch" in lengths and lengths["punch"].least == 0.0:
        yield piece.option("punch", 0.0)


def _values(finding: Finding, name: str, piece: JobPiece, *, likely: bool) -> Iterator[float]:
    """Other lengths for an option, in mm."""
    now = piece.value(name)
    if now is None:
        least = finding.allowed.least if finding.allowed else ()
        if likely and finding.code == "tab-small":
            yield _rounded(least[0].value, 1, piece.unit)
        return
    if now == 0.0 and not likely:
        return  # a feature that the box does not have
    seen = {now}
    for wanting in _wanting(finding):
        for factor in FACTORS:
            for way in (1, -1):
                value = _rounded(now + way * factor * wanting, way, piece.unit)
                if value >= 0 and value not in seen:
                    seen.add(value)
                    yield value


def _may_move(finding: Finding) -> bool:
    """Card too thick for a fold or a bend is so whatever the options; a narrow panel can grow."""
    return finding.code != "card-too-thick" or finding.detail("wanting") is not None


def _wanting(finding: Finding) -> tuple[float, ...]:
    """By how much, in mm: what lies between each measure and its limit, or the measure itself
    where nothing of it should be."""
    if (wanting := finding.detail("wanting")) is not None:
        return (wanting.value,)
    if (move := finding.detail("move")) is not None:
        return tuple(abs(each.value) for each in move if each.value)
    found = [each.value for each in finding.measured if each.kind == "length"]
    if finding.allowed is None or not found:
        return tuple(each for each in found if each > 0)
    least = [each.value - at for each, at in zip(finding.allowed.least, found, strict=False)]
    most = [at - each.value for each, at in zip(finding.allowed.most, found, strict=False)]
    return tuple(each for each in (*least, *most) if each > 0)


def _lower_letters(finding: Finding, piece: JobPiece) -> Iterator[Cure]:
    """The height that fits, written into the art that is spoken of."""
    assert finding.allowed is not None
    height = _rounded(finding.allowed.most[0].value, -1, piece.unit)
    place: tuple[str | int, ...] | None = _art_place(finding.subject.art, piece)
    if place is not None and height > 0:
        yield Cure((Edit((*place, "height"), length(height)),))


def _art_place(written: str | None, piece: JobPiece) -> tuple[str | int, ...] | None:
    """Where the art stands that a finding calls by its place."""
    here = ("piece", piece.index)
    places: list[tuple[str | int, ...]] = [
        (*here, "art", number) for number in range(len(piece.table.get("art", ())))
    ]
    for outer, facing in enumerate(piece.table.get("facing", ())):
        places += [(*here, "facing", outer, "art", n) for n in range(len(facing.get("art", ())))]
    return next((place for place in places if write_place(place) == written), None)


def _rounded(millimetres: float, way: int, unit: Unit) -> float:
    """The next length on the grid, upwards or downwards."""
    steps = millimetres / GRID[unit]
    whole = math.ceil(steps - 1e-6) if way > 0 else math.floor(steps + 1e-6)
    return round(whole * GRID[unit], 6)
