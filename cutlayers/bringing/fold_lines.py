"""The lines of a FOLD file: the edges of its crease pattern, with how far each folds.

Source: E. D. Demaine, J. S. Ku, R. J. Lang, "A New File Standard to Represent Folded Structures",
2016, in its published edition 1.2, from memory: a file is a frame, with others in `file_frames`,
and a frame that inherits has what its parent has but for what it says itself. A valley's angle is
above 0 there and a mountain's below.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NoReturn

from cutlayers.bringing.limits import MOST_EDGES, too_many
from cutlayers.bringing.lines import Drawing, DrawnLine, DrawnText, Hints, Scale
from cutlayers.bringing.scale import OF_PLAN, bounds_of, candidates
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.refusals import Span

LARGEST = 30_000_000
"""Bytes; JSON takes some ten times as much memory."""

MM_PER_UNIT: Mapping[str, float] = {
    "in": 25.4, "pt": 25.4 / 72, "m": 1000.0, "cm": 10.0, "mm": 1.0, "um": 1e-3, "nm": 1e-6,
}  # fmt: skip
"""Of `frame_unit`; "unit" is none of these."""

LAYERS: Mapping[str, str] = {
    "B": "border, cut",
    "C": "cut",
    "M": "mountain fold",
    "V": "valley fold",
    "F": "flat fold",
    "U": "unassigned fold",
}
"""What each mark of `edges_assignment` is told as; J joins faces of one panel and is no line."""

WAYS: Mapping[str, str] = {"M": "mountain", "V": "valley"}

LARGEST_NUMBER = 1e9
"""Of a coordinate, in units of the pattern."""

FLAT = 1e-9
"""Of the pattern's size, by which its corners may leave a plane."""

MOST_FRAMES = 200

PANEL_NAMES = "faces_cutlayers:panel"
"""Our own key for the panels that faces are part of."""

Frame = Mapping[str, Any]


def read_fold(content: bytes) -> Drawing:
    """A drawing from a FOLD file's bytes. Raises ValueRefused."""
    if len(content) > LARGEST:
        allowed = Span(most=LARGEST, unit="bytes for a FOLD file")
        raise ValueRefused(f"has {len(content)} bytes", found=len(content), allowed=allowed)
    frames = _frames(_table(content))
    frame = _pattern(frames)
    corners = _corners(frame)
    edges = _edges(frame, len(corners))
    marks = _marks(frame, edges)
    angles = _angles(frame, frames, edges)
    lines: list[DrawnLine] = []
    aside: Counter[str] = Counter()
    for (one, other), mark, angle in zip(edges, marks, angles, strict=True):
        if mark == "J":
            aside["join of two faces"] += 1
        elif corners[one] == corners[other]:
            aside["line without length"] += 1
        else:
            path = Path.line(corners[one], corners[other])
            lines.append(DrawnLine(path, _hints(mark, angle), len(lines) + 1))
    found = tuple(lines)
    scale = _scale(frame)
    return Drawing(
        found,
        scale,
        () if scale else candidates(bounds_of(found), OF_PLAN),
        tuple(_names(frame, corners)),
        {name: count for name, count in sorted(aside.items()) if count},
    )


def _table(content: bytes) -> Frame:
    def refuse(constant: str) -> NoReturn:
        raise ValueRefused(f"has {constant} where a number is due", found=constant)

    try:
        table = json.loads(content.decode("utf-8-sig"), parse_constant=refuse)
    except ValueRefused:
        raise
    except (ValueError, RecursionError) as error:
        line = error.lineno if isinstance(error, json.JSONDecodeError) else None
        reason = "is not well-formed JSON"
        raise ValueRefused(reason, fault="unreadable", line=line) from None
    if not isinstance(table, dict) or not any(
        str(key).startswith(("file_", "frame_", "vertices_", "edges_")) for key in table
    ):
        raise ValueRefused("is JSON but no FOLD file: it has none of its keys")
    return table


