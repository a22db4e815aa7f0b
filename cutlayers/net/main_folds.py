"""The folds that decide how a net should lie to the grain of the card."""

from __future__ import annotations

from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge, Role


def main_folds(net: Net) -> tuple[Hinge, ...]:
    """The hinges between walls, or between base and walls where no walls are hinged to each other.

    Empty for a net that has neither.
    """
    roles = {panel.name: panel.role for panel in net.panels}
    for main in ({Role.WALL}, {Role.BASE, Role.WALL}):
        found = tuple(
            hinge for hinge in net.hinges if {roles[hinge.first], roles[hinge.second]} == main
        )
        if found:
            return found
    return ()
