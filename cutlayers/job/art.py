"""From a job file's art tables to art: panels looked up, picture files read and checked.

Pictures are read and checked here, once, while the job is read; what leaves are plain values.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from cutlayers.artwork.model import (
    LARGEST_MEGABYTES,
    Art,
    FlatColour,
    Lettering,
    Pattern,
    Picture,
    Source,
    Spot,
)
from cutlayers.box import Box
from cutlayers.frozen import frozen
from cutlayers.job.written_art import (
    ALL,
    DEFAULT_INK,
    DEFAULT_REPEAT,
    WrittenArt,
    WrittenFacing,
    WrittenPanels,
    WrittenSource,
)
from cutlayers.net import Net, Role
from cutlayers.reading import values
from cutlayers.reading.user_files import absent, read_user_file
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.errors import StyleError
from cutlayers.telling.nearest import nearest
from cutlayers.telling.refusals import Place, Refusal
from cutlayers.telling.refusing import found_clause
from cutlayers.telling.written import shown, write_place

if TYPE_CHECKING:  # a job without facings need not load areas
    from cutlayers.box.facing import Facing


@frozen
class PieceArt:
    """What one piece's art tables come to."""

    art: tuple[Art, ...]
    facings: tuple[Facing, ...]
    problems: tuple[Refusal, ...]


def read_piece_art(
    arts: Sequence[WrittenArt],
    facings: Sequence[WrittenFacing],
    box: Box,
    stocks: Mapping[str, object],
    folder: Path,
    place: Place,
) -> PieceArt:
    """Art and facing pieces of one box, with every picture read from `folder`.

    `place` is the piece's in the job file.
    """
    problems: list[Refusal] = []
    found: list[Art] = []
    made: list[Facing] = []
    for i, table in enumerate(arts):
        where = (*place, "art", i)
        try:
            spots = _spots(table, box.nets, where)
            found.append(_art(table, spots, folder, where))
        except _Refused as refused:
            problems.append(refused.problem)
    for i, facing in enumerate(facings):
        where = (*place, "facing", i)
        try:
            made.extend(_facings(facing, box, stocks, folder, where))
        except _Refused as refused:
            problems.append(refused.problem)
    return PieceArt(tuple(found), tuple(made), tuple(problems))


class _Refused(Exception):  # noqa: N818 - carries a problem from where it is seen to where they gather
    def __init__(self, place: Place, refused: Refusal | str) -> None:
        super().__init__(refused)
        refusal = Refusal(reason=refused) if isinstance(refused, str) else refused
        self.problem = refusal.under(*place)


def _spots(table: WrittenPanels, nets: Sequence[Net], place: Place) -> tuple[Spot, ...]:
    """The panels meant, net by net in the nets' own order. "all" leaves out the glue tabs, which
    are never seen and where glue wants bare card."""
    if table.net is not None:
        try:
            values.read_choice(table.net, [net.name for net in nets])
        except ValueRefused as error:
            raise _Refused((*place, "net"), error.refusal) from None
        nets = [net for net in nets if net.name == table.net]
    if not table.panels and not table.roles:
        raise _Refused((*place, "panels"), f"is missing; there are {_listed(nets)}, or give roles")
    known = {panel.name for net in nets for panel in net.panels}
    for name in table.panels:
        if name not in known:
            raise _Refused(
                (*place, "panels"),
                Refusal(
                    reason=f"names {shown(name)}",
                    fault="value",
                    found=name,
                    allowed=tuple(_names(nets)),
                    nearest=nearest(name, known),
                ),
            )
    spots = tuple(
        Spot(net.name, panel.name)
        for net in nets
        for panel in net.panels
        if panel.name in table.panels
        or panel.role.value in table.roles
        or (ALL in table.roles and panel.role is not Role.GLUE_TAB)
    )
    if not spots:
        there = sorted({panel.role.value for net in nets for panel in net.panels})
        raise _Refused(
            (*place, "roles"), f"fits no panel; there are panels of the roles {', '.join(there)}"
        )
    return spots


def _listed(nets: Iterable[Net]) -> str:
    return ", ".join(_names(nets))


