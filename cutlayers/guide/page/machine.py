"""The machine's part of the page: what to load for each stock, then how long each sheet takes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Sequence

from cutlayers.guide import words
from cutlayers.guide.model import MachineCard
from cutlayers.guide.page.amounts import bought_length, size_text
from cutlayers.guide.page.contents import LoadedStock, MachineWork, Table
from cutlayers.profile.setup_sheet import SetupSheet, said_by_all
from cutlayers.report.report import SheetRow
from cutlayers.telling.lengths import Unit
from cutlayers.telling.saying import listed


def machine_work(card: MachineCard, unit: Unit, *, each: bool = True) -> MachineWork:
    """The setup sheet and the times, those of `each` sheet or of all together."""
    shared = said_by_all(card.cards)
    total = sum((sheet.minutes or 0.0) * sheet.copies for sheet in card.sheets)
    return MachineWork(
        tuple(_loaded(each, shared) for each in card.cards),
        tuple(line for line in card.cards[0].driving if line in shared) if card.cards else (),
        _times(card, unit) if each else None,
        words.total_time(words.minutes(total)),
    )


def _times(card: MachineCard, unit: Unit) -> Table:
    rows = tuple(
        (
            words.sheet_names([each.file for each in sheets]),
            str(sum(each.copies for each in sheets)),
            sheets[0].stock,
            size_text((sheets[0].width, sheets[0].height), unit),
            bought_length(sum(row.length or 0.0 for row in sheets[0].layers if row.tool), unit),
            str(sheets[0].tool_changes),
            words.minutes(sheets[0].minutes or 0.0),
        )
        for sheets in _same_load(card.sheets)
    )
    return Table(words.TIME_COLUMNS, rows, numbers=(1, 4, 5, 6))


def _loaded(card: SetupSheet, shared: Collection[str]) -> LoadedStock:
    rows = tuple(
        (
            step.operation,
            step.tool,
            step.holder or "–",
            str(step.passes),
            step.settings or "–",
            " ".join(part for part in (step.tested_on, step.note) if part) or "–",
        )
        for step in card.steps
    )
    return LoadedStock(
        words.load_for(card.stock),
        f"{card.in_words[0].upper()}{card.in_words[1:]}.",
        Table(words.LOAD_COLUMNS, rows, numbers=(3,)),
        tuple(line for line in card.driving if line not in shared),
        card.coupon,
        f"{words.HAND_LEFT}{listed(card.by_hand)}." if card.by_hand else "",
    )


def _same_load(sheets: Sequence[SheetRow]) -> list[list[SheetRow]]:
    """Sheets grouped by what they ask of the machine, to the tenth of a minute."""
    groups: dict[object, list[SheetRow]] = defaultdict(list)
    for sheet in sheets:
        work = tuple(
            (row.layer, row.tool, row.passes, row.lines, round(row.length or 0.0))
            for row in sheet.layers
        )
        side = sheet.file.removeprefix(f"sheet-{sheet.number}")
        groups[side, sheet.stock, sheet.width, sheet.height, work].append(sheet)
    return list(groups.values())