def _frames(table: Frame) -> list[Frame]:
    """All frames with what they inherit; the file's own is the first."""
    others = table.get("file_frames", [])
    if not isinstance(others, list) or not all(isinstance(each, dict) for each in others):
        raise ValueRefused("has file_frames that are no list of frames")
    own = {key: value for key, value in table.items() if not key.startswith("file_")}
    frames: list[Frame] = [own, *others]
    if len(frames) > MOST_FRAMES:
        allowed = Span(most=MOST_FRAMES)
        raise ValueRefused(f"has {len(frames)} frames", found=len(frames), allowed=allowed)

    def whole(index: int, within: tuple[int, ...]) -> Frame:
        frame = frames[index]
        if not frame.get("frame_inherit"):
            return frame
        parent = frame.get("frame_parent", 0)
        if type(parent) is not int or not 0 <= parent < len(frames):
            allowed = Span(0, len(frames) - 1, whole=True)
            raise ValueRefused(f"has frame_parent {parent!r:.20}", found=parent, allowed=allowed)
        if parent in within:
            raise ValueRefused("has frames that inherit from each other, round in a circle")
        return {**whole(parent, (*within, parent)), "frame_classes": [], **frame}

    return [whole(index, (index,)) for index in range(len(frames))]


def _pattern(frames: Sequence[Frame]) -> Frame:
    """The crease pattern, or else a frame that lies flat and is not said to be folded."""
    drawn = [frame for frame in frames if frame.get("vertices_coords")]
    for frame in drawn:
        if "creasePattern" in _classes(frame):
            return frame
    for frame in drawn:
        if "foldedForm" not in _classes(frame) and _is_flat(frame):
            return frame
    if drawn:
        raise ValueRefused(
            "holds a folded form alone", advice="add the crease pattern that it is folded from"
        )
    raise ValueRefused("holds no vertices_coords, so nothing is drawn in it")


def _classes(frame: Frame) -> list[Any]:
    classes = frame.get("frame_classes", [])
    return classes if isinstance(classes, list) else [classes]


def _is_flat(frame: Frame) -> bool:
    coords = frame["vertices_coords"]
    return isinstance(coords, list) and all(
        isinstance(each, list) and not any(each[2:]) for each in coords
    )


def _corners(frame: Frame) -> list[Point]:
    coords = frame["vertices_coords"]
    if not isinstance(coords, list) or len(coords) > 2 * MOST_EDGES:
        raise ValueRefused("has vertices_coords that are no list of corners, or too long a one")
    found, heights = [], []
    for index, each in enumerate(coords):
        if not isinstance(each, list) or not 2 <= len(each) <= 3 or not all(map(_number, each)):
            allowed = "two or three numbers"
            raise _at("vertices_coords", index, ValueRefused(found=each, allowed=allowed))
        found.append((float(each[0]), float(each[1])))
        heights.append(float(each[2]) if len(each) == 3 else 0.0)
    size = max((abs(value) for point in found for value in point), default=0.0)
    if heights and max(heights) - min(heights) > FLAT * size:
        raise ValueRefused(
            "has a crease pattern that does not lie flat", advice="give its corners one height"
        )
    return found


def _number(value: object) -> bool:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return False
    return -LARGEST_NUMBER <= value <= LARGEST_NUMBER


def _edges(frame: Frame, corners: int) -> list[tuple[int, int]]:
    """As they are listed, or else the sides of all faces."""
    edges = frame.get("edges_vertices")
    if edges is None:
        sides = (
            tuple(sorted(side))
            for face in _faces(frame, corners)
            for side in zip(face, [*face[1:], *face[:1]], strict=True)
        )
        return list(dict.fromkeys(sides))  # type: ignore[arg-type]
    if not isinstance(edges, list):
        raise ValueRefused("has edges_vertices that are no list of pairs")
    if len(edges) > MOST_EDGES:
        raise too_many()
    for index, edge in enumerate(edges):
        pair = isinstance(edge, list) and len(edge) == 2
        if not pair or not all(type(each) is int and 0 <= each < corners for each in edge):
            allowed = f"two corners, by number from 0 to {corners - 1}"
            raise _at("edges_vertices", index, ValueRefused(found=edge, allowed=allowed))
    return [(edge[0], edge[1]) for edge in edges]


def _faces(frame: Frame, corners: int) -> list[list[int]]:
    faces = frame.get("faces_vertices") or []
    if not isinstance(faces, list) or sum(len(f) for f in faces if isinstance(f, list)) > (
        2 * MOST_EDGES
    ):
        raise ValueRefused("has faces_vertices that are no list of faces, or too long a one")
    for index, face in enumerate(faces):
        if not isinstance(face, list) or not all(
            type(each) is int and 0 <= each < corners for each in face
        ):
            allowed = f"corners, by number from 0 to {corners - 1}"
            raise _at("faces_vertices", index, ValueRefused(found=face, allowed=allowed))
    return faces


