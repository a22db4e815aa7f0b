"""What was understood of a drawing from outside: each line in the way of its kind, what is doubtful
in a halo, panels and folds with the names that a job calls them by."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from shapely import Polygon

from cutlayers.bringing.folding_up import Answer
from cutlayers.bringing.lines import Kind, Meant
from cutlayers.bringing.understanding import Understood
from cutlayers.geometry.segments import Bounds, union_bounds
from cutlayers.geometry.strokes import Operation
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.lettering.single_stroke import text_width
from cutlayers.net.panel import Hinge, Panel
from cutlayers.pictures.scene import Chain, Item, Label, Pen, Scene, Shape
from cutlayers.profile.notation import COLOURS, DASHES
from cutlayers.telling import colours

MARGIN = 8.0
LEGEND, SAMPLE = 5.0, 15.0
"""mm; a line of the legend: how high it is, and where its words begin."""

UNSURE = "not sure: say it under lines"

PENS = {
    Kind.CUT: Pen(COLOURS[Operation.CUT], 0.35),
    Kind.SCORE: Pen(COLOURS[Operation.SCORE], 0.35, DASHES[Operation.SCORE]),
    Kind.PERFORATE: Pen(COLOURS[Operation.PERFORATE], 0.35, DASHES[Operation.PERFORATE]),
    Kind.DRAW: Pen(COLOURS[Operation.DRAW], 0.3, DASHES[Operation.DRAW]),
    Kind.REGISTER: Pen(colours.BLACK, 0.2),
    Kind.IGNORE: Pen(colours.EDGE, 0.2),
}

HALO = Pen(colours.HALO, 2.0)
"""Round a doubtful line."""

NAME, ANGLE, NUMBER = 2.6, 1.8, 1.4
"""mm; capitals of a panel's name, of the angle of a fold, and of the number of a line."""

NUMBERED = 600
"""Lines of a drawing up to which each is numbered; with more the doubtful ones are."""

CHORD = 0.05


def drawing_scene(understood: Understood, nets: Sequence[Answer]) -> Scene:
    """A picture in the size of the drawing, its legend below."""
    lines = union_bounds(line.path.bounds for line in understood.drawing.lines)
    labels = [box for answer in nets for box in _labelled(answer)]
    bounds = union_bounds((lines, *labels))
    width, height = bounds[2] - bounds[0], bounds[3] - bounds[1]
    place = _onto_paper(bounds)
    items: list[Item] = [
        Shape((panel.outline,), colours.GROUND, onto=place)
        for answer in nets
        for panel in answer.net.panels
    ]
    items += _lines(understood.meant, place)
    for answer in nets:
        for hinge in answer.net.hinges:
            items += _angle(answer, hinge, place)
        items += (_name(panel, place) for panel in answer.net.panels)
    kinds = [kind for kind in PENS if any(each.kind is kind for each in understood.meant)]
    unsure = any(each.doubtful for each in understood.meant)
    legend = [(kind.value, PENS[kind]) for kind in kinds] + [(UNSURE, HALO)] * unsure
    for row, (words, pen) in enumerate(legend, start=1):
        items += _sample(words, pen, MARGIN + height + row * LEGEND)
    told = max((SAMPLE + text_width(words, NAME) for words, _ in legend), default=0.0)
    return Scene(
        "What was understood of the drawing",
        max(width, told) + 2 * MARGIN,
        height + 2 * MARGIN + len(legend) * LEGEND,
        tuple(items),
        "The lines of the drawing by what they are for; panels and folds with their names.",
        colours.WHITE,
    )


def _onto_paper(bounds: Bounds) -> Transform:
    left, _, _, top = bounds
    return Transform(xx=1.0, yy=-1.0, dx=MARGIN - left, dy=MARGIN + top)


def _lines(lines: Sequence[Meant], place: Transform) -> Iterator[Item]:
    for each in lines:
        if each.doubtful:
            yield Shape((each.line.path,), pen=HALO, onto=place)
    for each in lines:
        yield Shape((each.line.path,), pen=PENS[each.kind], onto=place, name=each.kind.value)
    numbers: dict[Point, list[str]] = defaultdict(list)
    for each in lines:
        if each.doubtful or len(lines) <= NUMBERED:
            longest = max(each.line.path.segments, key=lambda segment: segment.length)
            x, y = place.apply(longest.point_at(0.2))
            numbers[round(x / NUMBER) * NUMBER, round(y / NUMBER) * NUMBER].append(
                str(each.line.number)
            )
    for (x, y), found in numbers.items():
        text = (", ".join(found),)
        yield Label(text, (x + 0.6, y - 0.6), NUMBER, colours.QUIET_INK)


def _labelled(answer: Answer) -> Iterator[Bounds]:
    """Room in the drawing for the names of panels and the angles of folds."""
    for panel in answer.net.panels:
        label = _name(panel, Transform())
        wide, high = text_width(panel.name, NAME) / 2, NAME
        if label.turned:
            wide, high = high, wide
        x, y = label.at
        yield x - wide, y - high, x + wide, y + high
    for hinge in answer.net.hinges:
        x, y = hinge.edge.point_at(0.6)
        wide = text_width(_told(answer, hinge), ANGLE) / 2
        yield x - wide, y, x + wide, y


def _told(answer: Answer, hinge: Hinge) -> str:
    angle = answer.angle(hinge)
    return "?" if angle is None else f"{angle:.4g}°{'?' if answer.doubtful(hinge) else ''}"


def _angle(answer: Answer, hinge: Hinge, place: Transform) -> Iterator[Item]:
    """On its crease, with the paper's colour behind it."""
    text = _told(answer, hinge)
    x, y = place.apply(hinge.edge.point_at(0.6))
    wide, high = text_width(text, ANGLE) / 2 + 0.3 * ANGLE, 0.75 * NAME
    corners = (
        (x - wide, y - high),
        (x + wide, y - high),
        (x + wide, y + high),
        (x - wide, y + high),
    )
    yield Shape((Chain(corners, closed=True),), colours.WHITE)
    yield Label((text,), (x, y + ANGLE / 2), ANGLE, colours.INK, "middle")


def _name(panel: Panel, place: Transform) -> Label:
    """In the panel, along its longer side."""
    outline = Polygon(panel.outline.points(CHORD))
    inside = outline.representative_point()
    x, y = place.apply((inside.x, inside.y))
    left, low, right, high = panel.outline.bounds
    if right - left < NAME * len(panel.name) < high - low:
        return Label((panel.name,), (x + NAME / 2, y), NAME, colours.INK, "middle", turned=True)
    return Label((panel.name,), (x, y + NAME / 2), NAME, colours.INK, "middle")


def _sample(words: str, pen: Pen, y: float) -> Iterator[Item]:
    line = Chain(((MARGIN, y), (MARGIN + 12.0, y)), closed=False)
    yield Shape((line,), pen=pen)
    yield Label((words,), (MARGIN + SAMPLE, y + NAME / 2), NAME, colours.INK)
