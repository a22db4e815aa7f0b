"""How space is seen: parallel projection, so that what is equally long stays equally long."""

from __future__ import annotations

import math

from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point
from cutlayers.net.space import Vector, dot


@frozen
class Camera:
    """Unit vectors in space: to the right and up in the picture, and towards the viewer."""

    right: Vector
    up: Vector
    toward: Vector

    @staticmethod
    def turned(azimuth_deg: float, elevation_deg: float) -> Camera:
        """The viewer walks `azimuth_deg` from the front towards the right side and looks down
        from `elevation_deg` above the table."""
        azimuth, elevation = math.radians(azimuth_deg), math.radians(elevation_deg)
        sa, ca, se, ce = (
            math.sin(azimuth),
            math.cos(azimuth),
            math.sin(elevation),
            math.cos(elevation),
        )
        return Camera((ca, sa, 0.0), (-sa * se, ca * se, ce), (sa * ce, -ca * ce, se))

    def see(self, place: Vector) -> Point:
        """Where a point in space appears, y up, in mm."""
        return dot(place, self.right), dot(place, self.up)