def _marks(frame: Frame, edges: Sequence[tuple[int, int]]) -> list[str]:
    """As they are given, or else by angles; without either, the sides of one face are border."""
    marks = frame.get("edges_assignment")
    if marks is not None:
        if not isinstance(marks, list) or len(marks) != len(edges):
            raise ValueRefused(f"has edges_assignment that are no list of {len(edges)} marks")
        for index, mark in enumerate(marks):
            if mark not in (*LAYERS, "J"):
                refused = ValueRefused(found=mark, allowed=(*LAYERS, "J"))
                raise _at("edges_assignment", index, refused)
        return marks
    times = Counter(
        frozenset(side)
        for face in _faces(frame, max(map(max, edges), default=0) + 1)
        for side in zip(face, [*face[1:], *face[:1]], strict=True)
    )
    return ["B" if times[frozenset(edge)] == 1 else "U" for edge in edges]


def _angles(
    frame: Frame, frames: Sequence[Frame], edges: Sequence[tuple[int, int]]
) -> list[float | None]:
    """Of the pattern, or else of a folded form of the same edges."""
    folded = [each for each in frames if "foldedForm" in _classes(each)]
    for source in (frame, *folded):
        angles = source.get("edges_foldAngle")
        if angles is None or (source is not frame and not _same_edges(source, frame)):
            continue
        if not isinstance(angles, list) or len(angles) != len(edges):
            raise ValueRefused(f"has edges_foldAngle that are no list of {len(edges)} angles")
        for index, angle in enumerate(angles):
            if angle is not None and not (_number(angle) and abs(angle) <= 180.0):
                allowed = Span(-180, 180, "°")
                raise _at("edges_foldAngle", index, ValueRefused(found=angle, allowed=allowed))
        if any(angles):
            return [None if angle is None else float(angle) for angle in angles]
    return [None] * len(edges)


def _same_edges(one: Frame, other: Frame) -> bool:
    return bool(one.get("edges_vertices") == other.get("edges_vertices"))


def _hints(mark: str, angle: float | None) -> Hints:
    if mark in ("B", "C"):
        return Hints(layer=LAYERS[mark])
    if mark == "U" and angle:
        mark = "V" if angle > 0 else "M"
    way = WAYS.get(mark, "")
    # Whoever draws the pattern flat may have written 0 for every edge.
    turned = None if angle is None or (way and not angle) else -angle + 0.0
    if mark == "F":
        turned = 0.0
    return Hints(layer=LAYERS[mark], fold_deg=turned, fold=way)


def _scale(frame: Frame) -> Scale | None:
    unit = frame.get("frame_unit", "unit")
    if unit not in MM_PER_UNIT:
        return None
    word = unit if unit in ("mm", "cm", "in", "pt") else ""
    return Scale(MM_PER_UNIT[unit], f"the file says {unit} (frame_unit)", word)


def _names(frame: Frame, corners: Sequence[Point]) -> Iterator[DrawnText]:
    """Names of our own panels, each within the largest of its faces."""
    names = frame.get(PANEL_NAMES)
    faces = _faces(frame, len(corners))
    if not isinstance(names, list) or len(names) != len(faces):
        return
    largest: dict[str, tuple[float, Point]] = {}
    for name, face in zip(names, faces, strict=True):
        points = [corners[corner] for corner in face]
        if isinstance(name, str) and len(points) > 2:
            area, middle = _middle(points)
            if area > largest.get(name, (0.0, middle))[0]:
                largest[name] = area, middle
    for name, (_, at) in largest.items():
        yield DrawnText(name, at)


def _middle(points: Sequence[Point]) -> tuple[float, Point]:
    """Area and a point inside of a face."""
    import shapely

    face = shapely.Polygon(points)
    inside = face.representative_point() if face.is_valid else shapely.Point(points[0])
    return face.area, (inside.x, inside.y)


def _at(key: str, index: int, refused: ValueRefused) -> ValueRefused:
    refused.refusal = refused.refusal.under(key, index)
    return refused
