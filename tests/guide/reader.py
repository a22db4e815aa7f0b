"""A reader of the printed page who knows nothing else: takes a ruler with the divisions that the
page asks for, does what its words say in their order, and keeps a drawing of what came of it.

Nothing of the package is used here; lengths are fractions of the ruler's unit as they are printed.
Coordinates: mm from the left edge of the blank and down from its top edge, with the outside up.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction

from lxml import etree, html
from shapely import LineString, Point

MM = {"mm": Fraction(1), "in": Fraction(254, 10)}

NUMBER = r"(?:\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?)"

EDGES = ("left", "top", "right", "bottom")
"""Clockwise with the outside up."""

CHORDS = 32
"""Straight pieces that a curve is drawn with."""


class MisreadError(AssertionError):
    """The page says what cannot be done, or what is not understood."""


@dataclass(frozen=True)
class Ruler:
    """The ruler that the page asks for."""

    division: Fraction
    unit: str

    @property
    def mm(self) -> float:
        """One division."""
        return float(self.division * MM[self.unit])

    def read(self, text: str) -> float:
        """A length in mm, found on one of the ruler's lines."""
        if not re.fullmatch(NUMBER, text):
            raise MisreadError(f"{text!r} is no length")
        length = sum(map(Fraction, text.split()), Fraction(0))
        if (length / self.division).denominator != 1:
            raise MisreadError(f"{text} is on no line of a ruler of {self.division} {self.unit}")
        return float(length * MM[self.unit])

    def read_with_unit(self, text: str) -> float:
        """The same, its unit after it."""
        number, _, unit = text.rpartition(" ")
        if unit != self.unit:
            raise MisreadError(f"{text!r} is not in {self.unit}")
        return self.read(number)


@dataclass
class Made:
    """A blank as the reader has made it: lines by what was done along them, with the page's words
    for what they part, and the middles of holes with their diameters."""

    name: str
    size: tuple[float, float]
    lines: list[tuple[str, LineString, bool]] = field(default_factory=list)
    """What was done, where, and whether it is a curve."""
    holes: list[tuple[str, Point, float]] = field(default_factory=list)
    parted: list[str] = field(default_factory=list)
    notes: str = ""


@dataclass
class Read:
    """A page, read: its ruler, the blanks made, all its words, the sentences of the assembly."""

    ruler: Ruler
    blanks: list[Made]
    words: str
    assembly: list[str]


def words_of(element: etree._Element | None) -> str:
    """What a person reads there, drawings and styles left out."""
    if element is None:
        return ""
    parts = element.xpath(".//text()[not(ancestor::svg or ancestor::style or ancestor::title)]")
    return " ".join(" ".join(parts).split())


def read(page: bytes) -> Read:
    """Read a page and make what it says."""
    document = html.document_fromstring(page.decode())
    words = words_of(document)
    asked = re.search(rf"Lengths for the hand are rounded to ({NUMBER}) (mm|in)\b", words)
    if asked is None:
        raise MisreadError("the page asks for no ruler")
    ruler = Ruler(sum(map(Fraction, asked[1].split()), Fraction(0)), asked[2])
    (section,) = document.xpath("//section[h2='The blanks, scored and cut by hand']") or [None]
    blanks = [] if section is None else [_made(each, ruler) for each in section.iter("section")][1:]
    (together,) = document.xpath("//section[h2='Putting it together']")
    assembly = [words_of(item) for item in together.iter("li")]
    return Read(ruler, blanks, words, assembly)


def _made(section: etree._Element, ruler: Ruler) -> Made:
    if section.find("h3") is None:
        return Made("", (0.0, 0.0))
    steps = section.xpath("./ol/li")
    trimmed = re.fullmatch(
        rf"Trim the card to ({NUMBER} \w+) × ({NUMBER} \w+) \(width × height\), corners square\.",
        words_of(steps[0]),
    )
    if trimmed is None:
        raise MisreadError(words_of(steps[0]))
    made = Made(
        words_of(section.find("h3")),
        (ruler.read_with_unit(trimmed[1]), ruler.read_with_unit(trimmed[2])),
        notes=" ".join(words_of(each) for each in section.xpath("./div")),
    )
    hands = _Hands(made, ruler)
    for step in steps[1:]:
        hands.do(step)
    return made


