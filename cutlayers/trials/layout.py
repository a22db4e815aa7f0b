"""Laying a trial out: labels, a card that holds it, and the drawings for machine and people."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from cutlayers.formats.drawing import Drawing, Layer
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import union_bounds
from cutlayers.geometry.strokes import Operation, Stroke
from cutlayers.geometry.strokes import Part as StrokePart
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.job.stock import SHEETS_MM
from cutlayers.lettering.single_stroke import Anchor, drawable, letter, text_width
from cutlayers.making.layers import DASHES, led
from cutlayers.profile.machine import Bed, Machine
from cutlayers.telling import colours
from cutlayers.telling.errors import TrialError
from cutlayers.telling.findings import Finding, Severity
from cutlayers.telling.refusals import Refusal
from cutlayers.telling.words import in_words
from cutlayers.toolpaths import Ground, Plan, ordered, reach, with_approaches, work_out
from cutlayers.trials.model import Part, Setup, TrialSheet
from cutlayers.trials.refusing import too_small

CAP = 3.5
"""Cap height of labels in mm: a size of ISO 3098 that a pen and a slow laser draw well."""

HEADING = 5.0
SPACE = 5.0
"""Cap height of the heading, and free space round the trial, in mm."""

USUAL_CARDS = ("A6", "A5", "A4", "A3")
"""Cards that a trial takes where none is chosen, by their names in `SHEETS_MM`."""

RUNG_LOOKS = tuple(
    (colour, colours.DXF_COLOURS[colour])
    for colour in (
        colours.BLUE, colours.GREEN, colours.PLUM, colours.BROWN, colours.VIOLET, colours.OLIVE,
        colours.CRIMSON, colours.PINE, colours.CHARCOAL, colours.NAVY, colours.PURPLE,
        colours.BLACK,
    )
)  # fmt: skip
"""Colours for a layer of each rung: all differ, since some programs set a layer by colour."""


def label_operation(machine: Machine) -> Operation:
    """What labels are made by: drawn where the machine draws, otherwise cut as fine slits."""
    return Operation.CUT if machine.operations[Operation.DRAW].tool is None else Operation.DRAW


def label(
    machine: Machine, text: str, at: Point, anchor: Anchor = "start", cap: float = CAP
) -> tuple[Stroke, ...]:
    """A line of text as strokes, its base line at `at`; signs without letters become '?'."""
    operation = label_operation(machine)
    part = StrokePart.MARK if operation is Operation.DRAW else StrokePart.SLIT
    return tuple(
        Stroke(operation, path, part, text) for path in letter(drawable(text), cap, at, anchor)
    )


def drawn(machine: Machine, paths: Iterable[Path], name: str) -> tuple[Stroke, ...]:
    """Marks and scales, made as labels are."""
    operation = label_operation(machine)
    part = StrokePart.MARK if operation is Operation.DRAW else StrokePart.SLIT
    return tuple(Stroke(operation, path, part, name) for path in paths)


def cut(path: Path, part: StrokePart, name: str) -> Stroke:
    """One cut."""
    return Stroke(Operation.CUT, path, part, name)


def heading(setup: Setup, text: str, width: float, y: float) -> tuple[Stroke, ...]:
    """A heading and the profile's name over a trial `width` mm wide, base line at `y`.

    Left out where labels have to be cut, which would be much work for a line to throw away.
    """
    if label_operation(setup.machine) is Operation.CUT:
        return ()
    text = drawable(text)
    who = drawable(", ".join(filter(None, (setup.machine.name, setup.material))))
    cap = min(HEADING, HEADING * width / max(text_width(text, HEADING), 1.0))
    shown = who if text_width(who, CAP) + text_width(text, cap) + 8.0 < width else ""
    return (
        *label(setup.machine, text, (0.0, y), cap=cap),
        *(label(setup.machine, shown, (width, y), "end") if shown else ()),
    )


def as_sheet(
    setup: Setup,
    parts: Sequence[Part],
    printed: Sequence[Stroke] = (),
    names: Sequence[str] = USUAL_CARDS,
) -> TrialSheet:
    """Put a trial in the middle of the card chosen, or of the smallest named one that holds it.

    Raises TrialError where it does not fit on the card, or the card not into the machine.
    """
    boxes = [stroke.path.bounds for part in parts for stroke in part.strokes]
    left, bottom, right, top = union_bounds([*boxes, *(stroke.path.bounds for stroke in printed)])
    edge = setup.machine.bed.margin + SPACE
    need = (right - left + 2 * edge, top - bottom + 2 * edge)
    cards = cards_for(setup, names)
    held = (card for card in cards if need[0] <= card[0] and need[1] <= card[1])
    width, height = next(held, setup.sheet or cards[-1])
    if width < need[0] or height < need[1]:
        reason = f"but the trial needs a card of {need[0]:.0f} × {need[1]:.0f} mm"
        raise too_small(width, height, reason, "name a larger one with --sheet")
    bed = setup.machine.bed
    if width > bed.width or height > bed.height:
        reason = f"which does not fit the bed, {bed.width:g} × {bed.height:g} mm"
        raise too_small(width, height, reason, "name a smaller one with --sheet")
    dx = (width - (right - left)) / 2 - left
    dy = (height - (top - bottom)) / 2 - bottom
    move = Transform.translation(dx, dy)
    return TrialSheet(
        width,
        height,
        tuple(
            replace(part, strokes=tuple(stroke.transformed(move) for stroke in part.strokes))
            for part in parts
        ),
        tuple(stroke.transformed(move) for stroke in printed),
    )


def as_it_goes_in(card: tuple[float, float], bed: Bed) -> tuple[float, float]:
    """A card's width and height as it lies on the bed: turned by a quarter if only that fits."""
    width, height = card
    fits = width <= bed.width and height <= bed.height
    return (height, width) if not fits and height <= bed.width and width <= bed.height else card


