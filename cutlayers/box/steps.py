"""The order in which a box goes together, derived from what holds what: hinges, glue, tucks and
tongues in slits.

First every net by itself: fold all, stick facings on while the card is flat, punch what is too
thick to punch later, join the parts of a net that has several, glue the seam that makes a ring and
what closes the ring's end, and square it up. All ends but the highest are closed before it is
filled, that one afterwards, and a lid goes on; what has no opening is filled before the last glue.
What goes into the box itself, a lining or a shoulder, is there before it is filled, and closes
before it does. Within an end the panel that lies inside goes in first.

Common practice, no source; the order within a carton's end is that of its layers.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace
from enum import StrEnum
from typing import TYPE_CHECKING

from cutlayers.box.closing import Closure, End, behind, ends, held
from cutlayers.box.gluing import gluings
from cutlayers.box.holes import Hole
from cutlayers.frozen import frozen
from cutlayers.geometry.strokes import Fold
from cutlayers.net import Net, Panel, Role
from cutlayers.net.assembly import Assembly

if TYPE_CHECKING:
    from cutlayers.box.box import Box

THICKEST_PUNCHED = 1.4
"""mm of card that a hand punch bites through at once; common practice is three to four sheets
of box card."""

CLOSED_SHARE = 0.01
"""The vectors of a closed surface's areas add up to nothing (Gauss's theorem); less than this share
of all the area is nothing."""


class Action(StrEnum):
    """What is done in one step."""

    FOLD = "fold"
    FACING = "facing"
    PUNCH_FLAT = "punch flat"
    JOIN_PARTS = "join parts"
    SEAM = "seam"
    GLUE = "glue"
    SQUARE = "square up"
    PUSH_OUT = "push out"
    JOIN_OVER = "join over"
    JOIN_INTO = "join into"
    FILL = "fill"
    PUT = "put"
    FOLD_IN = "fold in"
    CLOSE = "close"
    TUCK = "tuck"
    ENGAGE = "engage"
    INTERLEAVE = "interleave"
    BRING_UP = "bring up"
    GUSSETS = "gussets"
    RIDGES = "ridges"
    PUNCH_CLOSED = "punch closed"
    RIBBON = "ribbon"


@frozen
class Step:
    """One step: what is done, to which panels, and onto, behind, into or over which others.

    `brought` are panels between these and what keeps its place, which move first. `outside` says of
    glued panels that they go on the outside of their target. `layers` counts the layers of card at
    a hole. Panels that fold towards the viewer are the targets of FOLD; of PUT they say in words
    where the net is put.
    """

    action: Action
    net: str
    panels: tuple[str, ...] = ()
    targets: tuple[str, ...] = ()
    brought: tuple[str, ...] = ()
    outside: bool = False
    layers: int = 0
    diameter: float = 0.0


Faced = tuple[tuple[str, tuple[str, ...]], ...]
"""Net names, each with the panels that get a facing piece."""


def assembly_steps(whole: Box, faced: Faced = ()) -> tuple[Step, ...]:
    """The steps for one box. `faced` are the panels that get a facing piece.

    A net with curved folds is not folded up: its steps then follow from its creases alone.
    """
    box = None if whole.curved else whole.assembly
    first, *others = whole.nets
    flat = [hole for hole in whole.holes if _is_punched_flat(hole, whole.card.of(hole.net).caliper)]
    filled = [*_filled(whole)]
    steps: list[Step] = []
    last: dict[str, list[Step]] = {}
    for net in whole.nets:
        opened = ends(net, box)
        last[net.name] = [step for end in opened[-1:] for step in _closed(net, box, end)]
        last[net.name] += _gable(net)
        made = [*_made(net, flat, faced)]
        if net is first and box is not None and not last[net.name] and _is_closed(net, box):
            made[-1:-1], filled = filled, []
        steps += made
        steps += [step for end in opened[:-1] for step in _closed(net, box, end)]
    joined = [*_joined(whole.nets, box)]
    into_first = (Action.JOIN_INTO, (first.name,))
    within = [step for step in joined if (step.action, step.targets) == into_first]
    steps += within
    steps += filled
    for step in within:
        steps += last.pop(step.net)
    steps += last.pop(first.name)
    steps += [step for step in joined if step not in within]
    steps += [step for net in others for step in last.get(net.name, ())]
    steps += _punched(Action.PUNCH_CLOSED, [hole for hole in whole.holes if hole not in flat])
    if any(hole.closure for hole in whole.holes):
        steps.append(Step(Action.RIBBON, next(hole.net for hole in whole.holes if hole.closure)))
    return tuple(steps)


def _filled(whole: Box) -> Iterator[Step]:
    """What goes in, or where the piece goes."""
    style = None if whole.origin is None else whole.origin.style
    first = whole.nets[0]
    if style is not None and style.goes:
        yield Step(Action.PUT, first.name, targets=(style.goes,))
    elif (style is not None and style.volume is not None) or _tabs(first):
        yield Step(Action.FILL, first.name)


def _made(net: Net, flat: Sequence[Hole], faced: Faced) -> Iterator[Step]:
    """What is done to one net before anything is closed."""
    if net.hinges:
        valleys = (hinge for hinge in net.hinges if hinge.fold is Fold.VALLEY)
        names = dict.fromkeys(f"{hinge.first} | {hinge.second}" for hinge in valleys)
        yield Step(Action.FOLD, net.name, targets=tuple(names))
    for name, panels in faced:
        if name == net.name:
            yield Step(Action.FACING, name, panels)
    yield from _punched(Action.PUNCH_FLAT, [hole for hole in flat if hole.net == net.name])
    glued = [*_glued(net)]
    yield from glued
    still = held(net)
    if glued and any(
        hinge.flat_deg not in (None, hinge.fold_deg)
        for hinge in net.hinges
        if {hinge.first, hinge.second} <= still
    ):
        seams = {name for step in glued if step.action is Action.SEAM for name in step.panels}
        loose = {*_tabs(net)} - seams
        without = replace(
            net,
            panels=tuple(
                replace(panel, lands_on=None) if panel.name in loose else panel
                for panel in net.panels
            ),
        )
        bound = still - held(without)
        bottom = tuple(p.name for p in net.panels if p.role is Role.BASE and p.name in bound)
        yield Step(Action.SQUARE, net.name, targets=bottom)
    pushed = _pushed_out(net)
    if pushed:
        yield Step(Action.PUSH_OUT, net.name, pushed)


def _tabs(net: Net) -> tuple[str, ...]:
    return tuple(panel.name for panel in net.panels if panel.lands_on is not None)


def _pushed_out(net: Net) -> tuple[str, ...]:
    """Panels that creases alone hold, as those of a pop-up: nothing glues them."""
    bare = replace(net, panels=tuple(replace(panel, lands_on=None) for panel in net.panels))
    still = held(bare)
    return tuple(
        p.name for p in net.panels if p.role is Role.LID and p.name in still - {net.root.name}
    )


def _is_punched_flat(hole: Hole, caliper: float) -> bool:
    """One layer needs nothing to lie on it, and many are too thick later."""
    return len(hole.panels) == 1 or len(hole.panels) * caliper > THICKEST_PUNCHED


def _is_closed(net: Net, box: Assembly) -> bool:
    """Whether the panels enclose a room without an opening, as those of a solid do."""
    faces = [face for face in box.faces if face.net == net.name and face.panel.lands_on is None]
    areas = [(face.pose.normal, face.shape.area) for face in faces]
    open_area = math.hypot(*(sum(normal[i] * area for normal, area in areas) for i in range(3)))
    ring = len({hinge.first for hinge in net.hinges}) > 1
    return ring and bool(_tabs(net)) and open_area < CLOSED_SHARE * sum(area for _, area in areas)


def _closed(net: Net, box: Assembly | None, end: End) -> Iterator[Step]:
    """Closing one opening, what lies inside first."""
    if end.interleaved:
        panels = tuple(closure.first for closure in end.closures)
        inner = tuple(name for closure in end.closures for name in closure.panels[1:])
        if inner:
            yield Step(Action.BRING_UP, net.name, inner, brought=panels)
        else:
            yield Step(Action.INTERLEAVE, net.name, panels)
        return
    for group in end.groups:
        plain = []
        for closure in group:
            if tongues := tuple(name for name in closure.panels if net.panel(name).engages):
                held = [net.panel(name).engages for name in tongues]
                into = tuple(each.panel for each in held if each)
                rest = tuple(name for name in closure.panels if name not in tongues)
                yield Step(Action.ENGAGE, net.name, tongues, into, rest)
            elif walls := () if box is None else behind(net, box, closure):
                yield Step(Action.TUCK, net.name, closure.panels, walls)
            else:
                plain.append(closure)
        if plain:
            panels, brought = _swung(plain)
            outside = group is end.groups[-1] or Role.LID in {net.panel(p).role for p in panels}
            action = Action.CLOSE if outside else Action.FOLD_IN
            yield Step(action, net.name, panels, brought=brought)


def _swung(group: Sequence[Closure]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The panels that close, and those that bring them."""
    brought = tuple(closure.first for closure in group if len(closure.panels) > 1)
    panels = tuple(name for closure in group for name in closure.panels if name not in brought)
    return panels, brought


