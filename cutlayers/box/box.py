"""A box: its blanks standing together, and what can be seen and counted on them.

Whoever needs lines, folded shapes, stacks, steps or covered panels asks the box: each is worked
out when it is first asked for, and kept. Boxes that are made of the same are one: pieces of a job
and rows of a kit that have one size share all that follows from it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import field, replace
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

from cutlayers.box.blank import Blank
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point
from cutlayers.net.folding import FoldedNet
from cutlayers.net.model import Net
from cutlayers.net.space import Vector

if TYPE_CHECKING:  # measuring needs a heavy library, which is loaded when first measured
    from cutlayers.box.covers import Cover
    from cutlayers.box.holes import Hole
    from cutlayers.box.moves import Motion
    from cutlayers.box.pressing import Press
    from cutlayers.box.steps import Faced, Step
    from cutlayers.box.ways import Way
    from cutlayers.net.assembly import Assembly
    from cutlayers.net.faces import Face

LIFTED = 0.35
"""How far a lid is lifted off, as a share of the box's height, once it is clear of the base."""

ROOMY_LID = 1.25
"""mm of room on a side that a lid usually has at most; layers farther apart are no pile of card."""

KEPT = 64
"""Boxes kept for the next that is made of the same: as many sizes as a kit may well have."""

HALF, HALF_WITH_LOOPS = 0.55, 0.7
"""Fractions shown as half folded: farther where loops would gape."""


@frozen
class Origin:
    """What a style made a box from. `dims` is an instance of the style's dimensions, in mm."""

    style: Style
    dims: object
    card: Card

    @property
    def sizes(self) -> tuple[tuple[str, float], ...]:
        """The style's own sizes in mm, by their names."""
        return tuple(
            (name.replace("_", " "), float(getattr(self.dims, name)))
            for name, (dimension, _) in self.style.table.items()
            if dimension.group == "size" and dimension.is_length
        )


