"""The one place where refusals become sentences: the place, what was found, what it must be."""

from __future__ import annotations

import math
from collections.abc import Iterable
from pathlib import PurePath

from cutlayers.telling.lengths import MM_PER, Unit, format_length, parse_length
from cutlayers.telling.refusals import Allowed, Refusal, Span
from cutlayers.telling.written import LARGEST_NUMBER, shown, write_place

SIXTEENTHS = 16
"""Of an inch: the divisions of a usual ruler."""

HAIR = 1e-6
"""Of a sixteenth, which a limit of whole ones may miss by rounding."""


def refused_line(refusal: Refusal) -> str:
    """A refusal on a line of its own: "box.toml: piece[1].count is 0; it must be …"."""
    place = write_place(refusal.place)
    steps = [refusal.file] if refusal.file else []
    steps += [_in_text(refusal)] if refusal.line is not None else []
    if refusal.inside is not None and not place:
        steps.append(refused_line(refusal.inside))
    else:
        steps.append(f"{place} {refused_clause(refusal)}" if place else refused_clause(refusal))
    line = ": ".join(steps)
    return line if line.endswith(("?", ".")) else f"{line}."


def refused_lines(refusals: Iterable[Refusal]) -> str:
    """A line for each; what reads alike is told once."""
    return "\n".join(dict.fromkeys(map(refused_line, refusals)))


def refused_clause(refusal: Refusal) -> str:
    """What goes on from the place: "is 4 mm; it must be 12 mm to 2000 mm"."""
    text = found_clause(refusal)
    if refusal.fault == "unknown" and isinstance(refusal.allowed, tuple):
        known = ", ".join(map(str, refusal.allowed)) or "none"
        text += f"; known are {known}{_advised(refusal)}."
        return f"{text} Did you mean {refusal.nearest}?" if refusal.nearest else text
    if refusal.allowed is not None:
        text += f"; {_right(refusal)}"
    elif refusal.works is not None:
        text += f"; {_plainly(refusal.works)} works"
    if refusal.about:
        text += _about(refusal)
    text += _advised(refusal)
    if refusal.nearest is not None:
        text += f". Did you mean {_near(refusal, refusal.nearest)}?"
    return text


def _near(refusal: Refusal, name: str) -> str:
    """A word of the file has its quotes; the name of a file has none, but its folder."""
    if refusal.fault == "value":
        return shown(name)
    if refusal.fault == "absent":
        written = refusal.found if isinstance(refusal.found, str) else refusal.file
        return str(PurePath(written).parent / name)
    return name


def found_clause(refusal: Refusal) -> str:
    """What was found, without what is allowed."""
    if refusal.inside is not None:
        return f"is {_found(refusal)}, which {_further_in(refusal.inside)}"
    if refusal.reason:
        return _with_lengths(refusal)
    match refusal.fault:
        case "missing":
            return "is missing"
        case "unknown":
            return "is unknown"
        case "empty":
            return "is empty; at least one is needed"
        case "absent":
            return "is not there" if refusal.place else "there is no such file"
    return f"is {_found(refusal)}"


def _with_lengths(refusal: Refusal) -> str:
    """The reason with its lengths, in the unit of the file as well."""
    first, *rest = refusal.reason.split("{}", len(refusal.lengths))
    told = zip(refusal.lengths, rest, strict=True)
    return first + "".join(f"{_length(each, refusal.unit)}{text}" for each, text in told)


def _length(mm: float, unit: Unit) -> str:
    text = f"{round(mm, 2):g} mm"
    if unit == "mm":
        return text
    told = format_length(mm, unit)
    exact = abs(parse_length(told, unit) - mm) < HAIR
    return f"{text} ({told if exact else f'{mm / MM_PER[unit]:.4g} {unit}'})"


def allowed_words(allowed: Allowed, unit: Unit = "mm") -> str:
    """What is allowed, for people; lengths are told in `unit` as well.

    >>> allowed_words(Span(12.7, 254, "mm"), "in")
    '12.7 mm to 254 mm (0.5 in to 10 in)'
    >>> allowed_words(Span(most=12.8, unit="mm"), "in")
    'at most 12.8 mm (1/2 in)'
    >>> allowed_words(("dxf", "svg"))
    '"dxf" or "svg"'
    """
    match allowed:
        case str():
            return allowed
        case Span():
            return _span(allowed, unit)
    spans = [_span(each, unit) for each in allowed if isinstance(each, Span)]
    if spans:
        return ", or ".join(spans)
    *some, last = [shown(each) for each in allowed] or ["nothing, for there is none yet"]
    return f"{', '.join(some)} or {last}" if some else last