def _names(nets: Iterable[Net]) -> list[str]:
    return list(dict.fromkeys(panel.name for net in nets for panel in net.panels))


def _art(table: WrittenSource, spots: tuple[Spot, ...], folder: Path, place: Place) -> Art:
    source = _source(table, folder, place)
    return Art(source, spots, write_place(place), table.rotation or 0.0, table.at or "middle")


SOURCES = ("file", "colour", "pattern", "lettering")
_GO_WITH = {
    "fit": ("file",),
    "repeat": ("file", "pattern"),
    "height": ("lettering",),
    "ink": ("pattern", "lettering"),
    "ground": ("pattern",),
    "rotation": ("file", "pattern", "lettering"),
    "at": ("file", "lettering"),
}
"""Keys that only some sources heed; beside another they would do nothing, so they are refused."""


def _source(table: WrittenSource, folder: Path, place: Place) -> Source:
    given = [key for key in SOURCES if getattr(table, key) is not None]
    if len(given) != 1:
        have = f"has {' and '.join(given)}" if given else "is missing what to print"
        raise _Refused(place, f"{have}; give one of {', '.join(SOURCES)}")
    (kind,) = given
    for key, kinds in _GO_WITH.items():
        if getattr(table, key) is not None and kind not in kinds:
            raise _Refused((*place, key), f"goes with {' or '.join(kinds)}, not with {kind}")
    if table.colour is not None:
        return FlatColour(table.colour)
    if table.pattern is not None:
        repeat = table.repeat or DEFAULT_REPEAT
        return Pattern(table.pattern, repeat, table.ink or DEFAULT_INK, table.ground)
    if table.lettering is not None:
        return Lettering(table.lettering, table.height, table.ink or DEFAULT_INK)
    return _picture(table, folder, place)


def _picture(table: WrittenSource, folder: Path, place: Place) -> Picture:
    from cutlayers.artwork.pictures import read_picture  # a job without pictures needs none of it

    assert table.file is not None
    name, fit = table.file.as_posix(), table.fit or "contain"
    if (table.repeat is not None) != (fit == "tile"):
        known = "is missing; a tile needs its width" if fit == "tile" else 'goes with fit = "tile"'
        raise _Refused((*place, "repeat"), known)
    if table.at is not None and fit != "contain":
        raise _Refused((*place, "at"), 'goes with fit = "contain"')
    where = (*place, "file")
    try:
        content = _content(folder / table.file)
    except ValueRefused as refused:
        reason = f"is {shown(name)}, which {found_clause(refused.refusal)}"
        raise _Refused(where, replace(refused.refusal, reason=reason, found=name)) from None
    try:
        return read_picture(content, name, fit, table.repeat)
    except ValueRefused as refused:
        inside = Refusal(fault="unreadable", found=name, inside=refused.refusal)
        raise _Refused(where, inside) from None


def _content(path: Path) -> bytes:
    """A whole file. Raises ValueRefused."""
    try:
        content = read_user_file(path, LARGEST_MEGABYTES)
    except ValueRefused as refused:
        if refused.refusal.fault != "absent":
            raise
        raise absent(path, "is not there, seen from the job's folder") from None
    if not content:
        raise ValueRefused("is empty", fault="unreadable")
    return content


def _facings(
    table: WrittenFacing,
    box: Box,
    stocks: Mapping[str, object],
    folder: Path,
    place: Place,
) -> list[Facing]:
    from cutlayers.box.facing import Facing, facing_blank

    try:
        values.read_choice(table.stock, sorted(stocks))
    except ValueRefused as error:
        raise _Refused((*place, "stock"), error.refusal) from None
    made = []
    for spot in _spots(table, box.nets, place):
        try:
            blank = facing_blank(box.blank(spot.net), spot.panel, table.border)
        except StyleError as error:
            raise _Refused(place, error.refusal) from None
        own = (Spot(blank.name, blank.net.root.name),)
        art = tuple(
            _art(source, own, folder, (*place, "art", i)) for i, source in enumerate(table.art)
        )
        made.append(Facing(blank, spot, table.stock, art))
    return made
