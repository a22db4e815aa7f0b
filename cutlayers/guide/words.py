"""Words of the guide: its headings, what it needs, the machine, and cautions.

Those of the drawings, of the work by hand, of the assembly and of kits have modules of their own
beside this one; all words are in these five, so that the page can be translated. Numbers come in
already written: what is here only puts them into sentences.
"""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.telling.saying import listed

LANGUAGE = "en"

MATERIAL = "What you need"
SETUP_SHEET = "Setup sheet"
BLANKS_BY_HAND = "The blanks, scored and cut by hand"
TOGETHER = "Putting it together"
FINDINGS = "What the check found"
CARE = "Take care"
CARD = "Card"
BLANKS = "Blanks to trim"
GLUE = "Glue or tape"
CLOSURE = "Closure"
WEIGHT = "Weight"
STOCK, SHEETS, SHEET_SIZE, THICKNESS, WEIGHT_PER_AREA = (
    "card",
    "sheets",
    "sheet size",
    "thickness",
    "weight",
)
BLANK, HOW_MANY, WIDE, HIGH, FROM = "blank", "how many", "wide", "high", "from"


def subtitle(boxes: int, machine: str | None, rows: int | None = None) -> str:
    """What the page is for; `rows` is how many a kit has."""
    made = f"Guide for {counted(boxes, 'box', 'boxes')}"
    if rows is not None:
        made += f" from {counted(rows, 'row', 'rows')} of a table"
    return f"{made}, cut on: {machine}" if machine else f"{made}, made by hand"


def box_line(count: int, name: str, style: str, summary: str) -> str:
    """One kind of box in the job."""
    if name == style:
        return f"{count} × {about(style, summary)}"
    return f"{count} × {name} ({about(style, summary)})"


def about(style: str, summary: str) -> str:
    """What a box is; one that no style made has none."""
    return f"{style}: {summary}" if style else summary


def sizes(named: Sequence[tuple[str, str]], measure: str) -> str:
    """The sizes of a box and what they are measured to; nothing of a box without any."""
    if not named:
        return ""
    what = {
        "inside": "measured inside",
        "outside": "measured outside",
        "score": "from score to score",
    }[measure]
    return f"{', '.join(f'{name} {length}' for name, length in named)}, {what}"


def ruler_note(step: str) -> str:
    """Which ruler the page is written for."""
    return (
        f"Lengths for the hand are rounded to {step}, and so are the small steps that layers of "
        f"card ask for. Equal panels stay equal, and the rounded box was folded up again to see "
        f"that it still works, unless it says otherwise below."
    )


TOO_SMALL = (
    "Some parts are too small for this ruler: every point is on its nearest division, so what "
    "belongs together may differ by one. Press edges together, trim what stands over, and take the "
    "finest ruler you have."
)

UNEVEN = (
    "Slanted panels cannot be rounded and stay alike: every panel is right to about a division, "
    "but edges that meet may differ by one. Press them together, trim what stands over, and take "
    "the finest ruler you have."
)

NOT_DRAWN = "Lines for a pen, such as glue lines and lettering, are left out here."

TRACED = (
    "Letters that are cut out are drawn here but not measured: print them at full size, trace "
    "them onto the panel, and cut along the lines."
)

EXACT_NOTE = "The files for the machine keep the exact sizes."
BY_HAND_NOTE = "With a ruler instead: 'cutlayers guide JOB --by-hand' writes a page for that."


def sheets_needed(count: int) -> str:
    """How many sheets."""
    return f"{count} sheet{'' if count == 1 else 's'}"


TRIM_NOTE = "Sizes are width × height as drawn below."


def glue_line(tabs: int, each: str, boxes: int, total: str) -> str:
    """How much tape or how long a line of glue."""
    tab = "glue tab" if tabs == 1 else "glue tabs"
    line = f"{tabs} {tab} a box: a line of glue or a strip of tape {each} long in all"
    return line + (f"; {total} for {boxes} boxes." if boxes > 1 else ".")


NO_GLUE = "This box needs no glue."


def cut_holes_line(count: int, diameter: str) -> str:
    """Holes of one size, which the machine cuts."""
    return f"{counted(count, 'hole', 'holes')}, {diameter} across, which the machine cuts."


def holes_line(count: int, diameter: str) -> str:
    """Holes of one size, whose places are told further down."""
    return (
        f"{counted(count, 'hole', 'holes')} to punch, {diameter} across: where is told with the "
        f"blank, when in the assembly."
    )


def ribbon_line(length: str, between: str, bow: str, boxes: int, total: str) -> str:
    """The estimate and its rule."""
    line = (
        f"Ribbon, an estimate: {length} a box, which is twice the {between} between the holes "
        f"that lie farthest apart, and {bow} for a knot and a bow"
    )
    return line + (f"; {total} for {boxes} boxes." if boxes > 1 else ".")


NO_CLOSURE = "Nothing to punch or tie."


def weight_line(grams: str) -> str:
    """Weight of one box."""
    return f"One empty box weighs about {grams}."


WEIGHT_UNKNOWN = "Not known: the job does not give the card's weight in g/m²."


def too_large(blank: str, size: str, sheet: str) -> str:
    """A blank that no sheet holds when it is trimmed by hand."""
    return f"The blank of {blank}, {size}, is larger than a sheet of {sheet}: take a larger one."


LOAD_COLUMNS = ("operation", "tool", "holder", "passes", "settings", "tested, note")
TIMES = "Sheets and time"
TIME_COLUMNS = ("file", "sheets", "card", "size", "length", "tool changes", "time each")


EVERY_CARD = "For every card"


def load_for(stock: str) -> str:
    """Heading of what to load."""
    return f"For {stock}"


def sheet_names(files: Sequence[str]) -> str:
    """Files of sheets that ask for the same."""
    if len(files) > 2:
        return f"{files[0]} to {files[-1]}"
    return listed(files)


def total_time(minutes: str) -> str:
    """Time of the whole job."""
    return f"The machine works for about {minutes} in all, without loading."


def minutes(value: float) -> str:
    """A time for people."""
    if value < 1:
        return f"{max(1, round(value * 60))} s"
    return f"{value:.0f} min" if value >= 10 else f"{value:.1f} min"


def more_alike(count: int) -> str:
    """Findings of a code that the page does not tell."""
    return (
        f"and {count} more like {'this' if count == 1 else 'these'}; 'cutlayers check' tells each."
    )


FIRST_CUT = "First cut: what to look for"

HAND_LEFT = "Left to the hand: "

KNIFE = (
    "Knives: cut away from the hand that holds the card, along a steel ruler and on a mat; keep a "
    "blade capped and put used ones into a rigid container."
)
SMALL_PARTS = (
    "Small parts: keep offcuts, punched discs and what is packed away from children under three."
)
FOOD = "Food: ordinary card, ink and glue are not meant for food; keep a liner between."
TRAINED = (
    "The rules of your place and country come first; let someone show you a knife or a punch that "
    "is new to you."
)


def marked(panels: Sequence[str]) -> str:
    """Panels by name in a row, each between asterisks, which the page sets in italics."""
    return listed([f"*{panel}*" for panel in panels])


def counted(count: int, one: str, many: str) -> str:
    """A number with its word."""
    return f"{count} {one if count == 1 else many}"