def cards_for(setup: Setup, names: Sequence[str] = USUAL_CARDS) -> tuple[tuple[float, float], ...]:
    """The cards that a trial may be put on, the smallest first: the one chosen, or else the named
    ones and at last all of the bed; each both ways, where both go into the machine."""
    bed = setup.machine.bed
    cards = [setup.sheet] if setup.sheet else [SHEETS_MM[name] for name in names]
    both = [way for card in cards for way in (card, card[::-1])]
    inside = [card for card in both if card[0] <= bed.width and card[1] <= bed.height]
    return tuple(inside or cards[:1]) if setup.sheet else (*inside, (bed.width, bed.height))


@frozen
class Block:
    """A piece of a trial that may stand anywhere, about its own lower left corner."""

    parts: tuple[Part, ...]
    width: float
    height: float


def in_rows(setup: Setup, title: str, blocks: Sequence[Block]) -> TrialSheet:
    """Blocks of one size in rows under a heading, on the smallest card that has room for them.

    Raises TrialError where there is none, saying how many the largest has room for.
    """
    block = blocks[0]
    top, edge = HEADING + SPACE, setup.machine.bed.margin + SPACE
    rooms = [
        (
            card,
            max(0, math.floor((card[0] - 2 * edge + SPACE) / (block.width + SPACE))),
            max(0, math.floor((card[1] - top - 2 * edge + SPACE) / (block.height + SPACE))),
        )
        for card in cards_for(setup)
    ]
    most = max(across * down for _, across, down in rooms)
    if most < len(blocks):
        advice = "name a larger card with --sheet"
        reason = f"which has room for {most} of {len(blocks)} rungs"
        advice = f"give --steps {most}, or {advice}" if most > 1 else advice
        raise too_small(*(setup.sheet or rooms[-1][0]), reason, advice)
    card, across = next(each[:2] for each in rooms if each[1] * each[2] >= len(blocks))
    rows = math.ceil(len(blocks) / across)
    across = math.ceil(len(blocks) / rows)
    width = across * (block.width + SPACE) - SPACE
    parts = [Part(heading(setup, title, width, rows * (block.height + SPACE)), setup.machine)]
    for index, each in enumerate(blocks):
        row, column = divmod(index, across)
        x, y = column * (block.width + SPACE), (rows - 1 - row) * (block.height + SPACE)
        move = Transform.translation(x, y)
        parts += [
            replace(part, strokes=tuple(stroke.transformed(move) for stroke in part.strokes))
            for part in each.parts
        ]
    return as_sheet(replace(setup, sheet=card), parts)


