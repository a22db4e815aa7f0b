"""Words of the guide of a kit: what comes after what, and the lists to tick."""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.telling.saying import listed

ORDER = "Order of work"
LISTS = "Sheet by sheet: tick as you go"
SHEETS_COLUMNS = ("card", "sheets", "numbers", "what lies on them", "time")
NUMBER, PIECE, REST, CUT, FOLDED = "no.", "piece", "more of it on", "cut", "folded"

SET_UP = "For each card set the machine up as its setup sheet below says, and try a scrap first."
PRINT = (
    "Print each sheet from its file that ends in -print, at full size, and let it dry; then find "
    "its marks as you do for any printed sheet."
)
COUPON = "On each sheet cut the file that ends in -coupon first and look at the small square."
BACKS = "For each sheet run the file that ends in -back first; then turn the sheet over."
CUT_SHEETS = (
    "Cut the sheets by their numbers. Pencil each piece's number on its inside as you lift it off "
    "the mat, and tick it on the list of its sheet."
)
BY_HAND = "Do what the machine leaves to the hand, as told for the blanks below."
GATHER = (
    "Put together what belongs to one row: where more of it lies on another sheet, the list says "
    "on which."
)
FOLD = "Fold and glue as told below, and tick each box once it stands."


def merged(name: str, sizes: int) -> str:
    """Where one size stands for many."""
    return (
        f"{name} comes in {sizes} sizes: what is told of glue, weight and folding is of the size "
        "made most often. The list of each sheet and manifest.csv have every row."
    )


def numbers(found: Sequence[int]) -> str:
    """Numbers of sheets, runs of three and more as from and to: "1 to 4, 6 and 7"."""
    runs: list[list[int]] = []
    for each in sorted(found):
        if runs and each == runs[-1][-1] + 1:
            runs[-1].append(each)
        else:
            runs.append([each])
    words: list[str] = []
    for run in runs:
        words += [f"{run[0]} to {run[-1]}"] if len(run) > 2 else map(str, run)
    return listed(words)


def sheet_heading(number: int, of: int, stock: str) -> str:
    """One sheet of the kit."""
    return f"Sheet {number} of {of}: {stock}"


def sheet_line(files: Sequence[str], pieces: Sequence[tuple[str, int]], minutes: str) -> str:
    """Its files, what is on it, and how long it takes."""
    return f"{listed(files)}: {pieces_listed(pieces)}; about {minutes}"


def pieces_listed(pieces: Sequence[tuple[str, int]]) -> str:
    """How many of what."""
    return listed([f"{count} × {name}" for name, count in pieces])


def rest_on(sheets: Sequence[int]) -> str:
    """Where more of a row lies."""
    if not sheets:
        return "–"
    return f"sheet{'' if len(sheets) == 1 else 's'} {numbers(sheets)}"


def plan_title(number: int) -> str:
    """A small picture of a sheet."""
    return f"Sheet {number}"


def plan_description(pieces: int) -> str:
    """For those who do not see it."""
    return f"Where the {pieces} pieces of the sheet lie, each with its number in the list beside it"


def tick_name(what: str, number: int, sheet: int) -> str:
    """A box to tick, for a screen reader."""
    return f"{what}: number {number} of sheet {sheet}"
