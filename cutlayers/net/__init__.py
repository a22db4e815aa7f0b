"""Nets: panels, hinges, and the lines that follow from them."""

from cutlayers.net.edges import COINCIDENT
from cutlayers.net.features import Feature, Work
from cutlayers.net.linework import Linework, linework
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge, Panel, Role, Stand
from cutlayers.net.shapes import Shape

__all__ = [
    "COINCIDENT",
    "Feature",
    "Hinge",
    "Linework",
    "Net",
    "Panel",
    "Role",
    "Shape",
    "Stand",
    "Work",
    "linework",
]