def draw_sheet(title: str, sheet: TrialSheet, machine: Machine) -> tuple[Drawing, Drawing]:
    """The drawing for the machine and the one for people, and raise what the toolpaths refuse.

    Layers stand in working order; a rung's layers stand in the order of the rungs. Strokes that
    the machine leaves to the hand are in the picture alone. Raises TrialError.
    """
    layers: dict[str, Layer] = {}
    by_hand: dict[str, Layer] = {}
    planned = _planned(sheet)
    for operation in Operation:
        for part, plan in planned:
            _refuse(plan.findings)
            look = _look(machine, operation, part)
            if toolpaths := plan.of(operation):
                layers[look.name] = led(layers.get(look.name, look), toolpaths)
            left = [each.path for each in plan.by_hand if each.operation is operation]
            hand = replace(look, name=f"{look.name[:22]}-by-hand", title=f"{look.title} by hand")
            if left:
                layer = by_hand.get(hand.name, hand)
                by_hand[hand.name] = replace(layer, paths=(*layer.paths, *left))
    if sheet.marks:
        how = machine.register
        marks = Layer(how.layer, "register marks", how.colour, how.dxf_colour, sheet.marks)
        layers[how.layer] = marks
    drawing = Drawing(title, sheet.width, sheet.height, tuple(layers.values()))
    under = (*_ink(sheet), *by_hand.values())
    return drawing, replace(drawing, layers=(*under, *layers.values()))


def _planned(sheet: TrialSheet) -> list[tuple[Part, Plan]]:
    """The parts in working order, each blade set straight before its first cut."""
    strokes = [stroke for part in sheet.parts for stroke in part.strokes]
    taken = [path.bounds for path in sheet.marks]
    planned = []
    for part in sheet.parts:
        ground = Ground(reach(part.machine, sheet.width, sheet.height), tuple(taken))
        worked = work_out(part.strokes, part.machine)
        worked = with_approaches(worked, strokes, ground, any_order=False)
        taken += [layer.hook.bounds for layer in worked.layers if layer.hook is not None]
        planned.append((part, ordered(worked)))
    return planned


def _ink(sheet: TrialSheet) -> tuple[Layer, ...]:
    paths = tuple(stroke.path for stroke in sheet.printed)
    return (
        (
            Layer(
                "print",
                "printed first",
                colours.QUIET_INK,
                colours.DXF_COLOURS[colours.QUIET_INK],
                paths,
            ),
        )
        if paths
        else ()
    )


def _look(machine: Machine, operation: Operation, part: Part) -> Layer:
    how = machine.operations[operation]
    dash = () if operation is Operation.DRAW else DASHES[operation]  # dots would eat letters
    if part.rung is None:
        return Layer(how.layer, operation.value, how.colour, how.dxf_colour, (), dash)
    taken = {plan.colour for plan in machine.operations.values() if plan is not how}
    free = [look for look in RUNG_LOOKS if look[0] not in taken]
    colour, dxf_colour = free[(part.rung - 1) % len(free)]
    name = f"{how.layer[:20]}-{part.rung}"
    return Layer(name, part.title or name, colour, dxf_colour, (), dash)


def _refuse(findings: Iterable[Finding]) -> None:
    for finding in findings:
        if finding.severity is Severity.ERROR:
            raise TrialError(Refusal(reason=f"this trial cannot be made: {in_words(finding)}"))