def _gable(net: Net) -> Iterator[Step]:
    """Gussets go in under the roof before its ridges come together."""
    roles = defaultdict(list)
    for panel in net.panels:
        roles[panel.role].append(panel)
    if not (roles[Role.GUSSET] and roles[Role.RIDGE]):
        return

    def beside(panel: Panel, role: Role, most_deg: float = 181.0) -> bool:
        return any(
            role in {net.panel(hinge.first).role, net.panel(hinge.second).role}
            for hinge in net.hinges_of([panel.name])
            if abs(hinge.fold_deg) < most_deg
        )

    centres = tuple(panel.name for panel in roles[Role.GUSSET] if beside(panel, Role.WALL))
    ridges = tuple(panel.name for panel in roles[Role.RIDGE] if beside(panel, Role.ROOF, 180.0))
    yield Step(Action.GUSSETS, net.name, centres, tuple(p.name for p in roles[Role.ROOF]))
    yield Step(Action.RIDGES, net.name, ridges)


def _glued(net: Net) -> Iterator[Step]:
    for glued in gluings(net):
        action = Action.SEAM if glued.seam else Action.GLUE
        action = Action.JOIN_PARTS if glued.joint else action
        yield Step(action, net.name, glued.tabs, glued.onto, outside=glued.outside)


