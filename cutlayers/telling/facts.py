"""Findings as plain data for scripts: numbers with their kind and unit, nothing in words but the
line that a person reads."""

from __future__ import annotations

import math
from dataclasses import fields
from typing import Any

from cutlayers.telling.findings import (
    Allowed,
    Cure,
    Detail,
    Finding,
    Subject,
)
from cutlayers.telling.lengths import Unit
from cutlayers.telling.quantities import UNITS, Quantity
from cutlayers.telling.refusals import Refusal, Span
from cutlayers.telling.refusing import refused_line
from cutlayers.telling.words import in_words
from cutlayers.telling.written import shown


def finding_data(finding: Finding, unit: Unit = "mm") -> dict[str, Any]:
    """A finding as JSON can hold it. `told` is the line for people, in the job's unit; all other
    lengths are mm."""
    return {
        "code": finding.code,
        "severity": finding.severity.value,
        "subject": _subject(finding.subject),
        "measured": [_value(each) for each in finding.measured],
        "allowed": None if finding.allowed is None else _allowed(finding.allowed),
        "others": [_subject(each) for each in finding.others],
        "details": {name: _value(value) for name, value in finding.details},
        "cure": None if finding.cure is None else _cure(finding.cure),
        "told": in_words(finding, unit),
    }


def refusal_data(refusal: Refusal) -> dict[str, Any]:
    """A refusal as JSON can hold it. `told` is the line for people."""
    return {
        "fault": refusal.fault,
        "file": refusal.file or None,
        "place": list(refusal.place),
        "line": refusal.line,
        "column": refusal.column,
        "found": _as_json(refusal.found),
        "allowed": _allowed_data(refusal),
        "works": refusal.works,
        "nearest": refusal.nearest,
        "advice": refusal.advice or None,
        "inside": None if refusal.inside is None else refusal_data(refusal.inside),
        "told": refused_line(refusal),
    }


def _allowed_data(refusal: Refusal) -> Any:
    """Spans of numbers, words to choose from, or a description."""
    match refusal.allowed:
        case None | str() as text:
            return text
        case Span() as span:
            return [_span(span)]
        case several:
            return [_span(each) if isinstance(each, Span) else each for each in several]


def _span(span: Span) -> dict[str, Any]:
    zero = {"zero": span.zero} if span.zero else {}
    return {"least": span.least, "most": span.most, "unit": span.unit, "whole": span.whole} | zero


def _as_json(value: object) -> Any:
    """A value of a TOML file; what JSON has no form for as people see it."""
    if isinstance(value, (list, tuple)):
        return [_as_json(each) for each in value]
    finite = not isinstance(value, float) or math.isfinite(value)
    plain = value is None or isinstance(value, (bool, int, float, str))
    return value if plain and finite else shown(value)


def _subject(subject: Subject) -> dict[str, Any]:
    """What applies and nothing else."""
    values = {each.name: getattr(subject, each.name) for each in fields(subject)}
    return {
        name: list(value) if isinstance(value, tuple) else value
        for name, value in values.items()
        if value not in (None, ())
    }


def _value(value: Detail | None) -> Any:
    if isinstance(value, Quantity):
        return {"kind": value.kind, "value": value.value, "unit": UNITS[value.kind]}
    if isinstance(value, tuple):
        return [_value(each) for each in value]
    return value


def _allowed(allowed: Allowed) -> dict[str, Any]:
    return {
        "least": [_value(each) for each in allowed.least],
        "most": [_value(each) for each in allowed.most],
    }


def _cure(cure: Cure) -> dict[str, Any]:
    return {
        "edits": [{"path": list(edit.path), "value": _value(edit.value)} for edit in cure.edits]
    }
