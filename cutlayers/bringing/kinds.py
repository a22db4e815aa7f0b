"""What each line of a drawing is for, and what speaks for it.

What the user says comes first; then what names and dashes say; then where lines stand. Lines that
look alike are taken to be for the same, since that is how people draw: where one look runs round
the pieces and another lies between panels, the one is cut and the other scored. Where all lines
look alike, each is judged by itself, and doubtful ones are told.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from cutlayers.bringing.angles_said import with_angles
from cutlayers.bringing.by_place import MOSTLY, by_place
from cutlayers.bringing.chosen import chosen
from cutlayers.bringing.dashes import Pattern, pattern_of, period_of
from cutlayers.bringing.ends import REACH
from cutlayers.bringing.lines import Drawing, DrawnLine, Hints, Kind, Meant
from cutlayers.bringing.names import Named, named
from cutlayers.bringing.rules import Rules
from cutlayers.bringing.standing import Stretch, Where, lengths, standing
from cutlayers.geometry.crossings import distance_to
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import union_bounds
from cutlayers.geometry.transforms import Point
from cutlayers.telling.written import shown

LONGER = 1.25
"""By how much one pattern of dashes is longer than another that is another one."""

NOT_WORKED = (Kind.IGNORE, Kind.REGISTER, Kind.DRAW)

DASHED, DOTTED, MOUNTAIN = "is dashed", "is dotted", "is dashed with dots between, as a mountain is"


def meant(drawing: Drawing, rules: Rules, join: float = 0.3) -> tuple[Meant, ...]:
    """Every line of a drawing in mm with what it is for.

    A line of which parts are for different things is there in parts, and a crease has the angle
    that is written beside it. Gaps up to `join` mm count as
    closed. Raises ValueRefused, placed in the piece, for rules that make no sense of the drawing,
    and NetError where lines meet in more places than those of a box can.
    """
    said = chosen(drawing.lines, rules)
    lines = _by_notation(drawing.lines)
    known: dict[int, Meant] = {}
    for line in lines:
        if line.number in said:
            known[line.number] = Meant(line, *said[line.number])
        elif (found := _by_name(line)) is not None:
            known[line.number] = found
    known |= {each.line.number: each for each in _frames(known, said, join)}
    rest = [line for line in lines if line.number not in known]
    judged: dict[int, list[Meant]] = defaultdict(list)
    if rest:
        placed = [
            line
            for line in lines
            if line.number not in known or known[line.number].kind not in NOT_WORKED
        ]
        stretches = standing(placed, join)
        known |= {each.line.number: each for each in _by_dashes(rest, lines, stretches)}
        looks: dict[tuple[object, ...], list[DrawnLine]] = defaultdict(list)
        for line in rest:
            if line.number not in known:
                looks[_look(line.hints)].append(line)
        kinds = {number: each.kind for number, each in known.items()}
        for each in by_place(looks, kinds, stretches):
            judged[each.line.number].append(each)
    meanings = [
        each
        for line in lines
        for each in ([known[line.number]] if line.number in known else judged[line.number])
    ]
    return with_angles(meanings, drawing.texts)


def _look(hints: Hints) -> tuple[object, ...]:
    return hints.layer, hints.colour, bool(hints.dash), hints.width


def _by_name(line: DrawnLine) -> Meant | None:
    """By the nearest name that says something: its own, its layer, the groups from the inside."""
    hints = line.hints
    for what, name in _names(hints):
        found = named(name)
        if found is not None:
            told = _told_fold(line, found) if found.fold else line
            step = ", a processing step of ISO 19593-1" if found.step else ""
            return Meant(told, found.kind, f"{what} {shown(name)}{step}", found.doubtful)
    if hints.fold:
        return Meant(line, Kind.SCORE, f"drawn as a {hints.fold}")
    return None


def _names(hints: Hints) -> Iterator[tuple[str, str]]:
    if hints.name:
        yield "name", hints.name
    if hints.layer and hints.layer not in hints.group:
        yield "layer", hints.layer
    for name in reversed(hints.group):
        yield ("layer" if name == hints.layer else "group"), name


def _frames(known: Mapping[int, Meant], said: Collection[int], join: float) -> Iterator[Meant]:
    """Lines that a name calls cuts and that are a page's frame, with what hangs on it: one that
    goes round all others, on which no crease ends."""
    worked = [each for each in known.values() if each.kind not in NOT_WORKED]
    creases = [each.line.path for each in worked if each.kind is not Kind.CUT]
    named_cuts = [each for each in worked if each.kind is Kind.CUT and each.line.number not in said]
    if not creases or not named_cuts:
        return
    every = union_bounds(each.line.path.bounds for each in worked)
    ends = [end for path in creases for end in (path.start, path.end)]
    if not any(
        each.line.path.closed
        and each.line.path.bounds == every
        and not any(_near(each.line.path, end) for end in ends)
        for each in named_cuts
    ):
        return
    at = lengths(standing([each.line for each in worked], join))
    for each in named_cuts:
        found = at[each.line.number]
        if found[Where.FRAME] >= MOSTLY * sum(found.values()) > 0.0:
            evidence = f"{each.evidence}, and is a frame round all pieces"
            yield Meant(each.line, Kind.IGNORE, evidence, True)


def _near(path: Path, point: Point) -> bool:
    return any(distance_to(segment, point) <= REACH for segment in path.segments)


def _told_fold(line: DrawnLine, found: Named) -> DrawnLine:
    if line.hints.fold or line.hints.fold_deg is not None:
        return line
    return replace(line, hints=replace(line.hints, fold=found.fold))


def _by_notation(lines: Sequence[DrawnLine]) -> tuple[DrawnLine, ...]:
    """Which way folds go, where a drawing has both patterns of the published notation."""
    patterns = {hints: pattern_of(hints.dash) for hints in {line.hints for line in lines}}
    if not {Pattern.DASHED, Pattern.DASH_DOT} <= set(patterns.values()):
        return tuple(lines)
    ways = {Pattern.DASHED: "valley", Pattern.DASH_DOT: "mountain"}
    told = {
        hints: replace(hints, fold=ways[pattern])
        if pattern in ways and not hints.fold and hints.fold_deg is None
        else hints
        for hints, pattern in patterns.items()
    }
    return tuple(replace(line, hints=told[line.hints]) for line in lines)


def _by_dashes(
    rest: Sequence[DrawnLine], lines: Sequence[DrawnLine], stretches: Sequence[Stretch]
) -> Iterator[Meant]:
    """Broken lines are creases where others are solid; of two lengths of dashes the shorter are
    rather a perforation."""
    if all(line.hints.dash for line in lines):
        return
    at = lengths(stretches)
    groups: dict[tuple[float, ...], list[DrawnLine]] = defaultdict(list)
    for line in rest:
        if line.hints.dash:
            groups[line.hints.dash].append(line)
    dashed = [dash for dash in groups if pattern_of(dash) is Pattern.DASHED]
    longest = max(map(period_of, dashed), default=0.0)
    for dash, some in groups.items():
        sums: Mapping[Where, float] = {
            where: sum(at[line.number][where] for line in some) for where in Where
        }
        inside = sums[Where.INNER] + sums[Where.SHORT]
        kind, evidence, doubtful = Kind.SCORE, DASHED, False
        match pattern_of(dash):
            case Pattern.DASH_DOT:
                evidence = MOUNTAIN
            case Pattern.DOTTED:
                between = inside >= sum(sums.values()) / 2.0 > 0.0
                kind = Kind.PERFORATE if between else Kind.DRAW
                evidence, doubtful = DOTTED, True
            case _ if longest > LONGER * period_of(dash):
                kind, evidence, doubtful = Kind.PERFORATE, "has the shorter dashes", True
        if kind is Kind.SCORE and sums[Where.OUTER] > inside:
            kind, doubtful = Kind.PERFORATE, True
            evidence = f"{evidence}, and runs round a piece"
        for line in some:
            yield Meant(line, kind, evidence, doubtful)
