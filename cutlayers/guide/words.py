"""Every word of the job sheet, in one place, so that the page can be translated.

Numbers come in already written; what is here only puts them into sentences.
"""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.box.steps import Action, Step
from cutlayers.geometry.strokes import Fold
from cutlayers.guide.by_hand import Curve, Edge, Face, Join, Position, Turn

LANGUAGE = "en"

# Headings

MATERIAL = "What you need"
LOAD_CARD = "Load card"
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

# The top of the page


def subtitle(boxes: int, machine: str | None) -> str:
    """What the page is for."""
    made = f"Job sheet for {boxes} box{'' if boxes == 1 else 'es'}"
    return f"{made}, cut on: {machine}" if machine else f"{made}, made by hand"


def box_line(count: int, name: str, style: str, summary: str) -> str:
    """One kind of box in the job."""
    return f"{count} × {name} ({style}: {summary})"


def sizes(named: Sequence[tuple[str, str]], measure: str) -> str:
    """The sizes of a box and what they are measured to."""
    what = {
        "inside": "measured inside",
        "outside": "measured outside",
        "score": "from score to score",
    }[measure]
    return f"{', '.join(f'{name} {length}' for name, length in named)}, {what}"


def ruler_note(step: str) -> str:
    """Which ruler the page is written for."""
    return (
        f"Lengths for the hand are rounded to {step}. Equal panels stay equal, and the rounded box "
        f"was folded up again to see that it still works, unless it says otherwise below."
    )


FINER_RULER = (
    "Some parts are too small for the ruler asked for, so this blank is told for a finer one: "
)

UNEVEN = (
    "Slanted panels cannot be rounded and stay alike: every line is right to about a division, but "
    "edges that meet may differ by one. Press them together, trim what stands over, and take the "
    "finest ruler you have."
)

NOT_DRAWN = "Lines for a pen, such as glue lines and lettering, are left out here."

TRACED = (
    "Letters that are cut out are drawn here but not measured: print them at full size, trace "
    "them onto the panel, and cut along the lines."
)

EXACT_NOTE = "The files for the machine keep the exact sizes."
BY_HAND_NOTE = "With a ruler instead: 'cutlayers guide JOB --by-hand' writes a page for that."

# Material


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


def punch_line(
    diameter: str, from_side: str, sides: str, from_end: str, end: str, panels: Sequence[str]
) -> str:
    """A hole and where it goes."""
    return (
        f"Holes {diameter} across on {marked(panels)}: middle {from_side} from the {sides} edge "
        f"and {from_end} from the {end} edge of the panel, as drawn."
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


# Drawings

AS_DRAWN = "The outside of the box faces you; the blank lies as in its drawing."
CUT, SCORE_OUT, SCORE_IN, PERFORATE, TRIM, WASTE = (
    "cut",
    "score, fold away from you",
    "score on the inside, fold towards you",
    "perforate",
    "trimmed edge of the blank",
    "waste",
)


def score_drawing_title(blank: str) -> str:
    """Title of the first drawing of a blank."""
    return f"{blank}: panels and scores"


def cut_drawing_title(blank: str) -> str:
    """Title of the second drawing of a blank."""
    return f"{blank}: cuts"


def score_drawing_description(
    width: str, height: str, panels: Sequence[str], away: int, towards: int
) -> str:
    """What the first drawing shows, for those who do not see it."""
    return (
        f"A blank {width} wide and {height} high with the panels {listed(panels)}. "
        f"{counted(away, 'line is', 'lines are')} scored to fold away from you, "
        f"{counted(towards, 'line', 'lines')} to fold towards you. Distances are given from the "
        f"left edge along the top and from the top edge along the left."
    )


def cut_drawing_description(points: int, holes: int) -> str:
    """What the second drawing shows."""
    holes_told = f" and {counted(holes, 'hole', 'holes')}" if holes else ""
    return (
        f"The same blank with its waste hatched and its cut lines{holes_told}; "
        f"{counted(points, 'point is', 'points are')} named by letters that the lists below use."
    )


def folded_title(box: str) -> str:
    """A picture of the folded box."""
    return f"{box}, folded"


def folded_description(nets: Sequence[str]) -> str:
    """The picture of the folded box."""
    return f"The finished box ({listed(nets)}), seen from the front and a little from above."


def views_description(nets: Sequence[str]) -> str:
    """The pictures of the box being folded."""
    if len(nets) == 1:
        return f"From left to right: {listed(nets)} half folded, and folded."
    return f"From left to right: {listed(nets)} half folded, then together, open and closed."


def scale(percent: str) -> str:
    """How large a drawing is."""
    return "Drawn at full size." if percent == "100" else f"Drawn at {percent} % of its size."


def numbered(names: Sequence[tuple[int, str]]) -> str:
    """Panels too small for their names."""
    return "Small panels: " + ", ".join(f"{number} {name}" for number, name in names) + "."


# By hand

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
    "from top to top",
    "from left to left",
)
CUT_NOTE = (
    "Blank as drawn, outside up, on a mat; cut along a steel ruler. The hatched parts fall off."
)
PERFORATE_NOTE = "Blank as drawn, outside up, with a toothed wheel along a ruler."
SLANTED = "between points"
HOLES_NOTE = (
    "Mark the middle of every hole now; where the assembly says so, punch it only when the box "
    "is closed, so that the layers agree."
)
HOLES = "Holes"
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


