"""Fold: how much of its thickness a crease takes.

A strip with two creases w apart is folded up at both ends. If a crease takes the share k of the
caliper c, the legs stand (1 − k)·c outside of the creases, so the strip measures
m = w + 2·(1 − k)·c outside, and k = 1 − (m − w)/(2·c). The caliper is measured on the pile of all
strips. The widths end in different tenths, so that what a ruler rounds is evened out.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Fold, Operation, Stroke
from cutlayers.geometry.strokes import Part as StrokePart
from cutlayers.geometry.transforms import Transform
from cutlayers.job.caliper import LARGEST_CALIPER, SMALLEST_CALIPER
from cutlayers.profile.card_settings import LARGEST_TAKE_UP, SMALLEST_TAKE_UP
from cutlayers.profile.operations import Method
from cutlayers.trials.layout import as_sheet, cut, heading, label
from cutlayers.trials.model import (
    Outcome,
    Part,
    Readings,
    ReadingSpec,
    Result,
    Setup,
    Trial,
    TrialSheet,
)
from cutlayers.trials.refusing import misread, refuse_apart, unread, unsuited
from cutlayers.trials.statistics import Estimate, least_squares, student_95

WIDTHS = (20.0, 23.1, 26.2, 29.3, 32.4)
"""mm between the two creases of a strip, five tenths of a half millimetre."""

LEG, BROAD, PITCH, APART = 18.0, 14.0, 18.0, 8.0
"""mm: what is folded up, how broad a strip is, from strip to strip, and between the two groups."""

GROUPS = {"A": "along the sheet's height", "X": "across it"}
"""The two groups of strips by the letter of their names, and how their creases run."""

PILE = "S"
"""The reading of all strips on one pile."""

FEWEST = 3
"""Strips; fewer do not tell their own spread."""

READING_ERROR = 0.05
"""mm; standard deviation of one length, at the least: good calipers on soft card."""

CREDIBLE = 1.0
"""mm that an outside may lie off the others."""

FORMULA = (
    "1 − (outside − width between the creases) / (2 · thickness), the mean over the strips; "
    "interval by Student's t over their spread, with the error of the pile's thickness"
)


def _check(setup: Setup) -> None:
    how = setup.machine.operations[Operation.SCORE]
    if how.method is Method.BY_HAND:
        raise unsuited(
            setup.machine,
            ("operations", "score", "as"),
            f'is "{how.method}": the sheet would have no creases at known places',
            'give score a tool, or as = "draw" to score by hand along drawn lines',
            found=how.method.value,
        )
    if setup.material is None:
        raise unread("--material", "say which card is folded: --material NAME")


def _strips() -> Mapping[str, float]:
    """The width between the creases of each strip, by its name."""
    return {
        f"{group}{number}": width
        for group in GROUPS
        for number, width in enumerate(WIDTHS, start=1)
    }


def sheet(setup: Setup) -> TrialSheet:
    """Five strips that lie level in rows, and five upright beside them."""
    _check(setup)
    machine = setup.machine
    level = WIDTHS[-1] + 2 * LEG
    high = PITCH * (len(WIDTHS) - 1) + BROAD
    beside = level + APART
    parts = [Part(heading(setup, "Fold", beside + high, high + 4.0), machine)]
    for index, (name, width) in enumerate(_strips().items()):
        turned, place = divmod(index, len(WIDTHS))
        along = PITCH * place + BROAD / 2
        middle = (beside + along, high - level / 2) if turned else (level / 2, high - along)
        move = Transform.translation(*middle) @ Transform.rotation(90.0 * turned)
        # Read the right way up on the lower end of an upright strip, the left end of a level one.
        end = -(width + LEG) / 2
        at = (middle[0], middle[1] + end) if turned else (middle[0] + end, middle[1])
        strokes = tuple(stroke.transformed(move) for stroke in _strip(width, name))
        text = label(machine, name, (at[0], at[1] - 1.75), "middle")
        parts.append(Part((*text, *strokes), machine))
    return as_sheet(setup, parts)


def _strip(width: float, name: str) -> tuple[Stroke, ...]:
    """A strip about the origin with two upright creases."""
    long = width + 2 * LEG
    outline = Path.rectangle(long, BROAD, (-long / 2, -BROAD / 2))
    creases = (Path.line((x, -BROAD / 2), (x, BROAD / 2)) for x in (-width / 2, width / 2))
    return (
        *(Stroke(Operation.SCORE, each, StrokePart.FOLD, name, Fold.MOUNTAIN) for each in creases),
        cut(outline, StrokePart.OUTLINE, name),
    )


def readings(setup: Setup) -> tuple[ReadingSpec, ...]:
    """The pile's thickness, and each strip's outside."""
    _check(setup)
    strips = _strips()
    count = len(strips)
    pile = ReadingSpec(
        PILE,
        f"all {count} strips on one pile, pressed together, before they are folded",
        "mm",
        count * SMALLEST_CALIPER,
        count * LARGEST_CALIPER,
        times=2,
    )
    return (
        pile,
        *(
            ReadingSpec(
                name,
                f"strip {name}, from outside to outside of its legs",
                "mm",
                width - 2 * LARGEST_CALIPER,
                width + 4 * LARGEST_CALIPER,
                needed=False,
            )
            for name, width in strips.items()
        ),
    )


def steps(setup: Setup) -> tuple[str, ...]:
    """What to do."""
    _check(setup)
    count = len(_strips())
    return (
        "Score and cut the sheet with the settings that you use for this card; other settings make "
        "other creases, and want another trial.",
        f"Lay all {count} strips on one pile, press it together and measure how thick it is, away "
        f"from the creases. That is {PILE}.",
        "Fold both ends of every strip away from you, as a box is folded: right over once, then "
        "back to a right angle. Set it on the table, its legs up, between two square things.",
        "Measure over the outsides of the legs, near the creases: with calipers, closed just so "
        "that they touch, or with a ruler to half a millimetre. The widths between the creases "
        "differ by odd tenths on purpose.",
    )


def estimate(setup: Setup, read: Readings) -> Outcome:
    """The share of the caliper that a crease takes, of all strips alike."""
    _check(setup)
    strips = _strips()
    given = [name for name in strips if name in read]
    if len(given) < FEWEST:
        lacking = next(name for name in strips if name not in read)
        raise unread(lacking, f"measure at least {FEWEST} strips, better all {len(strips)}")
    # How far the legs stand outside of the creases, both together.
    beyond = {name: math.fsum(read[name]) / len(read[name]) - strips[name] for name in given}
    fit = least_squares([[1.0]] * len(given), list(beyond.values()), READING_ERROR)
    (both,) = fit.estimates
    worst = max(range(len(given)), key=lambda i: abs(fit.residuals[i]))
    if abs(off := fit.residuals[worst]) > CREDIBLE:
        name = given[worst]
        told = f"lies {abs(off):.1f} mm off what the other strips measure: no crease differs so"
        raise misread(name, read[name][0], told, "fold it anew and measure it again")
    caliper = _caliper(read[PILE], fit.residuals)
    share = _share(both, caliper)
    likely = min(max(share.value, SMALLEST_TAKE_UP), LARGEST_TAKE_UP)
    if abs(share.value - likely) > share.half:
        told = (
            f"makes the card {caliper.value:.2f} mm thick, of which a crease would take "
            f"{share.value:.1f}; creases take {SMALLEST_TAKE_UP:g} to {LARGEST_TAKE_UP:g}"
        )
        advice = f"measure the pile of all {len(strips)} strips, and the legs outside"
        raise misread(PILE, read[PILE][0], told, advice)
    key = ("materials", str(setup.material), "fold", "take_up")
    result = Result(key, likely, share.half, "of its caliper", FORMULA, 2)
    return Outcome((result,), (), _remarks(beyond, caliper, share))


def _caliper(piles: tuple[float, ...], residuals: tuple[float, ...]) -> Estimate:
    """The thickness of one strip. The pile is measured with the same tool as the strips, so a
    reading of it errs as theirs do."""
    refuse_apart(PILE, piles, CREDIBLE, 1, "press the pile together and measure it again")
    freedom = len(residuals) - 1
    spread = math.sqrt(math.fsum(each**2 for each in residuals) / freedom)
    half = student_95(freedom) * max(READING_ERROR, spread) / math.sqrt(len(piles))
    count = len(_strips())
    return Estimate(math.fsum(piles) / len(piles) / count, half / count)


def _share(both: Estimate, caliper: Estimate) -> Estimate:
    """1 − b/(2c), and half its interval by the law of propagation (JCGM 100:2008, 5.1.2)."""
    outside = both.value / (2 * caliper.value)
    half = math.hypot(both.half / (2 * caliper.value), outside * caliper.half / caliper.value)
    return Estimate(1.0 - outside, half)


def _remarks(beyond: Mapping[str, float], caliper: Estimate, share: Estimate) -> tuple[str, ...]:
    remarks = [
        f"this card is {caliper.value:.2f} ± {caliper.half:.2f} mm thick; the caliper of your "
        "stock should say the same"
    ]
    if abs(share.value - 0.5) <= share.half:
        remarks.append(
            "no difference from half the caliper that these readings could tell; calipers and "
            "more strips tell more"
        )
    means = []
    for group in GROUPS:
        own = [value for name, value in beyond.items() if name.startswith(group)]
        means.append(math.fsum(own) / len(own) if own else math.nan)
    apart = abs(means[0] - means[1]) / (2 * caliper.value)
    if apart > 2 * share.half:
        remarks.append(
            f"creases along and across differ by {apart:.2f} of the caliper: one value is a "
            "compromise"
        )
    return tuple(remarks)


def resolve(setup: Setup) -> Setup:
    """The setup, once it is known to make sense."""
    _check(setup)
    return setup


TRIAL = Trial("fold", "How much a crease takes", sheet, readings, steps, estimate, resolve)
