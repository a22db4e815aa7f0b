"""Pictures of folded boxes."""

from cutlayers.views.looks import KRAFT, Looks
from cutlayers.views.picture import View, draw_views, usual_views

__all__ = ["KRAFT", "Looks", "View", "draw_views", "usual_views"]
