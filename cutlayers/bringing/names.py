"""What a line is for by the name of its layer or group.

English words of the trade, those of other languages (`words.py`), and the names of processing
steps. Source of the latter: ISO 19593-1:2018, "Use of PDF to associate processing steps and content
data", from memory; the English words are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from cutlayers.bringing.lines import Kind
from cutlayers.bringing.words import kinds_of, parts_of, way_of
from cutlayers.frozen import frozen

STEPS: Mapping[str, Kind] = {
    "cutting": Kind.CUT,
    "drilling": Kind.CUT,
    "punching": Kind.CUT,
    "creasing": Kind.SCORE,
    "reversecreasing": Kind.SCORE,
    "folding": Kind.SCORE,
    "partialcutting": Kind.SCORE,
    "reversepartialcutting": Kind.SCORE,
    "partialcuttingcreasing": Kind.SCORE,
    "reversepartialcuttingcreasing": Kind.SCORE,
    "cuttingcreasing": Kind.PERFORATE,
    "reversecuttingcreasing": Kind.PERFORATE,
    "perforating": Kind.PERFORATE,
    "gluing": Kind.IGNORE,
    "stapling": Kind.IGNORE,
    "bleed": Kind.IGNORE,
    "foilstamping": Kind.IGNORE,
    "coldfoilstamping": Kind.IGNORE,
    "embossing": Kind.IGNORE,
    "debossing": Kind.IGNORE,
    "varnishfree": Kind.IGNORE,
    "inkfree": Kind.IGNORE,
    "inkvarnishfree": Kind.IGNORE,
    "legend": Kind.IGNORE,
    "dimensions": Kind.IGNORE,
    "contentarea": Kind.IGNORE,
    "codingmarking": Kind.IGNORE,
    "braille": Kind.IGNORE,
    "barcode": Kind.IGNORE,
    "hologram": Kind.IGNORE,
    "imprinting": Kind.IGNORE,
}
"""Types of processing steps, in small letters."""

# fmt: off
WORDS: Mapping[Kind, frozenset[str]] = {
    Kind.CUT: frozenset((
        "cut", "cuts", "cutting", "cutline", "cutlines", "diecut", "throughcut", "knife", "blade",
        "trim", "outline", "outlines", "contour", "perimeter", "slit", "slits", "slot", "slots",
        "hole", "holes", "cutout", "cutouts", "punch", "drill", "window", "windows", "notch",
    )),
    Kind.SCORE: frozenset((
        "score", "scores", "scored", "scoring", "scoreline", "scorelines", "fold", "folds",
        "folding", "foldline", "foldlines", "crease", "creases", "creasing", "creaseline",
        "mountain", "mountains", "valley", "valleys", "bend", "bends", "hinge", "hinges",
        "groove", "kiss", "kisscut", "halfcut", "rill",
    )),
    Kind.PERFORATE: frozenset((
        "perf", "perfs", "perforate", "perforated", "perforation", "perforations", "perforating",
        "tear", "tearline", "tearoff",
    )),
    Kind.DRAW: frozenset((
        "draw", "drawn", "drawing", "pen", "pens", "mark", "marks", "marking", "markings",
        "engrave", "engraving", "etch", "plot", "sketch", "letters", "lettering", "label", "labels",
    )),
    Kind.REGISTER: frozenset((
        "register", "registration", "regmark", "regmarks", "crop", "fiducial", "fiducials",
    )),
    Kind.IGNORE: frozenset((
        "dimension", "dimensions", "dim", "dims", "note", "notes", "legend", "frame", "titleblock",
        "guide", "guides", "guideline", "guidelines", "construction", "grid", "page", "sheet",
        "glue", "bleed", "hatch", "hatching", "info", "comment", "comments", "annotation",
        "annotations", "background", "print", "art", "artwork", "ignore", "safe",
    )),
}
# fmt: on

TOGETHER: tuple[tuple[frozenset[str], Kind], ...] = (
    (frozenset(("kiss", "cut")), Kind.SCORE),
    (frozenset(("half", "cut")), Kind.SCORE),
    (frozenset(("partial", "cut")), Kind.SCORE),
    (frozenset(("cut", "mark")), Kind.REGISTER),
    (frozenset(("cut", "marks")), Kind.REGISTER),
    (frozenset(("crop", "mark")), Kind.REGISTER),
    (frozenset(("crop", "marks")), Kind.REGISTER),
    (frozenset(("trim", "marks")), Kind.REGISTER),
    (frozenset(("register", "mark")), Kind.REGISTER),
    (frozenset(("register", "marks")), Kind.REGISTER),
    (frozenset(("registration", "mark")), Kind.REGISTER),
    (frozenset(("registration", "marks")), Kind.REGISTER),
    (frozenset(("tear", "perforation")), Kind.PERFORATE),
    (frozenset(("perforated", "fold")), Kind.PERFORATE),
    (frozenset(("perforated", "cut")), Kind.PERFORATE),
    (frozenset(("perf", "cut")), Kind.PERFORATE),
    (frozenset(("perf", "fold")), Kind.PERFORATE),
    (frozenset(("fold", "mark")), Kind.DRAW),
    (frozenset(("fold", "marks")), Kind.DRAW),
)
"""Words that mean another thing side by side."""

MOUNTAIN, VALLEY = ("mountain", "mountains"), ("valley", "valleys")


@frozen
class Named:
    """What a name says: a kind, whether it is a processing step's, and "mountain" or "valley"."""

    kind: Kind
    step: bool = False
    fold: str = ""
    doubtful: bool = False


@lru_cache(1000)
def named(name: str) -> Named | None:
    """What a name says; None where it says nothing, or several things at once.

    >>> named("Fold lines"), named("lid"), named("cut and fold")
    (Named(kind=<Kind.SCORE: 'score'>, step=False, fold='', doubtful=False), None, None)
    """
    parts = parts_of(name)
    words = frozenset(parts)
    step = STEPS.get("".join(re.findall(r"[a-z]+", name.lower())))
    fold = "mountain" if words & {*MOUNTAIN} else "valley" if words & {*VALLEY} else ""
    if words & {*MOUNTAIN} and words & {*VALLEY}:
        fold = ""
    if step is not None:
        return Named(step, step=True)
    for both, kind in TOGETHER:
        if both <= words:
            rest = words - both
            kinds = {each for each in Kind if rest & WORDS[each]}
            return Named(kind, fold=fold, doubtful=bool(kinds - {kind}))
    found = {kind for kind in Kind if words & WORDS[kind]} | kinds_of(name, parts)
    if len(found) != 1:
        return None
    (kind,) = found
    if kind is Kind.SCORE:
        fold = fold or way_of(name, parts)
    kissed = bool(words & {"kiss", "kisscut", "halfcut"})
    return Named(kind, fold=fold, doubtful=kissed)