@frozen(slots=False)
class Box:
    """One box of some card. Guaranteed: each derived thing is worked out at most once; names of
    nets differ.

    `wholes` are its nets; `blanks`, what is cut, are these or their parts.

    `origin` says where the nets came from; None for nets that no style made. The first net is the
    one that the others sit on.
    """

    wholes: tuple[Blank, ...]
    card: Card
    origin: Origin | None = None
    _steps: dict[Faced, tuple[Step, ...]] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    @staticmethod
    def of(nets: Iterable[Net], card: Card, origin: Origin | None = None) -> Box:
        """A box of these nets."""
        wholes = tuple(_blank_of(net, card.of(net.name).relief) for net in nets)
        return Box(wholes, card, origin)

    def with_nets(self, nets: Iterable[Net]) -> Box:
        """The same box with other nets, lettered or rounded; itself where they are its own."""
        found = tuple(nets)
        return self if found == self.nets else _box_of(found, self.card, self.origin)

    @cached_property
    def nets(self) -> tuple[Net, ...]:
        """What is folded up."""
        return tuple(blank.net for blank in self.wholes)

    @cached_property
    def blanks(self) -> tuple[Blank, ...]:
        """The flat pieces: the nets, or the parts that one is joined of."""
        return tuple(part for blank in self.wholes for part in blank.parts)

    def blank(self, net: str) -> Blank:
        """A net, whole. Raises KeyError for a name that none has."""
        for blank in self.wholes:
            if blank.name == net:
                return blank
        raise KeyError(net)

    @property
    def curved(self) -> bool:
        """Whether a fold of any net is curved."""
        return any(blank.curved for blank in self.wholes)

    @property
    def foldable(self) -> bool:
        """Whether each net, or its facets, can be folded as rigid panels."""
        return all(blank.foldable for blank in self.wholes)

    @cached_property
    def assembly(self) -> Assembly:
        """All nets folded up, each where its stand says. Raises NetError as `fold` does."""
        return _assembled(blank.folded() for blank in self.wholes)

    @cached_property
    def goes_together(self) -> bool:
        """Whether nets are put together, and none stands beside the first: how those of a drawing
        are, nobody said. Raises NetError as `fold` does."""
        first, *others = (blank.folded().bounds for blank in self.wholes)
        return bool(others) and all(_over(first, other) for other in others)

    @cached_property
    def half_folded(self) -> tuple[Assembly, ...]:
        """Each net by itself on its way to the finished box. Raises NetError as `fold` does."""
        return tuple(_assembled([_half(blank)]) for blank in self.wholes)

    @cached_property
    def apart(self) -> Assembly:
        """All nets folded up, each lid lifted clear of what is below it; of a single net the same
        as `assembly`."""
        if len(self.wholes) < 2:
            return self.assembly
        folded = [blank.folded() for blank in self.wholes]
        base = folded[0]
        tall = max(each.bounds[1][2] for each in folded) - base.bounds[0][2]
        top = base.bounds[1][2]
        for index, lid in enumerate(folded[1:], start=1):
            folded[index] = _lifted(lid, top - lid.bounds[0][2] + LIFTED * tall)
            top = folded[index].bounds[1][2]
        return _assembled(folded)

    def layers_at(self, net: str, panel: str, point: Point, reach: float) -> tuple[Face, ...]:
        """The panels stacked at a flat point of a panel, the one on its inside first.

        Two layers belong to one pile where they lie no farther apart than `reach` mm; holes do
        not count as gaps. Raises KeyError for an unknown panel.
        """
        from cutlayers.box.layers import layers_at

        return layers_at(self.assembly, net, panel, point, reach)

    @cached_property
    def holes(self) -> tuple[Hole, ...]:
        """Punched holes of the folded box, those that lie on each other counted as one; none
        where folds are curved."""
        from cutlayers.box.holes import holes

        return () if self.curved else holes(self.assembly, self.card)

    def steps(self, faced: Faced = ()) -> tuple[Step, ...]:
        """How the box goes together. `faced` are net names with the panels that get a facing."""
        if faced not in self._steps:
            from cutlayers.box.steps import assembly_steps

            self._steps[faced] = assembly_steps(self, faced)
        return self._steps[faced]

    @cached_property
    def motions(self) -> tuple[Motion, ...]:
        """What turns or slides in each step that moves something."""
        from cutlayers.box.motions import motions

        return motions(self)

    @cached_property
    def ways(self) -> tuple[Way, ...]:
        """Every move on the way to the finished box, walked; see `walk`."""
        from cutlayers.box.walking import walk

        return walk(self)

    @cached_property
    def unreached(self) -> tuple[Press, ...]:
        """What is pressed from inside on that way where no finger gets in."""
        from cutlayers.box.reaching import unreached

        return unreached(self)

    @cached_property
    def covers(self) -> tuple[Cover, ...]:
        """What the finished box hides of its own panels."""
        from cutlayers.box.covers import covers

        return tuple(covers(self.wholes))


@lru_cache(KEPT)
def build(style: Style, dims: object, card: Card) -> Box:
    """The box that a style makes of dimensions and card, sizes in the card's measure.

    Raises StyleError for dimensions that cannot be folded.
    """
    return Box.of(style.build(dims, card), card, Origin(style, dims, card))


@lru_cache(KEPT)
def _blank_of(net: Net, relief: float) -> Blank:
    """Boxes of one height and another have the same lid, which is folded once."""
    return Blank(net, relief)


@lru_cache(KEPT)
def _box_of(nets: tuple[Net, ...], card: Card, origin: Origin | None) -> Box:
    return Box.of(nets, card, origin)


def _assembled(folded: Iterable[FoldedNet]) -> Assembly:
    from cutlayers.net.assembly import together

    return together(folded)


def _half(blank: Blank) -> FoldedNet:
    return blank.folded(HALF_WITH_LOOPS if blank.folded().closures else HALF)


def _lifted(folded: FoldedNet, rise: float) -> FoldedNet:
    poses = {name: pose.shifted((0.0, 0.0, rise)) for name, pose in folded.poses.items()}
    return replace(folded, poses=poses)


def _over(one: tuple[Vector, Vector], other: tuple[Vector, Vector]) -> bool:
    """Whether two extents share room seen from above."""
    (low, high), (other_low, other_high) = one, other
    return all(low[i] < other_high[i] and other_low[i] < high[i] for i in (0, 1))
