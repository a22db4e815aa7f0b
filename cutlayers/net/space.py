"""Points and planes in space: where a flat panel has got to.

Right-handed axes in mm. Of a box that stands: x to the right, y away from the viewer, z up.
"""

from __future__ import annotations

import math

from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point

Vector = tuple[float, float, float]

ROUNDING = 1e-12
"""A component of a unit vector smaller than this is the rounding of a zero."""


def dot(one: Vector, other: Vector) -> float:
    """Scalar product."""
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def cross(one: Vector, other: Vector) -> Vector:
    """Vector product, right-handed."""
    return (
        one[1] * other[2] - one[2] * other[1],
        one[2] * other[0] - one[0] * other[2],
        one[0] * other[1] - one[1] * other[0],
    )


def minus(one: Vector, other: Vector) -> Vector:
    """The vector from `other` to `one`."""
    return (one[0] - other[0], one[1] - other[1], one[2] - other[2])


def moved(start: Vector, direction: Vector, distance: float) -> Vector:
    """`start` moved along `direction`, `distance` times its length."""
    return (
        start[0] + distance * direction[0],
        start[1] + distance * direction[1],
        start[2] + distance * direction[2],
    )


def cosine_sine(angle_deg: float) -> tuple[float, float]:
    """Cosine and sine of an angle in degrees, exact for quarter turns."""
    quarter = round(angle_deg / 90.0)
    if angle_deg == quarter * 90.0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[quarter % 4]
    return math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))


@frozen
class Pose:
    """Where a flat sheet lies in space.

    The flat point (x, y) is at origin + x·`right` + y·`up`; `normal` = right × up points out of
    the face that looked at the viewer when the sheet lay flat: the outside of the box.
    Guaranteed by whoever makes one: the three directions are unit vectors at right angles.
    """

    right: Vector = (1.0, 0.0, 0.0)
    up: Vector = (0.0, 1.0, 0.0)
    normal: Vector = (0.0, 0.0, 1.0)
    origin: Vector = (0.0, 0.0, 0.0)

    def place(self, point: Point, height: float = 0.0) -> Vector:
        """A flat point in space, `height` mm above the outside face."""
        x, y = point
        r, u, n, o = self.right, self.up, self.normal, self.origin
        return (
            o[0] + x * r[0] + y * u[0] + height * n[0],
            o[1] + x * r[1] + y * u[1] + height * n[1],
            o[2] + x * r[2] + y * u[2] + height * n[2],
        )

    def direction(self, flat: Vector) -> Vector:
        """A direction given in the flat sheet's axes, as it points in space."""
        x, y, z = flat
        r, u, n = self.right, self.up, self.normal
        return (
            x * r[0] + y * u[0] + z * n[0],
            x * r[1] + y * u[1] + z * n[1],
            x * r[2] + y * u[2] + z * n[2],
        )

    def flat(self, place: Vector) -> Vector:
        """A point in space seen from the sheet: flat x, flat y, height above the outside face."""
        gap = minus(place, self.origin)
        return (dot(gap, self.right), dot(gap, self.up), dot(gap, self.normal))

    def after(self, inner: Pose) -> Pose:
        """The pose that first applies `inner`, then this one."""
        return Pose(
            self.direction(inner.right),
            self.direction(inner.up),
            self.direction(inner.normal),
            self.place(inner.origin[:2], inner.origin[2]),
        )

    def shifted(self, shift: Vector) -> Pose:
        """The same pose moved by a vector in space."""
        return Pose(self.right, self.up, self.normal, moved(self.origin, shift, 1.0))


def turned_about(start: Point, along: Point, angle_deg: float) -> Pose:
    """The flat sheet turned about a line in it, right-handed about the direction `along`.

    `along` must be a unit vector. Source: Rodrigues' rotation formula for an axis with z = 0.
    """
    (ax, ay), (ux, uy) = start, along
    c, s = cosine_sine(angle_deg)
    k = 1.0 - c
    right = (c + ux * ux * k, ux * uy * k, -uy * s)
    up = (ux * uy * k, c + uy * uy * k, ux * s)
    normal = (uy * s, -ux * s, c)
    origin = (
        ax - ax * right[0] - ay * up[0],
        ay - ax * right[1] - ay * up[1],
        -ax * right[2] - ay * up[2],
    )
    return Pose(right, up, normal, origin)


def tidy(flat: Point) -> Point:
    """A flat direction as a unit vector without the rounding of its zeros.

    Raises ZeroDivisionError for the zero vector.
    """
    size = math.hypot(*flat)
    x, y = (0.0 if abs(c / size) < ROUNDING else c / size for c in flat)
    return (x, y)
