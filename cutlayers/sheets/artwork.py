"""All ink of one sheet: art on its pieces, register marks, and notes in the waste.

Ink bleeds past cut edges, never onto another panel with art and never onto another piece, and
ends where the printer's white border begins.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property

import shapely
from shapely.geometry.base import BaseGeometry

from cutlayers.artwork.ink import InkLayer, Item, Paint
from cutlayers.artwork.model import Art, FlatColour
from cutlayers.artwork.panel_ink import PanelInk, in_sight
from cutlayers.artwork.regions import Region, moved, outlines, share_out
from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import Area, as_area, common, together, without
from cutlayers.geometry.transforms import Transform
from cutlayers.job.order import PrintChoice
from cutlayers.profile.machine import Machine
from cutlayers.profile.output import PrintSettings
from cutlayers.sheets.model import Placed, Sheet
from cutlayers.sheets.notes import notes
from cutlayers.sheets.register import mark_ink
from cutlayers.sheets.waste import Waste
from cutlayers.telling.findings import Finding, Severity, Subject
from cutlayers.telling.quantities import area as square
from cutlayers.telling.quantities import length

NOTE_GAP = 1.0
"""mm between notes and anything else on the sheet."""

SEAM = 0.05
"""mm that a pattern runs under the same pattern on the next panel, so that the fold between them
shows no hairline of card."""

SPECK = 0.05
"""mm²; less than a printer's dot or two is not worth a finding."""


@frozen
class _PrintedPiece:
    """One placed piece with its art: regions in sheet coordinates, ink still on the net."""

    placed: Placed
    blank: Area
    regions: Mapping[str, Region]
    inks: tuple[tuple[Art, str, PanelInk], ...]


@frozen(slots=False)
class SheetInk:
    """A sheet's ink, to be printed through `onto_print`, which takes up the printer's own scale.

    Art is printed on `pieces` where `paper` may have it; `marks` and `notes` are items as they are.
    """

    pieces: tuple[_PrintedPiece, ...]
    paper: Area
    marks: tuple[Item, ...]
    notes: tuple[Item, ...]
    onto_print: Transform
    dpi: int

    @cached_property
    def layers(self) -> tuple[InkLayer, ...]:
        """The lowest first. Made for who prints; a check of a job asks for none of them."""
        art = tuple(item for piece in self.pieces for item in _items(piece, self.paper))
        return (
            InkLayer("art", "art", art),
            InkLayer("marks", "register marks", self.marks),
            InkLayer("notes", "check rules and names in the waste", self.notes),
        )


def print_settings(settings: PrintSettings, choice: PrintChoice) -> PrintSettings:
    """A profile's settings, with what the job says instead."""
    own = {
        key: value
        for key in ("bleed", "safe_margin", "dpi")
        if (value := getattr(choice, key)) is not None
    }
    return replace(settings, **own)


def print_correction(width: float, height: float, settings: PrintSettings) -> Transform:
    """The scale, about the middle of the sheet, that the printer's own scale undoes."""
    across, up = 100.0 / settings.rule_across, 100.0 / settings.rule_up
    return Transform(xx=across, dx=width / 2 * (1.0 - across), yy=up, dy=height / 2 * (1.0 - up))


def ink_sheet(
    sheet: Sheet, machine: Machine, choice: PrintChoice
) -> tuple[SheetInk, tuple[Finding, ...]]:
    """The ink of a sheet and what to know about it."""
    settings = print_settings(machine.printing, choice)
    correction = print_correction(sheet.width, sheet.height, settings)
    printable = _printable(sheet, settings, correction)
    findings: list[Finding] = []
    pieces = _printed_pieces(sheet, settings)
    blanks = [piece.blank for piece in pieces]
    kept_out = together(shapely.box(*mark.keep_out) for mark in sheet.marks)
    # Where bleed may lie: a mark with colour round it is hard to find, for a person and a machine.
    paper = as_area(without(printable, kept_out))
    shared = tuple(_shared(pieces, settings.bleed))
    for piece in shared:
        findings.extend(_beyond(piece, printable, paper, sheet))
    findings.extend(_lost_marks(sheet, printable))
    clear = settings.bleed + NOTE_GAP
    blocked = together([*(blank.buffer(clear) for blank in blanks), kept_out])
    waste = Waste(printable.bounds, blocked)
    names = [placed.piece.name for placed in sheet.placed]
    written = notes(waste, list(zip(names, blanks, strict=True)), sheet.number, clear)
    marks = mark_ink(sheet.marks, machine.register)
    return (
        SheetInk(shared, paper, marks, written.items, correction, settings.dpi),
        (*_grouped(findings), *written.findings),
    )


def _printed_pieces(sheet: Sheet, settings: PrintSettings) -> list[_PrintedPiece]:
    pieces = []
    for placed in sheet.placed:
        blank, place = placed.piece.blank, placed.place
        inked = blank.inked(placed.piece.art, settings.bleed, settings.safe_margin)
        here = {name: region.transformed(place) for name, region in inked.of_panels.items()}
        pieces.append(_PrintedPiece(placed, moved(blank.area, place), here, inked.inks))
    return pieces


