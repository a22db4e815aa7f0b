"""A box that is made from a drawing, as a piece of a job asks for it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from cutlayers.box import Box
from cutlayers.bringing.rules import FromDrawing
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import LARGEST
from cutlayers.frozen import frozen
from cutlayers.net import Net
from cutlayers.net.folding import fold
from cutlayers.reading.values import ValueRefused, read_length
from cutlayers.telling.lengths import Unit
from cutlayers.telling.nearest import nearest

if TYPE_CHECKING:  # few jobs have drawings, and reading one loads what draws
    from cutlayers.bringing.understanding import Understood

SIZES = ("length", "width", "height")
SMALLEST = 1.0
"""mm; a smaller size is a slip of the unit."""


@frozen
class Brought:
    """What was understood of the drawing that a box comes from.

    `angles` are those of the folds, "panel 1 | panel 2", by their nets: in degrees, a mountain
    above 0, None where nobody said it. A net with such a fold is left flat; so is one whose panels
    bend along folds, which are in `bent`. `guessed` are folds whose angle nothing tested.
    """

    understood: Understood
    angles: Mapping[str, Mapping[str, float | None]]
    bent: Mapping[str, tuple[str, ...]]
    guessed: Mapping[str, tuple[str, ...]]

    @property
    def unknown(self) -> Mapping[str, tuple[str, ...]]:
        """The folds whose angle nobody said, by their nets; not of a net that bends."""
        found = {
            net: tuple(fold for fold, angle in folds.items() if angle is None)
            for net, folds in self.angles.items()
            if net not in self.bent
        }
        return {net: folds for net, folds in found.items() if folds}


def box_of_drawing(
    drawing: Path,
    piece: FromDrawing,
    size: Mapping[str, object],
    card: Card,
    unit: Unit,
) -> tuple[Box, Brought]:
    """The box that a drawing holds, folded as the piece says and stretched to `size`.

    Raises ValueRefused, its place within the piece.
    """
    from cutlayers.bringing.bends import bends, left_flat
    from cutlayers.bringing.folded import folded_at
    from cutlayers.bringing.understanding import fold_name, understand

    understood = understand(drawing, piece.asked)
    _refuse_unknown(understood, piece.folds)
    lengths = _lengths(size, unit)
    nets: list[Net] = []
    by_fold: dict[str, Mapping[str, float | None]] = {}
    bent: dict[str, tuple[str, ...]] = {}
    guessed: dict[str, tuple[str, ...]] = {}
    for flat, count in understood.nets:
        names = [fold_name(hinge) for hinge in flat.net.hinges]
        angles = [
            piece.folds[name].deg
            if name in piece.folds
            else (given if isinstance(given, float) else None)
            for name, given in zip(names, flat.given, strict=True)
        ]
        by_fold[flat.net.name] = _by_fold(names, angles)
        if unsure := [name for name in names if name in piece.folds and piece.folds[name].guessed]:
            guessed[flat.net.name] = tuple(dict.fromkeys(unsure))
        known = [angle for angle in angles if angle is not None]
        curved = tuple(dict.fromkeys(map(fold_name, bends(flat.net))))
        whole = len(known) == len(angles) and not curved
        net = folded_at(flat.net, known) if whole else flat.net
        if lengths:
            net = _stretched(net, lengths, len(understood.nets))
        if curved:
            bent[flat.net.name] = curved
            net = left_flat(net)
        copies = count // understood.boxes
        nets += [net, *(replace(net, name=f"{net.name} ({i})") for i in range(2, copies + 1))]
    return Box.of(_side_by_side(nets), card), Brought(understood, by_fold, bent, guessed)


def drawn_sizes(box: Box) -> Mapping[str, float]:
    """Length, width and height in mm, between creases, of a box that a drawing holds; none where it
    is several nets, or does not fold up."""
    if len(box.wholes) != 1 or not box.foldable:
        return {}
    from cutlayers.bringing.stretching import sizes_of

    return sizes_of(box.wholes[0].folded())


def _by_fold(names: Iterable[str], angles: Iterable[float | None]) -> Mapping[str, float | None]:
    """A fold that a slit or a hole parts is several hinges; it is known where all of them are."""
    found: dict[str, float | None] = {}
    for name, angle in zip(names, angles, strict=True):
        found[name] = None if angle is None else found.get(name, angle)
    return found


def _refuse_unknown(understood: Understood, folds: Iterable[str]) -> None:
    from cutlayers.bringing.understanding import fold_name

    known = [fold_name(hinge) for flat, _ in understood.nets for hinge in flat.net.hinges]
    for name in folds:
        if name not in known:
            refused = ValueRefused(fault="unknown", nearest=nearest(name, known))
            refused.refusal = replace(refused.refusal, allowed=tuple(known)).under("folds", name)
            raise refused


def _lengths(size: Mapping[str, object], unit: Unit) -> dict[str, float]:
    found: dict[str, float] = {}
    for name, value in size.items():
        try:
            if name not in SIZES:
                raise ValueRefused(fault="unknown", allowed=SIZES, nearest=nearest(name, SIZES))
            found[name] = read_length(value, unit, SMALLEST, LARGEST)
        except ValueRefused as refused:
            refused.refusal = refused.refusal.under("size", name)
            raise
    return found


def _stretched(net: Net, lengths: Mapping[str, float], nets: int) -> Net:
    from cutlayers.bringing.stretching import stretched

    if nets > 1:
        raise ValueRefused("holds several nets, of which size cannot tell which one it means")
    try:
        return stretched(net, lengths)
    except ValueRefused as refused:
        refused.refusal = refused.refusal.under("size")
        raise


def _side_by_side(nets: list[Net]) -> Iterator[Net]:
    """Nets that are not parts of one box to anybody's knowledge stand beside each other."""
    x = 0.0
    for net in nets:
        if net.stand is None or len(nets) == 1:
            yield net
            continue
        (left, low, _), (right, high, _) = fold(net).bounds
        reach = max(right - left, high - low)
        yield replace(net, stand=replace(net.stand, at=(x + reach / 2, 0.0)))
        x += 1.5 * reach
