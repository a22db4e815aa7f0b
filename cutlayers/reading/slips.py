"""Slips of people who write a TOML file as they would write a letter, told as what they are.

The parser says where it stopped; what was meant stands in that line.
"""

from __future__ import annotations

import re

CURLY = "\u201c\u201d\u201e\u201f\u2018\u2019\u201a\u00ab\u00bb"
"""Quotes that word processors and phones put in the place of straight ones."""

_COMMA = re.compile(r"\s*(?P<number>[+-]?\d+,\d+)(?P<unit>\s*[a-zA-Z\"]*)(?!\s*=)")
_COMMA_IN_LIST = re.compile(r".*?[\[,\s](?P<number>\d+,\d+)(?P<unit>)\s+\d")
_POINT = re.compile(r"\s*(?P<number>[+-]?(?:\.\d+|\d+\.))(?!\d)")
_MEASURE = re.compile(r"\s*(?P<value>\d[^,}\]#]*[a-zA-Z/\"×][^,}\]#]*)")


def slip_at(line: str, column: int) -> str:
    """What is wrong at a column, from 1, of a line that is not TOML; empty where that is not plain.

    >>> slip_at("caliper = 0,3", 12)
    'a decimal comma; write 0.3'
    """
    at = len(line[: column - 1].rstrip())
    open_text = column > len(line.rstrip("\r")) and bool(line.count('"') % 2 or line.count("'") % 2)
    at_curly = line[column - 1 : column] in tuple(CURLY)
    if at_curly or (open_text and any(mark in line for mark in CURLY)):
        return "curly quotes; write straight ones, \" or '"
    if open_text:
        return "a text without a quote at its end"
    begin = line.rfind("=", 0, column - 1) + 1
    if not begin:
        return ""
    comma = _COMMA.match(line, begin) or _COMMA_IN_LIST.match(line, begin)
    if comma and comma.end("unit") >= at:
        number, unit = comma["number"].replace(",", "."), comma["unit"].rstrip()
        return f"a decimal comma; write {_quoted(number + unit) if unit else number}"
    point = _POINT.match(line, begin)
    if point and point.end() >= at:
        return "a number needs a digit on both sides of its point"
    begin = max(line.rfind(mark, 0, column - 1) for mark in "=[,") + 1
    measure = _MEASURE.match(line, begin)
    if measure and measure.end() >= at:
        return f"more than a number needs quotes; write {_quoted(measure['value'].strip())}"
    return ""


def _quoted(value: str) -> str:
    return f"'{value}'" if '"' in value else f'"{value}"'
