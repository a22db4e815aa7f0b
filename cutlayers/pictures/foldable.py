"""A box as panels that hang on each other by their hinges, for whoever folds it by turning them.

Nothing is projected or hidden here. Each panel has a picture of its own and says on which other it
hangs, about which line it turns, and when: time runs from 0, where every blank lies flat, through
the steps of the assembly to `Foldable.end`, where the box is finished. A root keeps its place, but
a lid comes down on its base, and a drawer in from the side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Literal

import shapely

from cutlayers.box import Box
from cutlayers.formats.svg import number, path_data
from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import common, rings_of
from cutlayers.geometry.strokes import Fold, Operation, Stroke
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.net.folding import folding_order, glued_apart
from cutlayers.net.space import Vector, dot
from cutlayers.net.stacking import key
from cutlayers.pictures.camera import Camera
from cutlayers.pictures.looks import KRAFT, Looks
from cutlayers.pictures.scene import Chain, Print, Scene, Shape
from cutlayers.pictures.surfaces import Flat, Lines, flats
from cutlayers.pictures.timeline import DECIMALS, During, Reach, Swing, timeline
from cutlayers.profile.notation import COLOURS, DRAWN, MOUNTAIN, PERFORATED, VALLEY, Dash

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from cutlayers.net import Hinge
    from cutlayers.pictures.decoration import Decoration

APART = 0.2
"""mm that panels of one plane are moved apart, so that the one that lies outside is seen."""

USUAL = Camera.turned(32.0, 26.0)
"""The light stands still beside whoever looks at the box from here."""

Kind = Literal["cut", "mountain", "valley", "perforate", "draw"]


@frozen
class Hung:
    """A panel on the hinge by which it hangs: on the panel of index `carrier`, about the flat line
    through `at` along the unit vector `along`, right-handed.

    `eased` is by how much it moves away in mm for each degree, in the flat direction `aside` of the
    carried panel, or of the carrier where `before` says so. One that is glued on its carrier does
    not turn, and lies `raised` mm outside of it.
    """

    carrier: int
    at: Point
    along: Point
    eased: float
    aside: Point
    before: bool
    raised: float = 0.0


@frozen
class FoldPanel:
    """One flat piece. Paths are SVG's, in mm with y down, from the upper left corner of `box`.

    `name` is the panel's on its net, `piece` that of the flat piece, which differs where a panel
    bends. `box` is left, top, width and height on the flat net, y down. `swings` turn it. A root
    has a `pose` that says where it stands at the end, right, up, normal and origin in space; its
    `swings` say how far it is `away` from there. `apart` is how far a panel is moved along its
    normal from others in its plane. `triangles` are the x and y of their corners, as the paths have
    them. `outside`, `inside` and `edge` are the colours of the card, which is `caliper` thick.
    `art` is an element of SVG as large as the box.
    """

    net: str
    name: str
    piece: str
    role: str
    box: tuple[float, float, float, float]
    hung: Hung | None
    pose: tuple[Vector, Vector, Vector, Vector] | None
    away: Vector | None
    swings: tuple[Swing, ...]
    apart: float
    shape: str
    triangles: tuple[float, ...]
    cuts: str
    folds: str
    tears: str
    guides: str
    outside: str
    inside: str
    edge: str
    caliper: float
    art: str


@frozen
class FlatBlank:
    """A blank on the flat: left, top, width and height in mm with y down, and its lines by kind."""

    net: str
    box: tuple[float, float, float, float]
    lines: tuple[tuple[Kind, str], ...]


@frozen
class Foldable:
    """All panels of a box, each after the one that it hangs on; blanks for the flat view."""

    panels: tuple[FoldPanel, ...]
    blanks: tuple[FlatBlank, ...]
    steps: tuple[During, ...]
    reaches: tuple[Reach, ...]
    end: float
    lamp: Vector
    """A unit vector towards the light, which stands still beside the box."""
    ambient: float
    """Share of the light that comes from everywhere; see `looks.brightness`."""
    pens: tuple[tuple[Kind, str, Dash], ...] = (
        ("cut", COLOURS[Operation.CUT], ()),
        ("mountain", COLOURS[Operation.SCORE], MOUNTAIN),
        ("valley", COLOURS[Operation.SCORE], VALLEY),
        ("perforate", COLOURS[Operation.PERFORATE], PERFORATED),
        ("draw", COLOURS[Operation.DRAW], DRAWN),
    )
    """The colour and the dashes, in mm of a small picture, of each kind of line."""


def foldable(box: Box, looks: Looks = KRAFT, *, ident: str = "a") -> Foldable:
    """A box to be folded; ids in its art begin with `ident`. Raises NetError where it cannot be."""
    times = timeline(box)
    panels: list[FoldPanel] = []
    faces = {key(face): face for face in box.assembly.faces}
    apart = {
        key(face): APART * rank * (1 if dot(stack.normal, face.pose.normal) > 0 else -1)
        for stack in box.assembly.stacks
        for rank, face in enumerate(stack.faces)
    }
    for folded in box.assembly.boxes:
        own = looks.of(folded.net.name)
        known = flats(folded, box.assembly.cards)
        net = box.blank(folded.net.name).net
        at: dict[str, int] = {}
        hinges = {id(hinge): index for index, hinge in enumerate(folded.net.hinges)}
        for carrier, name, hinge in [
            (None, folded.net.root.name, None),
            *folding_order(folded.net)[0],
        ]:
            at[name] = len(panels)
            where = folded.net.name, name
            face, flat = faces[where], known[name]
            bounds = _box(flat.shape)
            swings: tuple[Swing, ...] = ()
            if hinge is None and carrier is not None:
                out = folded.net.caliper * glued_apart(folded.net, carrier, name)
                hung = Hung(at[carrier], (0.0, 0.0), (1.0, 0.0), 0.0, (0.0, 0.0), False, out)
                stands, away = None, None
            elif hinge is None:
                pose = face.pose
                hung, stands = None, (pose.right, pose.up, pose.normal, pose.origin)
                away, swings = times.slides[folded.net.name]
            else:
                assert carrier is not None
                hung, stands, away = _hung(hinge, carrier, at[carrier]), None, None
                swings = times.swings[folded.net.name][hinges[id(hinge)]]
            onto = Transform(dx=-bounds[0], yy=-1.0, dy=-bounds[1])
            panels.append(
                FoldPanel(
                    net=folded.net.name,
                    name=net.panel_of(name),
                    piece=name,
                    role=face.panel.role.value,
                    box=bounds,
                    hung=hung,
                    pose=stands,
                    away=away,
                    swings=swings,
                    apart=round(apart[where], 3),
                    shape=_rings(flat, onto),
                    triangles=_triangles(flat.shape, onto),
                    cuts=_lines(flat.borders, onto),
                    folds=_lines(flat.folds, onto),
                    tears=_lines(flat.tears, onto),
                    guides=_lines(flat.guides, onto),
                    outside=own.outside,
                    inside=own.inside,
                    edge=own.edge,
                    caliper=box.card.of(folded.net.name).caliper,
                    art=_art(
                        looks.decorations.get(where, ()),
                        flat,
                        onto,
                        bounds,
                        f"{ident}{len(panels)}",
                    ),
                )
            )
    return Foldable(
        tuple(panels),
        tuple(_blanks(box)),
        times.steps,
        times.reaches,
        times.end,
        _lamp(looks),
        looks.ambient,
    )


def _hung(hinge: Hinge, carrier: str, index: int) -> Hung:
    """As `net.folding.turned_over` carries a panel."""
    first = hinge.first == carrier
    edge = hinge.edge if first else hinge.edge.reversed()
    ux, uy = edge.direction_at(0.5)
    rate = hinge.eased / hinge.fold_deg if hinge.fold_deg else 0.0
    return Hung(index, edge.start, (ux, uy), rate, (uy, -ux), not first)


def _box(shape: BaseGeometry) -> tuple[float, float, float, float]:
    left, bottom, right, top = shape.bounds
    return (left, -top, right - left, top - bottom)


def _rings(flat: Flat, onto: Transform) -> str:
    (rings,) = rings_of([flat.shape])
    return " ".join(_chain(ring, onto) for ring in rings)


def _lines(lines: Lines, onto: Transform) -> str:
    return " ".join(_chain(line, onto) for line in lines)


def _chain(points: Sequence[Point], onto: Transform) -> str:
    words = [f"{number(x, DECIMALS)} {number(y, DECIMALS)}" for x, y in onto.apply_all(points)]
    closed = len(words) > 2 and words[0] == words[-1]
    return f"M{' '.join(words[:-1] if closed else words)}{'Z' if closed else ''}"


def _triangles(shape: BaseGeometry, onto: Transform) -> tuple[float, ...]:
    """A flat shape as triangles, counter-clockwise with y up: x and y of each corner."""
    found = []
    for triangle in shapely.get_parts(shapely.constrained_delaunay_triangles(shape)):
        one, two, three, _ = triangle.exterior.coords
        if not triangle.exterior.is_ccw:
            two, three = three, two
        found += [one, two, three]
    return tuple(round(each, DECIMALS) for point in onto.apply_all(found) for each in point)


def _lamp(looks: Looks) -> Vector:
    """Which way the light is, in space."""
    axes = zip(USUAL.right, USUAL.up, USUAL.toward, strict=True)
    x, y, z = (dot(looks.light, along) for along in axes)
    return (round(x, 4), round(y, 4), round(z, 4))


def _art(
    decorations: Sequence[Decoration],
    flat: Flat,
    onto: Transform,
    bounds: tuple[float, float, float, float],
    ident: str,
) -> str:
    """Ink and papers on a panel, as large as its box; empty where there are none."""
    if not decorations:
        return ""
    from cutlayers.pictures.svg import inline_svg

    *_, width, height = bounds
    items: list[Shape | Print] = []
    for each in decorations:
        area = flat.shape if each.area is None else common(flat.shape, each.area)
        (rings,) = rings_of([area])
        within = tuple(Chain(tuple(ring[:-1]), closed=True) for ring in rings)
        if each.colour is not None:
            items.append(Shape(within, each.colour, None, onto, even_odd=True))
        if each.ink:
            items.append(Print(each.ink, within, onto))
    size = {"width": number(width, DECIMALS), "height": number(height, DECIMALS)}
    return inline_svg(Scene("", width, height, tuple(items)), ident, size)


def _blanks(box: Box) -> Iterator[FlatBlank]:
    flip = Transform(yy=-1.0)
    for blank in box.blanks:
        left, bottom, right, top = blank.net.bounds
        lines: dict[Kind, list[str]] = {}
        for line in blank.lines:
            lines.setdefault(_kind(line), []).append(path_data(line.path, flip, DECIMALS))
        yield FlatBlank(
            blank.name,
            (left, -top, right - left, top - bottom),
            tuple((kind, " ".join(paths)) for kind, paths in lines.items()),
        )


def _kind(line: Stroke) -> Kind:
    match line.operation:
        case Operation.CUT:
            return "cut"
        case Operation.PERFORATE:
            return "perforate"
        case Operation.DRAW:
            return "draw"
        case Operation.SCORE:
            return "valley" if line.fold is Fold.VALLEY else "mountain"
