"""Slips in a TOML file are told as what they are; what is none is left to the parser.

Source of what is TOML and what not: TOML 1.0.0 (numbers have a point with digits on both sides;
texts stand in " or '; nothing follows a value on its line but a comment).
"""

from __future__ import annotations

import pytest

from cutlayers.reading.toml_file import parse_toml
from cutlayers.telling.errors import ProfileError

CURLY = "curly quotes; write straight ones, \" or '"

SLIPS = [
    ("a = 0,3", "a decimal comma; write 0.3"),
    ("a = -90,5    # x (1 to 2)", "a decimal comma; write -90.5"),
    ("a = 12,5 mm", 'a decimal comma; write "12.5 mm"'),
    ("s = { l = 12,5, w = 60 }", "a decimal comma; write 12.5"),
    ("s = { l = 12, w = 6,5 }", "a decimal comma; write 6.5"),
    ("s = [210,5 297]", "a decimal comma; write 210.5"),
    ("a = .5", "a number needs a digit on both sides of its point"),
    ("a = 5.", "a number needs a digit on both sides of its point"),
    ("a = 12x12", 'more than a number needs quotes; write "12x12"'),
    ("a = 90 mm    # x", 'more than a number needs quotes; write "90 mm"'),
    ("a = 3 7/16", 'more than a number needs quotes; write "3 7/16"'),
    ('a = 12"', "more than a number needs quotes; write '12\"'"),
    ("s = { l = 9, w = 2 7/16 in }", 'more than a number needs quotes; write "2 7/16 in"'),
    ("s = [12 in, 12]", 'more than a number needs quotes; write "12 in"'),
    ("a = \u201cA4\u201d", CURLY),
    ("a = \u2018A4\u2019", CURLY),
    ("a = \u201eA4\u201c", CURLY),
    ("a = \u00abA4\u00bb", CURLY),
    ('a = "A4\u201d', CURLY),
    ('\u201ca\u201d = "A4"', CURLY),
    ('a = "A4    # x', "a text without a quote at its end"),
    ("a = My tray", "invalid value. A text needs quotes"),
    ("a = 2026-13-01", "expected newline or end of document after a statement"),
    ('a = "x" y', "expected newline or end of document after a statement"),
    ('a = "it\u2019s" y', "expected newline or end of document after a statement"),
    ("a = true, b", "expected newline or end of document after a statement"),
    ("a", "expected '=' after a key in a key/value pair"),
]


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize(("line", "told"), SLIPS)
def test_a_slip_is_told_as_what_it_is(line: str, told: str, end: str) -> None:
    """With its line, whatever the line ends are."""
    with pytest.raises(ProfileError) as caught:
        parse_toml(f"b = 1{end}{line}{end}c = 2{end}", "box.toml")

    (refusal,) = caught.value.refusals
    assert (refusal.line, refusal.reason) == (2, told)
