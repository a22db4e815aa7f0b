"""Style × caliper: how deep slabs of the closed box share room, and the play between its nets.

Boxes have the sizes of their example; play is what nets that go over each other leave.

`python -m tests.styles.thickness [STYLE …]` prints the table.
"""

from __future__ import annotations

import itertools
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cutlayers.box import Box, build
from cutlayers.box.walking import walk
from cutlayers.checks.lid import ends, sides
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles
from cutlayers.net.assembly import Assembly
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
    """mm between two nets that go over each other, both sides of the tightest way together."""

    @property
    def depth(self) -> float:
        """mm that the deepest pair shares, to 0.001."""
        return round(self.deepest.depth, 3) if self.deepest else 0.0


def row(style: Style, caliper: float) -> Row | None:
    """What is measured on a style's example; None where it refuses card of that caliper."""
    dims = style.dimensions(**{name: default for name, (_, default) in style.table.items()})
    try:
        nets = style.build(dims, Card(caliper))
    except StyleError:
        return None
    assembly = Box.of(nets, Card(caliper)).assembly
    found = shared_room(assembly, {net.name: caliper for net in nets})
    beyond = sum(each.depth > allowed(caliper) for each in found)
    play = least_play(assembly, caliper)
    return Row(style.name, caliper, beyond, found[0] if found else None, play)


def least_play(assembly: Assembly, caliper: float) -> float | None:
    """The least room of two sides that lie opposite each other; None for a box of one net."""
    rooms = []
    names = [folded.net.name for folded in assembly.boxes]
    for one, other in itertools.combinations(names, 2):
        for found in (
            sides(assembly, one, other, Card(caliper)),
            ends(assembly, one, other, Card(caliper)),
            ends(assembly, other, one, Card(caliper)),
        ):
            rooms += [
                first.room + second.room
                for first, second in itertools.combinations(found, 2)
                if dot(first.normal, second.normal) < -1 + 1e-9
            ]
    return min(rooms, default=None)


def table(wanted: Sequence[str] = ()) -> Iterator[str]:
    """A line for each style and caliper; `turns` are those in which its closing is walked, `stuck`
    is how many mm a panel would go through another on the way."""
    heads = f"{'style':20} {'caliper':>7} {'allowed':>7} {'deepest':>7} {'beyond':>6}"
    yield f"{heads} {'play':>6} {'turns':>5} {'stuck':>5}  pair"
    for style in styles():
        if wanted and style.name not in wanted:
            continue
        for caliper in CALIPERS:
            found = row(style, caliper)
            if found is None:
                yield f"{style.name:20} {caliper:7.1f} refused"
                continue
            pair = found.deepest
            ways = walk(build(style, style.dimensions(), Card(caliper)))
            turns = sum(way.turns for way in ways)
            stuck = max((way.depth for way in ways), default=0.0)
            play = " " * 6 if found.play is None else f"{found.play:6.2f}"
            names = f"{pair.one.label} / {pair.other.label}" if pair else ""
            yield (
                f"{style.name:20} {caliper:7.1f} {allowed(caliper):7.2f} {found.depth:7.3f} "
                f"{found.beyond:6d} {play} {turns:5d} {stuck:5.2f}  {names}"
            )


if __name__ == "__main__":
    print("\n".join(table(sys.argv[1:])))