@dataclass
class _Hands:
    """The card in hand: which face is up, which edge lies at the stop and which at the fence."""

    made: Made
    ruler: Ruler
    points: dict[str, tuple[float, float]] = field(default_factory=dict)
    lying: tuple[str, str, str] | None = None

    def do(self, step: etree._Element) -> None:
        """One numbered step of the page, from its first word to its last."""
        heading = words_of(step.find("h4"))
        kind = heading
        for part in step:
            text = words_of(part)
            if part.tag == "h4" or not text:
                continue
            if part.tag == "p" and heading.startswith("Score on the "):
                kind = self._lay(heading, text) if "between points:" not in text else kind
            if part.tag == "p" and text.startswith("between points:"):
                self._join(kind, text.removeprefix("between points:").strip())
            elif part.tag == "ul":
                self._mark([words_of(item) for item in part.iter("li")], part)
            elif part.tag in ("div", "table"):
                for table in part.iter("table"):
                    self._work(kind, table)
            elif part.tag not in ("p", "figure"):
                raise MisreadError(f"{part.tag!r}: {text}")

    def _lay(self, heading: str, sentence: str) -> str:
        """Move the card as told, and see that the edges come to lie where the page says."""
        told = re.fullmatch(
            r"(Lay the blank with its|Turn it a quarter to the|Turn it over, head over heels, so "
            r"that its|Turn it over and a quarter round, so that its) (\w+)(?: is up| up)?: "
            r"(\w+) edge at the stop, (\w+) edge at the fence\.",
            sentence,
        )
        if told is None:
            raise MisreadError(sentence)
        how, which, stop, fence = told.groups()
        if how.startswith("Lay"):
            if self.lying is not None:
                raise MisreadError("the blank was laid already")
            face = which
            ways = [(stop, fence)]
        else:
            if self.lying is None:
                raise MisreadError("what is turned was never laid")
            face, at_stop, at_fence = self.lying
            left = (at_fence, across(at_stop))
            right = (across(at_fence), at_stop)
            if how == "Turn it a quarter to the":
                ways = [{"left": left, "right": right}[which]]
            elif "head over heels" in how:
                face, ways = which, [(at_stop, across(at_fence))]
            else:
                over = (at_stop, across(at_fence))
                face = which
                ways = [(over[1], across(over[0])), (across(over[1]), over[0])]
        around = EDGES if face == "outside" else EDGES[::-1]
        if (stop, fence) not in ways or around[(around.index(stop) + 1) % 4] != fence:
            raise MisreadError(f"{sentence} No: {ways}")
        self.lying = (face, stop, fence)
        scored = re.match(r"Score on the (\w+); these fold (away from|towards) ", heading)
        # A fold closes over the bead on the far face of its groove (printing trade).
        if scored is None or scored.groups() != (
            face,
            "away from" if face == "outside" else "towards",
        ):
            raise MisreadError(f"{heading} with the {face} up")
        return f"score {face}"

    def _place(self, from_stop: float, from_fence: float) -> tuple[float, float]:
        if self.lying is None:
            raise MisreadError("nothing lies on the board")
        _, stop, fence = self.lying
        wide, high = self.made.size
        found: dict[str, float] = {}
        for edge, off in ((stop, from_stop), (fence, from_fence)):
            axis = "x" if edge in ("left", "right") else "y"
            far = {"right": wide, "bottom": high}.get(edge)
            found[axis] = off if far is None else far - off
        return found["x"], found["y"]

    def _mark(self, items: list[str], part: etree._Element) -> None:
        """Points from a list of names with two distances."""
        if items[0].split() != ["point", "from", "left", "from", "top"]:
            raise MisreadError(items[0])
        for item in list(part.iter("li"))[1:]:
            name, left, top = (words_of(each) for each in item)
            if name in self.points:
                raise MisreadError(f"point {name} is told twice")
            self.points[name] = (self.ruler.read(left), self.ruler.read(top))

    def _work(self, kind: str, table: etree._Element) -> None:
        """Lines of a table, or the middles of holes."""
        heads = [words_of(cell) for cell in table.iter("th")]
        rows = [[words_of(cell) for cell in row.iter("td")] for row in table.xpath("./tbody/tr")]
        wide, high = self.made.size
        for row in rows:
            if heads == ["hole on", "across", "from left", "from top"]:
                panel, *lengths = row
                across_, left, top = map(self.ruler.read, lengths)
                self.made.holes.append((panel, Point(left, top), across_))
                continue
            at = self.ruler.read(row[0])
            place: Callable[[float, float], tuple[float, float]]
            if heads[0] == "from the stop":
                if self.lying is None:
                    raise MisreadError("nothing lies on the board")
                long = high if self.lying[2] in ("top", "bottom") else wide
                ends = [self._place(at, 0.0), self._place(at, long)]
                place = self._place
                self.made.parted += [f"{kind}: {name}" for name in row[2].split(", ")]
            elif heads == ["from left", "line, from top"]:
                ends, place = [(at, 0.0), (at, high)], _across_and_down
            elif heads == ["from top", "line, from left"]:
                ends, place = [(0.0, at), (wide, at)], _down_and_across
            else:
                raise MisreadError(f"{heads}")
            if row[1] == "all the way":
                self._line(kind, ends[0], ends[1])
                continue
            for span in row[1].split(", "):
                start, end = map(self.ruler.read, span.split(" to "))
                self._line(kind, place(at, start), place(at, end))

    def _join(self, kind: str, sentence: str) -> None:
        """Lines between points; what is bent is drawn by its rise."""
        shape = ""
        for item in re.split(r"[;,] ", sentence.removesuffix(".")):
            told = re.fullmatch(
                r"(straight |quarter circles |half circles |arcs )?(\w+)–(\w+)"
                rf"(?: \(bulging towards the (\w+) edge(?: by ({NUMBER} \w+))?\))?",
                item,
            )
            if told is None:
                raise MisreadError(f"{item!r} of {sentence!r}")
            shape = (told[1] or shape).strip()
            start, end = self.points[told[2]], self.points[told[3]]
            if shape == "straight":
                self._line(kind, start, end)
                continue
            chord = math.dist(start, end)
            rise = {
                "quarter circles": chord * (math.sqrt(2) - 1) / 2,
                "half circles": chord / 2,
            }.get(shape) or self.ruler.read_with_unit(told[5])
            self.made.lines.append((kind.lower(), bent(start, end, rise, told[4]), True))

    def _line(self, kind: str, start: tuple[float, float], end: tuple[float, float]) -> None:
        wide, high = self.made.size
        for x, y in (start, end):
            if not (0 <= x <= wide and 0 <= y <= high):
                raise MisreadError(f"{kind} to ({x}, {y}), beyond the blank")
        if start == end:
            raise MisreadError(f"{kind} at {start} has no length")
        self.made.lines.append((kind.lower(), LineString([start, end]), False))


