"""Which found mark is which, whether they can be believed, and how the sheet lies then."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace

from cutlayers.align.fit import FEWEST, ON_A_LINE, FittedMotion, Model, fit_motion, too_few
from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point
from cutlayers.telling.errors import AlignError
from cutlayers.telling.refusals import Refusal, Span

LARGEST_SCALE_ERROR = 0.02
"""Printers are off by a few tenths of a percent; beyond this something else is wrong."""

ROUGHLY = 0.02
"""Share of the marks' extent by which a first, rough fit may be off: scale and shear together."""

CLEARLY = 3.0
"""How many times better one explanation must be than the next to be believed."""


@frozen
class Alignment:
    """How a sheet lies. `marks` pairs the number of each mark that was used, from 0, with where
    it was found; `left_out` are numbers of marks that were found but do not fit the rest."""

    fit: FittedMotion
    marks: tuple[tuple[int, Point], ...]
    left_out: tuple[int, ...] = ()


def align(
    nominal: Sequence[Point], found: Sequence[Point], model: Model, limit: float
) -> Alignment:
    """Match found marks, in any order, to the nominal ones and fit the model.

    `limit` is the largest residual in mm that is believed. With four marks or more, one that does
    not fit the rest is left out. Raises AlignError, saying why: too few marks, a sheet that lies
    the wrong way round or face down, an unlikely scale, or residuals above the limit.
    """
    if len(found) < 3:
        raise AlignError(
            too_few(
                len(found),
                f"{len(found)} of {len(nominal)} register marks are known",
                "fewer do not say how the sheet is scaled and turned",
            )
        )
    if len(found) > len(nominal):
        raise AlignError(
            Refusal(
                reason=f"{len(found)} marks are given, but the sheet has {len(nominal)}",
                fault="value",
                found=len(found),
                allowed=Span(FEWEST, len(nominal), whole=True),
            )
        )
    if len(set(found)) < len(found):
        raise AlignError(Refusal(reason="two of the given marks are in the same place"))
    order, rough = _best_order(nominal, found)
    extent = max(abs(a - b) for one in nominal for two in nominal for a, b in zip(one, two))  # noqa: B905
    if rough.rms > ROUGHLY * extent:
        _diagnose_mirror(nominal, found, ROUGHLY * extent)
        raise AlignError(
            Refusal(
                reason="the marks do not stand as they were printed: they are off by "
                f"{rough.worst:.1f} mm however they are taken",
                advice="measure them again",
            )
        )
    _refuse_turned(rough.rotation_deg)
    used = tuple(sorted(zip(order, found, strict=True)))
    alignment = _checked(nominal, used, model, limit)
    _refuse_scale(alignment.fit)
    return alignment


def _best_order(
    nominal: Sequence[Point], found: Sequence[Point]
) -> tuple[tuple[int, ...], FittedMotion]:
    best: tuple[tuple[int, ...], FittedMotion] | None = None
    for order in itertools.permutations(range(len(nominal)), len(found)):
        try:
            tried = fit_motion("similarity", [nominal[i] for i in order], found)
        except AlignError:
            continue
        # A tiny scale fits everything into one point, so the error is taken at the marks' own.
        scale = max(tried.scale_across, 1e-9)
        tried = replace(tried, residuals=tuple(each / scale for each in tried.residuals))
        if best is None or tried.rms < best[1].rms:
            best = order, tried
    if best is None:
        raise AlignError(ON_A_LINE)
    return best


def _diagnose_mirror(nominal: Sequence[Point], found: Sequence[Point], limit: float) -> None:
    mirrored = [(-x, y) for x, y in found]
    if _best_order(nominal, mirrored)[1].rms <= limit:
        raise AlignError(
            Refusal(
                reason="the marks stand as in a mirror: the sheet lies face down, or x was "
                "measured from the right"
            )
        )


def _refuse_turned(rotation_deg: float) -> None:
    quarters = round(rotation_deg / 90.0) % 4
    if quarters:
        way = {1: "a quarter turn to the left", 2: "upside down", 3: "a quarter turn to the right"}
        raise AlignError(
            Refusal(
                reason=f"the sheet lies the wrong way round ({way[quarters]}, {rotation_deg:.1f}°)",
                fault="value",
                found=round(rotation_deg, 1),
                advice="turn it and measure again",
            )
        )


def _checked(
    nominal: Sequence[Point], used: tuple[tuple[int, Point], ...], model: Model, limit: float
) -> Alignment:
    fitted = _fit(nominal, used, model)
    if _error(nominal, used, fitted) <= limit:
        return Alignment(fitted, used)
    # Without one of the marks: the model must still be checked by what is left.
    others = []
    if len(used) >= 4:
        for i in range(len(used)):
            rest = used[:i] + used[i + 1 :]
            try:
                tried = _fit(nominal, rest, "axes" if len(rest) == 3 else model)
            except AlignError:
                continue
            others.append((_error(nominal, rest, tried), i, rest, tried))
    others.sort(key=lambda each: each[:2])
    if others and others[0][0] <= limit:
        if len(others) > 1 and others[1][0] < CLEARLY * max(others[0][0], limit / CLEARLY):
            raise AlignError(_too_far(fitted, used, limit, "it is not clear which is wrong"))
        _, i, rest, tried = others[0]
        return Alignment(tried, rest, (used[i][0],))
    raise AlignError(_too_far(fitted, used, limit))


def _fit(
    nominal: Sequence[Point], used: tuple[tuple[int, Point], ...], model: Model
) -> FittedMotion:
    return fit_motion(model, [nominal[i] for i, _ in used], [place for _, place in used])


def _error(
    nominal: Sequence[Point], used: tuple[tuple[int, Point], ...], fitted: FittedMotion
) -> float:
    """What cannot be explained. Three marks always fit an affine motion, so there it is the
    residual of the model without shear: a printer scales, but it hardly shears."""
    if fitted.model == "affine" and len(used) == 3:
        return _fit(nominal, used, "axes").worst
    return fitted.worst


def _too_far(
    fitted: FittedMotion, used: tuple[tuple[int, Point], ...], limit: float, advice: str = ""
) -> Refusal:
    rows = ", ".join(
        f"mark {number + 1} {residual:.2f}"
        for (number, _), residual in zip(used, fitted.residuals, strict=True)
    )
    worst = max(fitted.worst, 0.0)
    return Refusal(
        reason=f"the marks do not fit ({fitted.model}): off by up to {worst:.2f} mm ({rows} mm)",
        fault="value",
        found=round(worst, 3),
        allowed=Span(most=limit, unit="mm"),
        advice=advice,
    )


def _refuse_scale(fitted: FittedMotion) -> None:
    for way, scale in (("across", fitted.scale_across), ("up", fitted.scale_up)):
        if abs(scale - 1.0) > LARGEST_SCALE_ERROR:
            percent = 100 * LARGEST_SCALE_ERROR
            raise AlignError(
                Refusal(
                    reason=f"the sheet is printed at {scale:.1%} {way}",
                    fault="value",
                    found=round(100 * scale, 1),
                    allowed=Span(100 - percent, 100 + percent, "%"),
                    advice="print at true size, and check the scan's dpi",
                )
            )
