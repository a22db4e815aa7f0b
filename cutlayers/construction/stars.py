"""A base of n equal sides with a wall on each: prisms, tapered cups and pyramids from one blank.

Geometry, for base sides a, rim sides b (0 for a pyramid) and height h: a regular polygon of side x
has the apothem x/(2·tan(π/n)); the walls run out by the difference `run` of the two apothems, so
they are s = √(h² + run²) high on the flat and fold up by atan2(h, run). Their outside normals lean
down by the same angle, so neighbours turn by acos((h²·cos(2π/n) + run²)/s²).

On the flat, neighbouring walls leave a gap of 360°/n − 2δ at the base corner, where δ is how far
a wall's side leans out; a tab's end must stay in that gap, and inside the wall it lands on.
"""

from __future__ import annotations

import math

from cutlayers.construction.options import LEAST_TAB
from cutlayers.construction.refusing import refuse_above, refuse_small
from cutlayers.construction.style import Card, at_least, below
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role, Shape
from cutlayers.net.shapes import glue_tab, polygon
from cutlayers.telling.errors import StyleError

STEEPEST_DEG = 75.0
"""A tab's end slants at least 15° from square (common practice)."""

INSIDE = 0.92
"""Share of a corner's angle that a tab's end takes up, so that it stays clear of the edge."""

CLEAR_DEG = 3.0
"""A tab keeps at least so far off the neighbouring wall on the flat; less is a sliver to cut."""

USUAL_TAB = 12.0
"""mm; depth of a tab where there is room (common practice: 8–15)."""

LEAST_SIDE = 9.0
"""mm; sides of a base or rim: a tab of the least depth covers not quite half of a wall."""

LEAST_TOP = 2.0
"""mm of a tab's far edge between its slanting ends."""


@frozen
class Star:
    """Sizes of a star, score to score: number of sides, base side, rim side and height."""

    sides: int
    bottom: float
    top: float
    height: float

    @property
    def run(self) -> float:
        """How far a wall runs out from base to rim; negative where the rim is smaller."""
        return apothem(self.sides, self.top) - apothem(self.sides, self.bottom)

    @property
    def slant(self) -> float:
        """Height of a wall on the flat."""
        return math.hypot(self.height, self.run)

    @property
    def base_fold_deg(self) -> float:
        """From the base to a wall."""
        return math.degrees(math.atan2(self.height, self.run))

    @property
    def side_fold_deg(self) -> float:
        """From a wall to its neighbour."""
        turn = self.height**2 * math.cos(2 * math.pi / self.sides) + self.run**2
        return math.degrees(math.acos(turn / self.slant**2))

    @property
    def lean_deg(self) -> float:
        """How far a wall's side leans out from square; negative leans in."""
        return math.degrees(math.atan2((self.top - self.bottom) / 2, self.slant))

    @property
    def side(self) -> float:
        """Length of a wall's slanting side."""
        return math.hypot(self.slant, (self.top - self.bottom) / 2)

    @property
    def gap_deg(self) -> float:
        """Between neighbouring walls on the flat."""
        return 360.0 / self.sides - 2 * self.lean_deg

    @property
    def tab_angles_deg(self) -> tuple[float, float]:
        """Steepest angles between a tab's hinge and its ends, at the base and at the rim."""
        gap = max(self.gap_deg - CLEAR_DEG, CLEAR_DEG)
        at_base = min(STEEPEST_DEG, INSIDE * gap, INSIDE * (90.0 + self.lean_deg))
        # A wall's corner at the rim; a pyramid's apex has what two base corners leave of 180°.
        at_rim = 90.0 - self.lean_deg if self.top else -2 * self.lean_deg
        return at_base, min(STEEPEST_DEG, INSIDE * at_rim)

    @property
    def volume(self) -> float:
        """Of the frustum: h/3·(A₁ + A₂ + √(A₁A₂))."""
        lower, upper = (polygon_area(self.sides, side) for side in (self.bottom, self.top))
        return self.height / 3 * (lower + upper + math.sqrt(lower * upper))

    @property
    def holds_tabs(self) -> bool:
        """Whether there is room for tabs that hold."""
        return not below(self.deepest_tab, LEAST_TAB)

    @property
    def deepest_tab(self) -> float:
        """The deepest tab that keeps its ends apart and stays on the neighbour."""
        if self.gap_deg < 2 * CLEAR_DEG:
            return 0.0
        base, rim = (1 / math.tan(math.radians(angle)) for angle in self.tab_angles_deg)
        deepest = (self.side - LEAST_TOP) / (base + rim)
        if self.top:
            deepest = min(deepest, 0.45 * min(self.bottom, self.top))
        return deepest


def apothem(sides: int, side: float) -> float:
    """Distance from a regular polygon's middle to its sides."""
    return side / (2 * math.tan(math.pi / sides))


