"""The page of a kit: the order of work, and for each sheet a list to tick."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from cutlayers.guide import kit_words, words
from cutlayers.guide.model import Guide, KitGuide, KitSheetGuide
from cutlayers.guide.page.contents import KitWork, Table, TickLine, TickList
from cutlayers.guide.page.pictures import set_in


def kit_work(guide: Guide, kit: KitGuide) -> KitWork:
    """The kit from the first sheet to the last."""
    lists = tuple(_list(sheet, kit) for sheet in kit.sheets)
    notes = tuple(kit_words.merged(name, sizes) for name, sizes in kit.merged)
    return KitWork(_sheets(kit), notes, tuple(_steps(guide, kit)), lists)


def _sheets(kit: KitGuide) -> Table:
    """What is cut from which card."""
    rows = []
    for stock in dict.fromkeys(sheet.stock for sheet in kit.sheets):
        mine = [sheet for sheet in kit.sheets if sheet.stock == stock]
        pieces = Counter(piece.name for sheet in mine for piece in sheet.pieces)
        rows.append(
            (
                stock,
                str(len(mine)),
                kit_words.numbers([sheet.number for sheet in mine]),
                kit_words.pieces_listed(list(pieces.items())),
                words.minutes(sum(sheet.minutes for sheet in mine)),
            )
        )
    return Table(kit_words.SHEETS_COLUMNS, tuple(rows), numbers=(1,))


def _steps(guide: Guide, kit: KitGuide) -> Iterator[str]:
    yield kit_words.SET_UP
    if kit.printed:
        yield kit_words.PRINT
    if kit.backs:
        yield kit_words.BACKS
    if kit.coupon:
        yield kit_words.COUPON
    yield kit_words.CUT_SHEETS
    if guide.by_hand:
        yield kit_words.BY_HAND
    if any(piece.others for sheet in kit.sheets for piece in sheet.pieces):
        yield kit_words.GATHER
    yield kit_words.FOLD


def _list(sheet: KitSheetGuide, kit: KitGuide) -> TickList:
    gathered = any(piece.others for each in kit.sheets for piece in each.pieces)
    lines = []
    for piece in sheet.pieces:
        cells = [str(piece.position), piece.row, piece.name]
        if gathered:
            cells.append(kit_words.rest_on(piece.others))
        ticks = (
            kit_words.tick_name(kit_words.CUT, piece.position, sheet.number),
            kit_words.tick_name(kit_words.FOLDED, piece.position, sheet.number),
        )
        lines.append(TickLine(tuple(cells), ticks))
    head = [kit_words.NUMBER, ", ".join(kit.columns), kit_words.PIECE]
    counts = Counter(piece.name for piece in sheet.pieces)
    described = replace(
        sheet.plan,
        title=kit_words.plan_title(sheet.number),
        description=kit_words.plan_description(len(sheet.pieces)),
    )
    return TickList(
        kit_words.sheet_heading(sheet.number, len(kit.sheets), sheet.stock),
        kit_words.sheet_line(sheet.files, list(counts.items()), words.minutes(sheet.minutes)),
        tuple([*head, kit_words.REST] if gathered else head),
        tuple(lines),
        set_in("plan", described, f"plan-{sheet.number}"),
    )