def _further_in(inside: Refusal) -> str:
    line = "" if inside.line is None else f"on {_in_text(inside)} "
    place = f"{write_place(inside.place)} " if inside.place else ""
    return f"{line}{place}{refused_clause(inside)}"


def _plainly(value: float | str) -> str:
    return f"{value:g}" if type(value) is float else shown(value)


def _advised(refusal: Refusal) -> str:
    return f"; {refusal.advice}" if refusal.advice else ""


def _right(refusal: Refusal) -> str:
    allowed = refusal.allowed
    assert allowed is not None
    if isinstance(allowed, Span):
        if allowed.least is allowed.most is None:
            return f"0 {allowed.zero}"
        number = isinstance(refusal.found, (int, float)) and not isinstance(refusal.found, bool)
        plain = allowed.unit != "mm" and not allowed.whole
        value = refusal.found is not None and refusal.fault != "unreadable"  # a file is none
        if value and plain and not number:
            return f"it must be a number, {_span(allowed, refusal.unit)}"
    return f"it must be {allowed_words(allowed, refusal.unit)}"


def _span(span: Span, unit: Unit) -> str:
    text = _limits(span)
    if span.unit == "mm" and unit != "mm" and (told := _in_unit(span, unit)):
        text += f" ({told})"
    if span.whole and span.least is not None and span.most is not None:
        text = f"a whole number, {text}"
    if span.about:
        text += f" ({span.about})"
    return f"{text}, and 0 {span.zero}" if span.zero else text


def _in_unit(span: Span, unit: Unit) -> str:
    """The limits of a length in the user's unit; one limit alone in sixteenths of an inch that keep
    it, or nothing where none does."""
    per = MM_PER[unit]
    if span.least is not None and span.most is not None:
        return f"{span.least / per:.3g} {unit} to {span.most / per:.4g} {unit}"
    limit = span.least if span.most is None else span.most
    if limit is None or unit != "in":
        return ""
    steps = limit / per * SIXTEENTHS
    kept = math.floor(steps + HAIR) if span.least is None else math.ceil(steps - HAIR)
    return format_length(kept / SIXTEENTHS * per, unit) if kept else ""


def _limits(span: Span) -> str:
    # Both limits of a length have the unit: a bare number would read as another unit.
    unit = span.unit
    gap = "" if unit in ("", "°") else " "
    least, most = (None if limit is None else f"{limit:g}" for limit in (span.least, span.most))
    if least is None:
        return f"at most {most}{gap}{unit}"
    if most is None:
        return f"at least {least}{gap}{unit}"
    if least == most:
        return f"{most}{gap}{unit}"
    first = f"{least} mm" if unit == "mm" else least
    return f"{first} to {most}{gap}{unit}"


def _about(refusal: Refusal) -> str:
    return f"; it is: {refusal.about}" if refusal.fault == "missing" else f": {refusal.about}"


def _found(refusal: Refusal) -> str:
    """What was found; a length that was given in another unit in mm as well."""
    value, unit = refusal.found, refusal.unit
    is_length = isinstance(refusal.allowed, Span) and refusal.allowed.unit == "mm"
    if not is_length or isinstance(value, bool) or not isinstance(value, (int, float, str)):
        return shown(value)
    if isinstance(value, str):
        if value.strip().lower().endswith("mm"):
            return shown(value)
        return f"{shown(value)} ({parse_length(value, unit):g} mm)"
    if not abs(value) <= LARGEST_NUMBER:  # NaN and infinity as well
        return shown(value)
    text = f"{value:g} {unit}"
    return text if unit == "mm" else f"{text} ({parse_length(value, unit):g} mm)"


def _in_text(refusal: Refusal) -> str:
    line = f"line {refusal.line}"
    return line if refusal.column is None else f"{line}, column {refusal.column}"