def score_heading(face: Face, fold: Fold) -> str:
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
                f"{j.start}–{j.end} {_bulging(j)}" + (f" by {r}" if curve is Curve.ARC else "")
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
    if join.towards is None:
        return ""
    way = {Edge.LEFT: "left", Edge.RIGHT: "right", Edge.TOP: "up", Edge.BOTTOM: "down"}
    return f"(bulging {way[join.towards]})"


def adjusted(what: str, panels: Sequence[str], net: str, nearest: str, taken: str) -> str:
    """A size that was not rounded to the nearest."""
    return (
        f"{net}: {marked(panels)} {'are' if len(panels) > 1 else 'is'} {taken} {what}, not the "
        f"nearest {nearest}."
    )


MOST_REASONS = 4


def because(reasons: Sequence[str]) -> str:
    """Why sizes were not rounded to the nearest."""
    given = "; ".join(reasons[:MOST_REASONS])
    if len(reasons) > MOST_REASONS:
        given += f"; and {len(reasons) - MOST_REASONS} more of the kind"
    return f"Rounded to the nearest, this would be wrong: {given}. So:"


STILL = "No rounding nearby is free of this: "
WIDE_WORD, HIGH_WORD = "wide", "high"

# Assembly


def assembly_step(step: Step, diameter: str, *, name_net: bool) -> str:
    """One step in one sentence; `name_net` says first which piece of the box it is about."""
    sentence = _step(step, diameter)
    if name_net and step.action not in (Action.JOIN_OVER, Action.JOIN_INTO, Action.FILL):
        return f"{step.net[0].upper()}{step.net[1:]}: {sentence}"
    return sentence[0].upper() + sentence[1:]


def _step(step: Step, diameter: str) -> str:
    panels, targets = marked(step.panels), marked(step.targets)
    glued = f"put glue on {panels} and press {them(step.panels)}"
    behind = "on the outside of" if step.outside else "behind"
    match step.action:
        case Action.FOLD:
            if not step.targets:
                return "fold every score away from you, sharpen it, and open it again."
            valleys = listed([f"*{fold_names([name])}*" for name in step.targets])
            return (
                f"fold every score and open it again: away from you where the outside is scored, "
                f"towards you where the inside is ({valleys})."
            )
        case Action.FACING:
            return f"stick the facing pieces on {panels} while the card is flat."
        case Action.PUNCH_FLAT:
            return (
                f"punch the holes ({diameter}) in {panels} now, while the card is flat: "
                f"{step.layers} layers are too thick to punch later."
            )
        case Action.SEAM:
            return f"{glued} {behind} {targets}; this is the seam."
        case Action.GLUE:
            if len(step.panels) > 1 and len(step.panels) == len(step.targets):
                return f"{glued} {behind} {targets}, each in turn."
            return f"{glued} {behind} {targets}."
        case Action.JOIN_OVER:
            return f"set the {step.net} over the {listed(step.targets)}."
        case Action.JOIN_INTO:
            return f"put the {step.net} into the {listed(step.targets)}."
        case Action.FILL:
            return f"fill the {step.net}."
        case Action.FOLD_IN:
            return f"fold in {panels}."
        case Action.CLOSE:
            return f"close {panels}."
        case Action.TUCK:
            lid, *tucks = step.panels
            into = f" behind {targets}" if step.targets else " in"
            return f"close {marked([lid])} over them and push {marked(tucks)}{into}."
        case Action.GUSSETS:
            return f"push {panels} inwards, so that their sides lie flat under {targets}."
        case Action.RIDGES:
            return f"bring {panels} together, with the strips of the gussets between."
        case Action.PUNCH_CLOSED:
            layers = f"through all {step.layers} layers" if step.layers > 1 else "through the card"
            return f"punch the holes ({diameter}) {layers}, unless the machine cut them."
        case Action.RIBBON:
            return "thread the ribbon through the holes and tie it."


def marked(panels: Sequence[str]) -> str:
    """Panels by name in a row, each between asterisks, which the page sets in italics."""
    return listed([f"*{panel}*" for panel in panels])


def them(panels: Sequence[str]) -> str:
    """A pronoun for panels."""
    return "it" if len(panels) == 1 else "them"


# Load card

LOAD_COLUMNS = ("operation", "tool", "holder", "passes", "settings", "tested, note")
TIMES = "Sheets and time"
TIME_COLUMNS = ("file", "sheets", "card", "size", "length", "tool changes", "time each")


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


HAND_LEFT = "Left to the hand: "

# Cautions

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

# Shared


def listed(names: Sequence[str]) -> str:
    """Names in a row: a, b and c."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def counted(count: int, one: str, many: str) -> str:
    """A number with its word."""
    return f"{count} {one if count == 1 else many}"
