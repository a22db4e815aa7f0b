"""A page with a picture of every style: the flat blank beside the folded box."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from cutlayers.box import Box, build
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.geometry.strokes import Fold, Operation, Part, Stroke
from cutlayers.geometry.transforms import Transform
from cutlayers.pictures.folded import View, draw_views, finished_view, usual_views, views_scene
from cutlayers.pictures.png import write_png
from cutlayers.pictures.scene import Item, Pen, Scene, Shape, beside
from cutlayers.profile.notation import COLOURS, DRAWN, MOUNTAIN, PERFORATED, VALLEY
from cutlayers.telling import colours

PAGE = "README.md"
"""The page's name: what code hosts and editors show first in a folder."""

CALIPER = 0.3
"""mm; card of about 250 g/m², which most examples suit."""

GAP, MARGIN = 10.0, 6.0
"""mm between the blanks of one box and round all of them, before they are scaled."""

HEIGHT = 90.0
"""mm; how high a picture is."""

WIDEST = 120.0
"""mm; a row of blanks that would be wider is drawn smaller."""

PIXELS_PER_MM = 5.0
"""Large enough to read on a screen, small enough to keep many."""

SHADOW = (0.7, 0.9)
"""mm that the blank's shadow falls to the right and down."""

LINES: dict[tuple[Operation, Fold | None], Pen] = {
    (operation, fold): Pen(COLOURS[operation], width, dash)
    for operation, fold, width, dash in (
        (Operation.CUT, None, 0.5, ()),
        (Operation.SCORE, Fold.MOUNTAIN, 0.4, MOUNTAIN),
        (Operation.SCORE, Fold.VALLEY, 0.4, VALLEY),
        (Operation.PERFORATE, None, 0.45, PERFORATED),
        (Operation.DRAW, None, 0.4, DRAWN),
    )
}
"""Colour, width in mm and dashes; the dashes tell the lines apart without their colours."""

KEY = (
    "Left the blank, its printed side up: cut lines are solid blue; of the green folds mountains "
    "are dashed and dotted, valleys dashed; perforations are short-dashed pink. "
    "Right the box, half folded and finished."
)


def gallery(all_styles: Iterable[Style]) -> dict[str, bytes]:
    """The gallery's files, name → content: a page and one picture a style.

    Every style is shown with its example sizes in card of `CALIPER`. The same styles give the
    same bytes.
    """
    files: dict[str, bytes] = {}
    rows = ["# Styles", "", KEY, ""]
    for style in all_styles:
        picture = style_picture(style, _example(style), Card(CALIPER))
        files[f"{style.name}.png"] = write_png(picture, round(picture.width * PIXELS_PER_MM))
        rows += [f"## {style.name}", "", f"{style.summary[0].upper()}{style.summary[1:]}."]
        if style.like:
            rows[-1] += f" Like {style.like}."
        rows += ["", f"![{style.name}: the blank, and the box folded]({style.name}.png)", ""]
    files[PAGE] = "\n".join(rows).encode()
    return files


def _example(style: Style) -> object:
    return style.dimensions(**{name: default for name, (_, default) in style.table.items()})


def style_scene(style: Style) -> Scene:
    """A style in its example sizes, of card of `CALIPER`: flat, and as it is to be."""
    box = build(style, _example(style), Card(CALIPER))
    return _picture(style, box, (replace(finished_view(box), caption=""),))


def style_picture(style: Style, dims: object, card: Card) -> Scene:
    """The blanks of a box on the left, the box folded on the right, half so and finished."""
    box = build(style, dims, card)
    return _picture(style, box, _views(box))


def _picture(style: Style, box: Box, views: Sequence[View]) -> Scene:
    folded = views_scene(style.name, draw_views(views), HEIGHT)
    title = f"{style.name}: {style.summary}"
    return beside(title, (blanks_scene(f"{style.name}, flat", box), folded), colours.GROUND)


def _views(box: Box) -> tuple[View, ...]:
    """The usual views; of several pieces only apart and together, of a flat one only itself."""
    if not box.nets[0].hinges and len(box.blanks) == 1:
        return (replace(finished_view(box), caption=""),)
    views = usual_views(box)
    return views[-2:] if len(box.wholes) > 1 else views


def blanks_scene(title: str, box: Box) -> Scene:
    """The blanks side by side, all at one scale, in a picture `HEIGHT` mm high."""
    boxes = [blank.net.bounds for blank in box.blanks]
    widths = [right - left for left, _, right, _ in boxes]
    tall = max(top - bottom for _, bottom, _, top in boxes)
    wide = sum(widths) + GAP * (len(boxes) - 1)
    scale = min((HEIGHT - 2 * MARGIN) / tall, (WIDEST - 2 * MARGIN) / wide)
    items: list[Item] = []
    at = MARGIN
    for blank, (left, bottom, right, top) in zip(box.blanks, boxes, strict=True):
        floor = (HEIGHT + (top - bottom) * scale) / 2
        place = Transform(xx=scale, yy=-scale, dx=at - left * scale, dy=floor + bottom * scale)
        items += _blank(blank.lines, place)
        at += (right - left + GAP) * scale
    return Scene(title, wide * scale + 2 * MARGIN, HEIGHT, tuple(items))


def _blank(lines: Sequence[Stroke], place: Transform) -> list[Item]:
    """A blank with a shadow, and its lines, cuts on top."""
    cuts = tuple(line.path for line in lines if line.part in (Part.OUTLINE, Part.OPENING))
    fallen = Transform.translation(*SHADOW) @ place
    items: list[Item] = [
        Shape(cuts, colours.EDGE, onto=fallen, even_odd=True),
        Shape(cuts, colours.WHITE, onto=place, even_odd=True),
    ]
    for line in sorted(lines, key=lambda line: line.operation is Operation.CUT):
        fold = line.fold if line.operation is Operation.SCORE else None
        items.append(Shape((line.path,), None, LINES[line.operation, fold], place))
    return items