def _joined(nets: Sequence[Net], box: Assembly | None) -> Iterator[Step]:
    """How the other nets go on, into or round the first, or over what has gone into that; or those
    with slots over what these catch, which waits there."""
    first = nets[0]
    within = [first]
    caught = {net.name: _caught(net, nets) for net in nets}
    waiting = {name for targets in caught.values() for name in targets}
    for net in nets[1:]:
        if net.name in waiting:
            continue
        if caught[net.name]:
            yield Step(Action.JOIN_INTO, net.name, targets=caught[net.name])
            continue
        narrower = (each for each in within if box and _wider(box, net.name, each.name))
        over = next(narrower, None)
        if box is None or over is None:
            within.append(net)
            yield Step(Action.JOIN_INTO, net.name, targets=(first.name,))
        elif not ends(net, box) and not [*_gable(net)] and _is_closed(net, box):
            # A ring that is open at both ends: the first goes into it.
            yield Step(Action.JOIN_INTO, first.name, targets=(net.name,))
        else:
            yield Step(Action.JOIN_OVER, net.name, targets=(over.name,))


def _caught(net: Net, nets: Sequence[Net]) -> tuple[str, ...]:
    """The other nets whose panels the slots of one go over."""
    tongues = {each.panel for panel in net.panels for each in panel.catches}
    tongues -= {panel.name for panel in net.panels}
    return tuple(each.name for each in nets if tongues & {panel.name for panel in each.panels})


def _wider(box: Assembly, one: str, other: str) -> bool:
    def area(name: str) -> float:
        (x0, y0, _), (x1, y1, _) = next(f for f in box.boxes if f.net.name == name).bounds
        return (x1 - x0) * (y1 - y0)

    return area(one) > area(other)


def _punched(action: Action, holes: Sequence[Hole]) -> Iterator[Step]:
    groups: dict[tuple[str, float, int], list[Hole]] = defaultdict(list)
    for hole in holes:
        # Diameters measured on two panels may differ in their last bits.
        groups[hole.net, round(hole.diameter, 6), len(hole.panels)].append(hole)
    for (net, diameter, layers), members in groups.items():
        panels = tuple(dict.fromkeys(name for hole in members for name in hole.panels))
        yield Step(action, net, panels, layers=layers, diameter=diameter)