def _across_and_down(one: float, other: float) -> tuple[float, float]:
    return one, other


def _down_and_across(one: float, other: float) -> tuple[float, float]:
    return other, one


def across(edge: str) -> str:
    """The edge across the card."""
    return EDGES[(EDGES.index(edge) + 2) % 4]


def bent(
    start: tuple[float, float], end: tuple[float, float], rise: float, towards: str
) -> LineString:
    """An arc that stands off the middle of its chord by `rise`, towards an edge of the blank."""
    chord = math.dist(start, end)
    nx, ny = (end[1] - start[1]) / chord, (start[0] - end[0]) / chord
    way = {"left": -nx, "right": nx, "top": -ny, "bottom": ny}[towards]
    if way < 0:
        nx, ny = -nx, -ny
    radius = (chord**2 / 4 + rise**2) / (2 * rise)
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    centre = (middle[0] + (rise - radius) * nx, middle[1] + (rise - radius) * ny)
    half = math.atan2(chord / 2, radius - rise)
    ux, uy = (end[0] - start[0]) / chord, (end[1] - start[1]) / chord
    points = []
    for i in range(CHORDS + 1):
        turn = half * (2 * i / CHORDS - 1)
        along, off = radius * math.sin(turn), radius * math.cos(turn)
        points.append((centre[0] + along * ux + off * nx, centre[1] + along * uy + off * ny))
    return LineString(points)