def _shared(pieces: Sequence[_PrintedPiece], bleed: float) -> Iterator[_PrintedPiece]:
    """The same pieces, no bleed on another piece, and the waste between pieces divided."""
    tree = shapely.STRtree([piece.blank for piece in pieces])
    parts: list[tuple[Area, Area]] = []
    groups: list[int] = []
    for i, piece in enumerate(pieces):
        for region in piece.regions.values():
            spill: BaseGeometry = region.bleed
            for j in sorted(int(found) for found in tree.query(spill)):
                if j != i:
                    spill = without(spill, pieces[j].blank)
            parts.append((region.panel, as_area(spill)))
            groups.append(i)
    rest = iter(share_out(parts, bleed, groups) if parts else ())
    for piece in pieces:
        yield replace(
            piece,
            regions={
                name: Region(region.panel, next(rest)) for name, region in piece.regions.items()
            },
        )


def _items(piece: _PrintedPiece, paper: Area) -> Iterator[Item]:
    place = piece.placed.place
    flat: Art | None = None
    spread: dict[int, BaseGeometry] = {}
    for art, panel, ink in in_sight(piece.inks):
        if isinstance(art.source, FlatColour):
            # One area for all its panels: side by side they would show hairlines at the folds.
            if art is not flat:
                panels = [name for other, name, _ in in_sight(piece.inks) if other is art]
                whole = together(piece.regions[name].whole for name in panels)
                area = as_area(common(whole, paper))
                yield Paint(outlines(area), fill=art.source.colour, even_odd=True)
            flat = art
            continue
        room = piece.regions[panel].whole
        if art.spreads:
            if id(art) not in spread:
                mates = (piece.regions[name].whole for other, name, _ in piece.inks if other is art)
                spread[id(art)] = together(mates)
            room = as_area(common(room.buffer(SEAM), spread[id(art)]))
        clip = outlines(as_area(common(room, paper)))
        if clip:  # none where no part of the panel can be printed, which a finding tells
            for item in ink.items:
                yield replace(item.transformed(place), clip=clip)


def _printable(sheet: Sheet, settings: PrintSettings, correction: Transform) -> Area:
    """What the printer reaches, in the sheet's own coordinates."""
    margin = settings.margin
    reach = shapely.box(margin, margin, sheet.width - margin, sheet.height - margin)
    return moved(reach, correction.inverse())


def _beyond(piece: _PrintedPiece, printable: Area, paper: Area, sheet: Sheet) -> Iterator[Finding]:
    """Art or bleed that the printer cannot print.

    Measured: art-beyond-print: how far the art of a panel lies within the border that the printer
    leaves white (`margin` under [print] in the profile). bleed-trimmed: the area of bleed, the ink
    beyond the outline, that is lost to that border or to a register mark.

    Why: what lies in the white border is missing on the box. Without bleed, a cut that lands a
    little outside of the panel shows a white line of bare card.

    Cure: use a larger sheet or put fewer pieces on it, so that they lie farther in. If your printer
    reaches farther than the profile says, lower `margin` under [print] there. A trimmed bleed needs
    no cure where print and cut meet well.

    Source: common practice, no source.
    """
    name = piece.placed.piece.name
    for art, panel, ink in piece.inks:
        region = piece.regions[panel]
        wanted = region.panel if art.spreads else moved(ink.area, piece.placed.place)
        lost = without(wanted, printable)
        if lost.area > SPECK:
            yield Finding(
                "art-beyond-print",
                Severity.WARNING,
                Subject(sheet=sheet.number, piece=name, panel=panel),
                (length(_reach(lost, printable)),),
            )
        elif art.spreads and (short := without(region.bleed, paper)).area > SPECK:
            yield Finding(
                "bleed-trimmed",
                Severity.NOTE,
                Subject(sheet=sheet.number, piece=name, panel=panel),
                (square(short.area),),
            )


def _reach(lost: BaseGeometry, printable: Area) -> float:
    """How far an area lies outside, in mm."""
    left, bottom, right, top = lost.bounds
    low_x, low_y, high_x, high_y = printable.bounds
    return max(low_x - left, low_y - bottom, right - high_x, top - high_y)


def _lost_marks(sheet: Sheet, printable: Area) -> Iterator[Finding]:
    """Register marks that the printer cannot print whole.

    Measured: how far a register mark reaches into the border that the printer leaves white.

    Why: marks that are printed in part are found in the wrong place, or not at all, and then every
    cut of the sheet misses its print.

    Cure: raise `from_edge` under [register] in the profile, or lower `margin` under [print] if your
    printer reaches farther.

    Source: plain measuring, no source.
    """
    low_x, low_y, high_x, high_y = printable.bounds
    for number, mark in enumerate(sheet.marks, start=1):
        for path in mark.paths:
            left, bottom, right, top = path.bounds
            out = max(low_x - left, low_y - bottom, right - high_x, top - high_y)
            if out > 0:
                subject = Subject(sheet=sheet.number, mark=number)
                yield Finding("mark-beyond-print", Severity.ERROR, subject, (length(out),))
                break


def _grouped(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Each finding once, where many pieces alike give the same."""
    return tuple(dict.fromkeys(findings))
