"""The order in which a box goes together, derived from its hinges, tabs and folded shape.

First every net by itself: fold all, stick facings on while the card is flat, punch what is too
thick to punch later, glue the seam that makes a ring, then what closes the ring's end, then the
rest. Then the nets go together, and last is closed what has no glue: flaps before the panel that
covers them, a gable's gussets before its ridge.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from enum import StrEnum
from typing import TYPE_CHECKING

from cutlayers.box.layers import layers_at
from cutlayers.frozen import frozen
from cutlayers.geometry.strokes import Fold
from cutlayers.net import Net, Panel, Role, Work
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import Face, facing, height, seen_from
from cutlayers.net.stacking import key

if TYPE_CHECKING:
    from cutlayers.box.box import Box

THICKEST_PUNCHED = 1.4
"""mm of card that a hand punch bites through at once; common practice is three to four sheets
of box card."""

MANY = 3
"""Tabs from which on they are told in one step, each with its own panel."""

NEAR_PLANES = 3.0
"""mm; a flap that ends up no farther behind a panel is covered by it."""


class Action(StrEnum):
    """What is done in one step."""

    FOLD = "fold"
    FACING = "facing"
    PUNCH_FLAT = "punch flat"
    SEAM = "seam"
    GLUE = "glue"
    JOIN_OVER = "join over"
    JOIN_INTO = "join into"
    FILL = "fill"
    FOLD_IN = "fold in"
    CLOSE = "close"
    TUCK = "tuck"
    GUSSETS = "gussets"
    RIDGES = "ridges"
    PUNCH_CLOSED = "punch closed"
    RIBBON = "ribbon"


@frozen
class Step:
    """One step: what is done, to which panels, and onto, behind or over which others.

    `outside` says of glued panels that they go on the outside of their target. `layers` counts
    the layers of card at a hole. Panels that fold towards the viewer are the targets of FOLD.
    """

    action: Action
    net: str
    panels: tuple[str, ...] = ()
    targets: tuple[str, ...] = ()
    outside: bool = False
    layers: int = 0
    diameter: float = 0.0


@frozen
class Hole:
    """One hole through a pile of panels, as it lies in the folded box."""

    net: str
    panels: tuple[str, ...]
    diameter: float
    closure: bool


Faced = tuple[tuple[str, tuple[str, ...]], ...]
"""Net names, each with the panels that get a facing piece."""


def assembly_steps(whole: Box, faced: Faced = ()) -> tuple[Step, ...]:
    """The steps for one box.

    A net with curved folds is not folded up: its steps then follow from its hinges alone.
    """
    nets = whole.nets
    box = None if whole.curved else whole.assembly
    flat = [hole for hole in whole.holes if len(hole.panels) * whole.caliper > THICKEST_PUNCHED]
    steps: list[Step] = []
    later: list[Step] = []
    for net in nets:
        steps.append(_fold_all(net))
        steps += [Step(Action.FACING, name, panels) for name, panels in faced if name == net.name]
        steps += _punched(Action.PUNCH_FLAT, [hole for hole in flat if hole.net == net.name])
        steps += _glued(net)
        first, second = _closed(net, box)
        steps += first
        later += second
    joined = list(_joined(nets, box))
    over = [step for step in joined if step.action is Action.JOIN_OVER]
    steps += [step for step in joined if step.action is Action.JOIN_INTO]
    if any(panel.role is Role.WALL for panel in nets[0].panels) and (over or later):
        steps.append(Step(Action.FILL, nets[0].name))
    steps += over
    steps += later
    steps += _punched(Action.PUNCH_CLOSED, [hole for hole in whole.holes if hole not in flat])
    if any(hole.closure for hole in whole.holes):
        steps.append(Step(Action.RIBBON, next(hole.net for hole in whole.holes if hole.closure)))
    return tuple(steps)


def _fold_all(net: Net) -> Step:
    valleys = [hinge for hinge in net.hinges if hinge.fold is Fold.VALLEY]
    names = tuple(f"{hinge.first} | {hinge.second}" for hinge in valleys)
    return Step(Action.FOLD, net.name, targets=names)


def _glued(net: Net) -> Iterator[Step]:
    """Glue tabs that hang together or land on one panel in one step, rings before their ends."""
    tabs = {panel.name: panel for panel in net.panels if panel.role is Role.GLUE_TAB}
    groups: dict[str, list[Panel]] = defaultdict(list)
    for name, panel in tabs.items():
        chain = min(_linked(net, name, tabs))
        # Tabs of one seam hang together; single tabs are pressed on panel by panel.
        own = len(_linked(net, name, tabs)) > 1
        groups[f"seam of {chain}" if own else f"onto {panel.lands_on}"].append(panel)
    order = {panel.name: index for index, panel in enumerate(net.panels)}

    def rank(group: Sequence[Panel]) -> tuple[bool, bool, int]:
        ring = any(_makes_ring(net, panel) for panel in group)
        covers = any(net.panel(p.lands_on or p.name).role in (Role.LID, Role.FLAP) for p in group)
        return (not ring, covers, min(order[panel.name] for panel in group))

    single = [name for name, group in groups.items() if len(group) == 1]
    # Many tabs that each have a panel of their own are glued round in one go.
    if len(single) >= MANY and not any(_makes_ring(net, groups[name][0]) for name in single):
        groups["all round"] = [groups.pop(name)[0] for name in single]
    for group in sorted(groups.values(), key=rank):
        yield Step(
            Action.SEAM if any(_makes_ring(net, panel) for panel in group) else Action.GLUE,
            net.name,
            tuple(panel.name for panel in group),
            tuple(dict.fromkeys(panel.lands_on or "" for panel in group)),
            outside=not group[0].under,
        )


def _linked(net: Net, name: str, among: Iterable[str]) -> set[str]:
    """The panels that hang together with one by hinges, passing only through `among`."""
    allowed, found, waiting = set(among), {name}, [name]
    while waiting:
        here = waiting.pop()
        for hinge in net.hinges_of([here]):
            other = hinge.second if hinge.first == here else hinge.first
            if other in allowed and other not in found:
                found.add(other)
                waiting.append(other)
    return found


def _makes_ring(net: Net, tab: Panel) -> bool:
    """Whether a tab joins two ends of one strip of walls."""
    strip = [panel.name for panel in net.panels if panel.role is Role.WALL]
    return tab.lands_on in _linked(net, tab.name, [tab.name, *strip])


def _closed(net: Net, box: Assembly | None) -> tuple[list[Step], list[Step]]:
    """Steps that close what has no glue: those at the bottom, and those to do once it is filled."""
    roles = defaultdict(list)
    for panel in net.panels:
        roles[panel.role].append(panel)
    gable: list[Step] = []
    if roles[Role.GUSSET] and roles[Role.RIDGE]:
        centres = [
            panel.name
            for panel in roles[Role.GUSSET]
            if any(
                Role.WALL in {net.panel(h.first).role, net.panel(h.second).role}
                for h in net.hinges_of([panel.name])
            )
        ]
        ridges = [
            panel.name
            for panel in roles[Role.RIDGE]
            if any(
                Role.ROOF in {net.panel(h.first).role, net.panel(h.second).role}
                for h in net.hinges_of([panel.name])
                if abs(h.fold_deg) < 180.0
            )
        ]
        gable = [
            Step(Action.GUSSETS, net.name, tuple(centres), tuple(p.name for p in roles[Role.ROOF])),
            Step(Action.RIDGES, net.name, tuple(ridges)),
        ]
    if box is None:
        flaps = tuple(p.name for p in net.panels if p.role in (Role.LID, Role.FLAP))
        return [], [Step(Action.FOLD_IN, net.name, flaps)] if flaps else []
    ends = _ends(net, box)
    bottom = [step for low, steps in ends if low for step in steps]
    top = [step for low, steps in ends if not low for step in steps]
    return (bottom, top + gable) if len(ends) > 1 else ([], bottom + top + gable)


def _ends(net: Net, box: Assembly) -> list[tuple[bool, list[Step]]]:
    """Each lid with the flaps that it covers and its own tuck; whether it is the floor."""
    faces = {face.name: face for face in box.faces if face.net == net.name}
    lids = [panel for panel in net.panels if panel.role is Role.LID]
    flaps = [panel.name for panel in net.panels if panel.role is Role.FLAP]
    taken: set[str] = set()
    ends = []
    floor = min(face.low[2] for face in faces.values())
    for lid in lids:
        own = _linked(net, lid.name, [lid.name, *flaps]) - {lid.name}
        own -= taken
        covered = [
            name
            for name in flaps
            if name not in own and name not in taken and _covers(faces[lid.name], faces[name])
        ]
        taken |= {*own, *covered}
        steps = []
        if covered:
            steps.append(Step(Action.FOLD_IN, net.name, tuple(covered)))
        if own:
            behind = _behind(faces, sorted(own), net)
            tucks = tuple(name for name in flaps if name in own)
            steps.append(Step(Action.TUCK, net.name, (lid.name, *tucks), behind))
        else:
            steps.append(Step(Action.CLOSE, net.name, (lid.name,)))
        ends.append((faces[lid.name].high[2] - floor < NEAR_PLANES, steps))
    rest = tuple(name for name in flaps if name not in taken)
    if rest:
        ends.append((False, [Step(Action.FOLD_IN, net.name, rest)]))
    return ends


def _covers(lid: Face, flap: Face) -> bool:
    from cutlayers.geometry.overlays import common

    return bool(
        facing(lid, flap)
        and abs(height(lid, flap)) <= NEAR_PLANES
        and common(lid.shape, seen_from(lid.pose, flap.pose, flap.shape)).area > 1.0
    )


def _behind(faces: dict[str, Face], tucks: Sequence[str], net: Net) -> tuple[str, ...]:
    """The walls that tucks end up behind."""
    return tuple(
        panel.name
        for panel in net.panels
        if panel.role in (Role.WALL, Role.BASE)
        and any(_covers(faces[panel.name], faces[tuck]) for tuck in tucks)
    )


def _joined(nets: Sequence[Net], box: Assembly | None) -> Iterator[Step]:
    for net in nets[1:]:
        over = box is None or _wider(box, net.name, nets[0].name)
        action = Action.JOIN_OVER if over else Action.JOIN_INTO
        yield Step(action, net.name, targets=(nets[0].name,))


def _wider(box: Assembly, one: str, other: str) -> bool:
    def area(name: str) -> float:
        (x0, y0, _), (x1, y1, _) = next(f for f in box.boxes if f.net.name == name).bounds
        return (x1 - x0) * (y1 - y0)

    return area(one) > area(other)


def holes(box: Assembly, caliper: float) -> tuple[Hole, ...]:
    """Punched holes of the folded box, those that lie on each other counted as one."""
    found: list[Hole] = []
    done: set[tuple[str, str]] = set()
    from cutlayers.box.box import ROOMY_LID

    reach = caliper + ROOMY_LID
    for face in box.faces:
        for feature in face.panel.features:
            if feature.work is not Work.PUNCH or (key(face)[1], feature.name) in done:
                continue
            x0, y0, x1, y1 = feature.path.bounds
            pile = layers_at(box, face.net, face.name, ((x0 + x1) / 2, (y0 + y1) / 2), reach)
            names = tuple(layer.name for layer in pile)
            done |= {(name, feature.name) for name in names}
            found.append(Hole(face.net, names, x1 - x0, feature.closes))
    return tuple(found)


def _punched(action: Action, holes: Sequence[Hole]) -> Iterator[Step]:
    groups: dict[tuple[str, float, int], list[Hole]] = defaultdict(list)
    for hole in holes:
        groups[hole.net, hole.diameter, len(hole.panels)].append(hole)
    for (net, diameter, layers), members in groups.items():
        panels = tuple(dict.fromkeys(name for hole in members for name in hole.panels))
        yield Step(action, net, panels, layers=layers, diameter=diameter)
