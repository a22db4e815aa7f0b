"""Every colour that we choose, once: of lines, of words, of card, and of the paper under it.

All are #RRGGBB. A user's own colours come from the job and the profile and stand nowhere here.
"""

from __future__ import annotations

from collections.abc import Mapping

BLACK, WHITE = "#000000", "#FFFFFF"

BLUE, VERMILION, GREEN, PURPLE = "#0072B2", "#D55E00", "#009E73", "#CC79A7"
"""Those of the Okabe–Ito palette that reach a contrast of 3:1 on white, as WCAG 2.2 criterion
1.4.11 asks of lines. Source: Okabe and Ito, "Color Universal Design", 2008."""

PLUM, BROWN, VIOLET, OLIVE = "#8E3F6B", "#8A3D00", "#5B4BB5", "#7A6A00"
CRIMSON, PINE, CHARCOAL, NAVY = "#A3123F", "#00664B", "#4D4D4D", "#004A75"
"""More colours for lines, for many layers side by side: each reaches 3:1 on white too."""

INK, QUIET_INK = "#23262B", "#5B626B"
"""Words in pictures; both keep more than 4.5:1 against the ground (WCAG 2.2, criterion 1.4.3)."""

GROUND, EDGE = "#F4F3EF", "#C9C5BC"
"""What lies round a sheet in a picture, and the rim of the sheet."""

SHADES = ("#EFEEEA", "#E9E7E2", "#E1DFD9", "#D8D5CE")
"""A sheet's shadow on the ground, from its outside inwards."""

NOTE_INK = "#3A4048"
"""Words that are printed beside the pieces on a sheet."""

PAGE_INK, PAGE_BLUE, PAGE_QUIET = "#1a1a1a", "#0060a0", "#5a5a5a"
"""The guide's black, blue and grey; each keeps 4.5:1 against white (WCAG 2.2, 1.4.3) and against
the tint of the panels."""

PAGE_NOTE = "#4f4f4f"
"""What is said beside the main thing on the guide; 4.5:1 against white too."""

PAGE_RULE, PAGE_LINE = "#b9b4a8", "#d3cfc6"
"""Rules between the guide's parts, and between rows."""

CARE_TINT = "#FDF3EC"
"""Behind a caution."""

PAGE_TINT, PAGE_WASTE, PAGE_CREASE, PAGE_WHITE = "#f6f3ec", "#9a9a9a", "#8a8a8a", "#ffffff"
"""The guide's panels, what is cut away, creases that are made already, and paper."""

KRAFT_OUTSIDE, KRAFT_INSIDE, KRAFT_EDGE = "#E4BD90", "#F4EAD8", "#5C4027"
KRAFT_GUIDE, KRAFT_SHADOW = "#4A3524", "#3A2A18"
"""Brown kraft outside, cream inside: its lines, cut edges, inner lines and shadow."""

HALO = "#F5D76E"
"""Round what is doubtful in a drawing."""

SHADE = "#140800"
"""Laid over print it darkens as less light does, a little warmer than grey."""

PAPER = "#F8F5EE"
"""Paper of which no colour is known, glued on a panel."""

LIT_OUTSIDE, LIT_INSIDE = "#7FB7DA", "#BBDCF0"
"""Panels that a picture is about, outside and inside: tints of blue among brown and cream."""

DXF_COLOURS: Mapping[str, int] = {
    BLUE: 142,
    VERMILION: 32,
    GREEN: 122,
    PURPLE: 241,
    PLUM: 225,
    BROWN: 34,
    VIOLET: 173,
    OLIVE: 44,
    CRIMSON: 232,
    PINE: 136,
    CHARCOAL: 57,
    NAVY: 154,
    BLACK: 250,
    QUIET_INK: 8,
}
"""The nearest of the DXF format's own palette (colour index 1…255) to the colours of lines."""
