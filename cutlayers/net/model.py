"""Nets: flat panels joined by hinges, drawn with the outside of the box facing up.

An edge that two panels share without a hinge is cut once. The *root* is the panel that keeps still
while the others fold.

Card has thickness, so panels lie on *layers*: the walls that make the box on layer 0, a tab that is
glued inside of one on layer 1, one caliper farther in. A style draws every panel as large as the
box; `attach` steps the crease by the layers between.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Bounds, Segment, union_bounds
from cutlayers.geometry.strokes import Operation
from cutlayers.geometry.transforms import Transform
from cutlayers.net.attaching import attached
from cutlayers.net.edges import COINCIDENT, shared_edge
from cutlayers.net.engagement import Engagement, Held
from cutlayers.net.features import Feature
from cutlayers.net.layers import crease_step, drawn_in
from cutlayers.net.panel import SHOWN, Hinge, Panel, Role, Stand
from cutlayers.net.shapes import Shape
from cutlayers.telling.errors import NetError


@frozen
class Net:
    """Panels and hinges of one flat piece. Guaranteed: names differ, and each hinge's edge lies
    on the borders of both its panels.

    `facets` is for panels that bend along a curved hinge: the same piece with these cut into flat
    strips, which is folded in its stead. Its panels lie where those they stand for lie, and keep
    their names, the middle strip of a bent panel too; the hinges between strips have the operation
    DRAW, since nothing is worked there.

    `caliper` is how far apart layers lie, in mm; of a net with 0 they share a plane. `eased` is by
    how much two panels folded right over lie farther apart than the strip between them is wide.

    A net may be in several parts, drawn as they lie once they are glued together: `joints` are the
    glue tabs that do so, each on a panel of another part (`parts.py`).
    """

    name: str
    panels: tuple[Panel, ...]
    hinges: tuple[Hinge, ...] = ()
    stand: Stand | None = None
    facets: Net | None = None
    caliper: float = 0.0
    eased: float = 0.0
    joints: tuple[str, ...] = ()

    @staticmethod
    def start(
        net: str,
        panel: str,
        shape: Shape,
        role: Role = Role.BASE,
        *,
        caliper: float = 0.0,
        eased: float = 0.0,
    ) -> Net:
        """Begin a net with its root panel, where the shape was drawn."""
        root = Panel(panel, role, shape.outline, shape.edges, shape.features)
        return Net(net, (root,), caliper=caliper, eased=eased)

    @property
    def root(self) -> Panel:
        """The panel that keeps still."""
        return self.panels[0]

    @property
    def bounds(self) -> Bounds:
        """Bounding box of all panels: the size of the blank."""
        return union_bounds(panel.outline.bounds for panel in self.panels)

    @property
    def decorated(self) -> tuple[str, ...]:
        """Names of the panels seen on the closed box, in order: those that artwork goes on."""
        return tuple(panel.name for panel in self.panels if panel.role in SHOWN)

    @property
    def goes_flat(self) -> bool:
        """Whether the finished piece can be pressed flat, or lies flat as it is."""
        return any(hinge.flat_deg is not None for hinge in self.hinges) or all(
            hinge.fold_deg in (0.0, 180.0, -180.0) for hinge in self.hinges
        )

    def pressed_flat(self) -> Net:
        """The net with the fold angles it has once the glued box is pressed flat, where its layers
        share a plane."""
        return replace(
            self,
            caliper=0.0,
            facets=self.facets.pressed_flat() if self.facets else None,
            hinges=tuple(
                replace(
                    hinge,
                    fold_deg=hinge.fold_deg if hinge.flat_deg is None else hinge.flat_deg,
                    strip=0.0,
                    eased=0.0,
                    share=None,
                )
                for hinge in self.hinges
            ),
        )

    def panel(self, name: str) -> Panel:
        """The panel of that name. Raises NetError with the names there are."""
        for panel in self.panels:
            if panel.name == name:
                return panel
        raise NetError(
            f"net {self.name!r} has no panel {name!r}; "
            f"it has {', '.join(panel.name for panel in self.panels)}"
        )

    def attach(
        self,
        name: str,
        shape: Shape,
        *,
        to: str,
        role: Role,
        own: str = "",
        fold_deg: float = 90.0,
        flat_deg: float | None = None,
        operation: Operation = Operation.SCORE,
        at: float | None = None,
        lands_on: str | None = None,
        under: bool = True,
        layer: int | None = None,
        apart: float = 1,
    ) -> Net:
        """Hinge a new panel to an edge of one that is there and return the larger net.

        `to` is "panel.edge"; `own` the new panel's edge that goes there, its first by default.
        The new panel comes to lie on the other side of the shared edge. Where the two edges are
        not equally long, the new one is centred, or begins `at` mm from the start of the edge
        it is attached to (edges run counter-clockwise round their panel).

        `layer` is the layer that the new panel lies on once it is folded: that of the panel it
        hangs on, or one inside (outside) of what it lands on, if not given. Where the two lie on
        different layers the edge is first drawn in, so that the crease stands where the layers
        meet. A panel folded right over comes to lie `apart` calipers from the other, as many as
        what lies between is thick, and one: both become longer by their share of the strip that
        stands there.

        Raises NetError for unknown or doubled names, and for edges that do not overlap or are
        not alike (both straight, or the same arc).
        """
        if any(panel.name == name for panel in self.panels):
            raise NetError(f"net {self.name!r} already has a panel {name!r}")
        host_name, _, host_edge = to.rpartition(".")
        if layer is None:
            layer = self._own_layer(host_name, lands_on, under=under)
        step = self.caliper * crease_step(self.panel(host_name).layer, layer, fold_deg)
        net = self.draw_in(to, step)
        draft = Panel(
            name, role, shape.outline, shape.edges, lands_on=lands_on, under=under, layer=layer
        )
        lie = self.caliper * apart if abs(fold_deg) == 180 else 0.0
        there = attached(
            net.panel(host_name), host_edge, draft, own or shape.edges[0], at, lie, self.eased
        )
        hinge = Hinge(
            host_name,
            name,
            there.edge,
            fold_deg,
            operation,
            flat_deg,
            there.strip,
            lie - there.strip,
        )
        net = net._with(there.host)
        net = replace(net, panels=(*net.panels, there.panel), hinges=(*net.hinges, hinge))
        return net.work(name, *shape.features, place=there.place)

    def engage(self, tongue: str, into: str, lock: Engagement) -> Net:
        """Let a panel be held by a slit, slot or recess of another. Raises NetError for unknown
        ones."""
        return self._with(replace(self.panel(tongue), engages=Held(self.panel(into).name, lock)))

    def catch(self, slit: str, tongues: Mapping[str, Engagement]) -> Net:
        """Let the slits of a panel hold others, over which it closes or is set; those that this net
        has not are panels of another one. Raises NetError for an unknown panel with slits."""
        held = tuple(Held(name, lock) for name, lock in tongues.items())
        return self._with(replace(self.panel(slit), catches=held))

    @property
    def engagements(self) -> tuple[tuple[str, str, Engagement], ...]:
        """Every tongue with the panel whose slit, slot or recess holds it, by their names, and what
        both were made from."""
        pushed = [(p.name, p.engages.panel, p.engages.lock) for p in self.panels if p.engages]
        caught = [(each.panel, p.name, each.lock) for p in self.panels for each in p.catches]
        return (*pushed, *caught)

    def panel_of(self, facet: str) -> str:
        """The panel that a facet is a part of: its name begins the facet's; else the facet's own
        name."""
        names = [panel.name for panel in self.panels if f"{facet} ".startswith(f"{panel.name} ")]
        return max(names, key=len, default=facet)

    def draw_in(self, where: str, by: float) -> Net:
        """Move a straight edge, given as "panel.edge", `by` mm into its panel, or out of it where
        that is negative; hinges beside it become as much shorter or longer.

        What the panel's neighbours are as large as stays. Raises NetError where the edge is
        hinged itself, and where the edges beside it leave it no room.
        """
        if abs(by) <= COINCIDENT:
            return self
        name, _ = self._resolve(where)
        panel = self.panel(name)
        index = panel.edges.index(where.rpartition(".")[2])
        return self._reshaped(replace(panel, outline=drawn_in(panel.outline, index, by)))

    def cut_corners(self, name: str, by: float) -> Net:
        """Cut the corners off a panel with straight edges, each `by` mm along both of its edges;
        hinges become as much shorter."""
        panel = self.panel(name)
        corners, edges = [], []
        for edge, side in zip(panel.edges, panel.outline.segments, strict=True):
            share = by / side.chord
            corners += [side.point_at(share), side.point_at(1 - share)]
            edges += [edge, f"{edge} corner"]
        cut = replace(panel, outline=Path.polygon(corners), edges=tuple(edges))
        return self._reshaped(cut)

    def _reshaped(self, panel: Panel) -> Net:
        """The net with another outline of a panel, and its hinges as long as that leaves them."""
        return replace(
            self._with(panel),
            hinges=tuple(
                hinge.along(panel) if panel.name in (hinge.first, hinge.second) else hinge
                for hinge in self.hinges
            ),
        )

    def close(
        self,
        one: str,
        other: str,
        *,
        fold_deg: float,
        flat_deg: float | None = None,
        operation: Operation = Operation.SCORE,
    ) -> Net:
        """Hinge two panels that already lie edge to edge, each given as "panel.edge".

        Raises NetError where the edges do not run along each other, and where they are hinged
        already.
        """
        first, edge = self._resolve(one)
        second, twin = self._resolve(other)
        shared = shared_edge(edge, twin)
        if shared is None:
            raise NetError(f"{one!r} and {other!r} do not lie edge to edge")
        for hinge in self.hinges:
            if {hinge.first, hinge.second} == {first, second} and (
                shared_edge(hinge.edge, twin) or shared_edge(hinge.edge, edge)
            ):
                raise NetError(f"{one!r} and {other!r} are hinged already")
        return replace(
            self,
            hinges=(*self.hinges, Hinge(first, second, shared, fold_deg, operation, flat_deg)),
        )

    def work(self, panel: str, *features: Feature, place: Transform | None = None) -> Net:
        """Add features to a panel; `place` moves them from where they were drawn."""
        if not features:
            return self
        moved = tuple(
            replace(feature, path=feature.path.transformed(place)) if place else feature
            for feature in features
        )
        target = self.panel(panel)
        grown = replace(target, features=target.features + moved)
        return replace(
            self, panels=tuple(grown if each is target else each for each in self.panels)
        )

    def transformed(self, transform: Transform) -> Net:
        """The net moved as a whole, `stand` left out of it. No mirror: it would turn the face."""
        if transform.determinant < 0:
            raise NetError("a net cannot be mirrored: its outside would face down")
        return replace(
            self,
            panels=tuple(
                replace(
                    panel,
                    outline=panel.outline.transformed(transform),
                    features=tuple(
                        replace(feature, path=feature.path.transformed(transform))
                        for feature in panel.features
                    ),
                )
                for panel in self.panels
            ),
            hinges=tuple(
                replace(
                    hinge,
                    edge=replace(
                        hinge.edge,
                        start=transform.apply(hinge.edge.start),
                        end=transform.apply(hinge.edge.end),
                    ),
                )
                for hinge in self.hinges
            ),
            facets=self.facets.transformed(transform) if self.facets else None,
        )

    def hinges_of(self, names: Iterable[str]) -> tuple[Hinge, ...]:
        """The hinges that touch any of the named panels."""
        wanted = set(names)
        return tuple(hinge for hinge in self.hinges if wanted & {hinge.first, hinge.second})

    def _with(self, panel: Panel) -> Net:
        """The net with a panel in place of that of the same name."""
        return replace(
            self,
            panels=tuple(panel if each.name == panel.name else each for each in self.panels),
        )

    def _own_layer(self, host: str, lands_on: str | None, *, under: bool) -> int:
        """The layer of a panel that nothing else is said of."""
        if lands_on is None:
            return self.panel(host).layer
        target = next((panel.layer for panel in self.panels if panel.name == lands_on), 0)
        return target + (1 if under else -1)

    def _resolve(self, reference: str) -> tuple[str, Segment]:
        panel, _, edge = reference.rpartition(".")
        return panel, self.panel(panel).edge(edge)
