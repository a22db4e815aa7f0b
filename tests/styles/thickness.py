"""Style × caliper: how deep slabs of the closed box share room, the play that what slides and what
locks has, and the steps walked on the way there.

Boxes have the sizes of their example, in card up to what the style says it is for. Play is what
nets that go over each other leave, and tucks between two walls, both sides together, and what is
left of slits once their tongues are in; `-` where there is none of them.

`python -m tests.styles.thickness [STYLE …]` prints the table; a `!` marks what is beyond its limit.
"""

from __future__ import annotations

import itertools
import math
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cutlayers.box import Box, build
from cutlayers.box.steps import Action
from cutlayers.box.walking import walk
from cutlayers.checks.lid import ends, sides
from cutlayers.construction.calipers import calipers_of
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles
from cutlayers.net.locks import locks
from cutlayers.net.panel import Role
from cutlayers.net.slabs import SharedRoom, allowed, shared_room
from cutlayers.net.space import dot
from cutlayers.telling.errors import StyleError

CALIPERS = (0.2, 0.3, 0.5, 1.0, 1.5, 2.0, 3.0)
"""mm; from paper to greyboard."""


@dataclass(frozen=True, slots=True)
class Row:
    """One box: the pairs that share more room than allowed, and the deepest pair of all."""

    style: str
    caliper: float
    beyond: int
    deepest: SharedRoom | None
    play: float | None
    """mm of the tightest way that a net slides, both sides together, or slit."""

    @property
    def depth(self) -> float:
        """mm that the deepest pair shares, to 0.001."""
        return round(self.deepest.depth, 3) if self.deepest else 0.0


def boxed(style: Style, caliper: float) -> Box | None:
    """A style's example; None where it refuses card of that caliper."""
    try:
        return build(style, style.dimensions(), Card(caliper))
    except StyleError:
        return None


def row(style: Style, caliper: float) -> Row | None:
    """What is measured on a style's example; None where it refuses card of that caliper."""
    box = boxed(style, caliper)
    if box is None:
        return None
    found = shared_room(box.assembly, {net.name: caliper for net in box.nets})
    beyond = sum(each.depth > allowed(caliper) for each in found)
    return Row(style.name, caliper, beyond, found[0] if found else None, least_play(box))


def least_play(box: Box) -> float | None:
    """The least room of two sides that lie opposite each other, of a tongue in its slit, or of a
    tuck between two walls; None where there is none of them."""
    assembly, card = box.assembly, box.card
    rooms = [lock.play for net in box.nets for lock in locks(assembly, net) if net.caliper]
    rooms += tuck_play(box)
    for one, other in itertools.combinations([net.name for net in box.nets], 2):
        for found in (
            sides(assembly, one, other, card),
            ends(assembly, one, other, card),
            ends(assembly, other, one, card),
        ):
            rooms += [
                first.room + second.room
                for first, second in itertools.combinations(found, 2)
                if dot(first.normal, second.normal) < -1 + 1e-9
            ]
    return min((room for room in rooms if room is not None), default=None)


def usual_play(style: Style) -> float:
    """mm that the tightest pair of a style's example has: a millimetre where a net goes over
    another, for slits half a millimetre, 0.15 mm for strips that clamp each other (common practice,
    no source)."""
    return {
        "partition": 0.15,
        "telescope-box": 1.0,
        "prism-box": 1.0,
        "sleeve-and-drawer": 1.0,
    }.get(style.name, 0.5)


def tuck_play(box: Box) -> Iterator[float]:
    """The room of each tuck between the inner faces of the two walls at its ends, together."""
    faces = {face.label: face for face in box.assembly.faces}
    tucked = (step for step in box.steps() if step.action is Action.TUCK)
    for net, name in ((step.net, name) for step in tucked for name in step.panels[1:]):
        tuck, half = faces[f"{net}: {name}"], box.card.of(net).caliper / 2
        beside = {}
        for wall in faces.values():
            across = wall.net == net and abs(dot(wall.pose.normal, tuck.pose.normal)) < 1e-9
            if across and wall.panel.role is Role.WALL:
                heights = [wall.pose.flat(tuck.pose.place(at))[2] for at in tuck.ring]
                beside[wall.name] = (wall.pose.normal, -max(heights) - half)
        for (one, room), (other, more) in itertools.combinations(beside.values(), 2):
            if dot(one, other) < -1 + 1e-9:
                yield room + more


def table(wanted: Sequence[str] = ()) -> Iterator[str]:
    """A line for each style and caliper. `steps` are moves that were walked, in so many `turns` and
    `slides`; `way` is how many mm a panel would go through another on it, `bend` the tightest
    radius in calipers to which one has to bend or bow."""
    yield (
        f"{'style':18} {'caliper':>7} {'allowed':>7} {'deepest':>7} {'play':>6} {'steps':>5} "
        f"{'turns':>5} {'slides':>6} {'way':>5} {'bend':>5}  deepest pair"
    )
    for style in styles():
        if wanted and style.name not in wanted:
            continue
        most = calipers_of(style).most
        for caliper in CALIPERS:
            if most is not None and caliper > most:
                yield f"{style.name:18} {caliper:7.1f} for card up to {most:g} mm"
                break
            yield line(style, caliper)


def line(style: Style, caliper: float) -> str:
    """One line of the table."""
    found, box = row(style, caliper), boxed(style, caliper)
    if found is None or box is None:
        return f"{style.name:18} {caliper:7.1f} refused"
    pair, ways = found.deepest, walk(box)
    way = max((each.depth for each in ways), default=0.0)
    bend = min((min(each.radius, each.bow) for each in ways), default=math.inf) / caliper
    tight = found.play is not None and found.play < usual_play(style) - 1e-6
    wrong = found.beyond or tight or bend < tightest(style)
    return (
        f"{style.name:18} {caliper:7.1f} {allowed(caliper):7.2f} {found.depth:7.3f} "
        f"{'-' if found.play is None else format(found.play, '.2f'):>6} {len(ways):5d} "
        f"{sum(way.turns for way in ways):5d} {sum(way.slid > 0 for way in ways):6d} "
        f"{format(way, '.2f') if way else '-':>5} "
        f"{format(bend, '.0f') if bend < math.inf else '-':>5}"
        f"{' !' if wrong else '  '}{pair.one.label + ' / ' + pair.other.label if pair else ''}"
    ).rstrip()


def tightest(style: Style) -> float:
    """Calipers; card stretches by one per cent on the outside of a bend with a radius of 50, and is
    none the worse: from memory. A limp style is of paper, which is none the worse for four."""
    return 12.5 if style.limp else 50.0


if __name__ == "__main__":
    for text in table(sys.argv[1:]):
        print(text, flush=True)
