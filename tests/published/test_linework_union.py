"""Random nets against shapely's union of their panels: an independent way to the same lines."""

from __future__ import annotations

from hypothesis import given, settings

from cutlayers.net import Net, linework
from tests.net.strategies import crowded_nets, free_nets, lattice_nets
from tests.net.union_proof import prove


@settings(max_examples=80, deadline=None)
@given(lattice_nets())
def test_lines_of_lattice_nets_are_the_union_of_their_panels(net: Net) -> None:
    """Hinged in part, touching unhinged, touching in points, and enclosing holes."""
    prove(net, linework(net))


@settings(max_examples=40, deadline=None)
@given(crowded_nets())
def test_lines_of_crowded_nets_are_the_union_of_their_panels(net: Net) -> None:
    """Holes that touch each other and the rim, and parts that touch in a point."""
    prove(net, linework(net))


@settings(max_examples=60, deadline=None)
@given(free_nets())
def test_lines_of_free_nets_are_the_union_of_their_panels(net: Net) -> None:
    """Any angles, tapered and rounded flaps, hinges along arcs."""
    prove(net, linework(net))