def polygon_area(sides: int, side: float) -> float:
    """Area of a regular polygon: n·a²/4 · cot(π/n)."""
    return sides * side**2 / (4 * math.tan(math.pi / sides))


def side_score(card: Card, sides: int, side: float, steepness: float = 1.0) -> float:
    """Score-to-score side of a regular polygon given in the card's measure.

    `steepness` is slant over height of the walls: leaning card is thicker in the plane of the
    base. Source: walls half a caliper inside or outside of the planes move the apothem by that,
    and the side by 2·tan(π/n) as much.
    """
    return side + card.score(0.0, 2) * steepness * math.tan(math.pi / sides)


def refuse_side(card: Card, field: str, side: float, sides: int, steepness: float = 1.0) -> None:
    """Raise StyleError for a side of base or rim, as given, that is too short for tabs."""
    short = side_score(card, sides, side, steepness)
    if below(short, LEAST_SIDE):
        raise StyleError(
            field,
            f"is {side:g} mm, too short for tabs on the walls",
            at_least(side + LEAST_SIDE - short),
        )


def upright(card: Card, sides: int, side: float, height: float, folded_ends: int) -> Star:
    """Upright walls on a base, side and height in the card's measure; `folded_ends` is how many
    ends of a wall are folded."""
    score = side_score(card, sides, side)
    return Star(sides, score, score, card.score(height, folded_ends))


def refuse_upright(
    card: Card, sides: int, side: float, height: float, folded_ends: int, spare: float = 0.0
) -> None:
    """Raise StyleError for upright walls without room inside or for tabs, and `spare` mm more."""
    card.panel("size.height", height, folded_ends)
    refuse_side(card, "size.side", side, sides)
    least = least_height(upright(card, sides, side, height, folded_ends)) + spare
    why = "too low for tabs between the walls"
    refuse_small(card, "size.height", height, folded_ends, least, why)


def least_height(star: Star) -> float:
    """The least height of upright walls with tabs between them."""
    base, rim = (1 / math.tan(math.radians(angle)) for angle in star.tab_angles_deg)
    return LEAST_TOP + LEAST_TAB * (base + rim)


def tab_depth(star: Star, asked: float | None) -> float:
    """The tab's depth: as asked, or the usual one where there is room.

    The star is known to have room for the least one. Raises StyleError for one too deep.
    """
    if asked is None:
        return min(USUAL_TAB, star.deepest_tab)
    refuse_above(
        "options.tab",
        asked,
        star.deepest_tab,
        "deeper than what stays on the next wall and clear of others on the flat",
    )
    return asked


def regular(sides: int, side: float) -> Shape:
    """A regular polygon with its first side on the x axis; edges edge-1, edge-2 …"""
    corners = [(0.0, 0.0)]
    for index in range(sides - 1):
        angle = 2 * math.pi * index / sides
        x, y = corners[-1]
        corners.append((x + side * math.cos(angle), y + side * math.sin(angle)))
    return polygon(*corners, edges=tuple(f"edge-{i}" for i in range(1, sides + 1)))


def star_wall(star: Star) -> Shape:
    """Edges bottom, right, top, left; a pyramid's triangle has no top."""
    inset = (star.bottom - star.top) / 2
    if not star.top:
        return polygon(
            (0, 0),
            (star.bottom, 0),
            (star.bottom / 2, star.slant),
            edges=("bottom", "right", "left"),
        )
    return polygon(
        (0, 0),
        (star.bottom, 0),
        (star.bottom - inset, star.slant),
        (inset, star.slant),
        edges=("bottom", "right", "top", "left"),
    )


def star_tab(star: Star, depth: float) -> Shape:
    """A tab as long as a wall's side, hinged there; its x runs from the base to the rim."""
    base, rim = (depth / math.tan(math.radians(angle)) for angle in star.tab_angles_deg)
    return glue_tab(star.side, depth, rim, base)


def wall_name(index: int) -> str:
    """The first wall is the front; the others are numbered on round the base, as drawn."""
    return "front" if index == 0 else f"wall {index + 1}"


def star_net(name: str, star: Star, tab: Shape | None, base_role: Role = Role.BASE) -> Net:
    """Base, walls "front", "wall 2" …, and on each wall a tab that goes behind the next.

    The tab is hinged to the wall's left side as the wall is drawn; None leaves tabs out.
    """
    net = Net.start(name, "base", regular(star.sides, star.bottom), base_role)
    shape = star_wall(star)
    for index in range(star.sides):
        net = net.attach(
            wall_name(index),
            shape,
            to=f"base.edge-{index + 1}",
            role=Role.WALL,
            fold_deg=star.base_fold_deg,
        )
    if tab is None:
        return net
    for index in range(star.sides):
        net = net.attach(
            f"{wall_name(index)} tab",
            tab,
            to=f"{wall_name(index)}.left",
            role=Role.GLUE_TAB,
            fold_deg=star.side_fold_deg,
            lands_on=wall_name((index + 1) % star.sides),
        )
    return net
