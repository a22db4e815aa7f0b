"""Which found mark is which, whether they can be believed, and how the sheet lies then."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace

from cutlayers.align.fit import FEWEST, ON_A_LINE, FittedMotion, Model, fit_motion, too_few
from cutlayers.align.reliability import (
    Figure,
    Figures,
    Reliability,
    figures_of,
    reliability_of,
)
from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point
from cutlayers.telling.errors import AlignError
from cutlayers.telling.refusals import Refusal, Span

LARGEST_SCALE_ERROR = 0.007
"""Printers are off by a few tenths of a percent; beyond this something else is wrong. Common
practice, no source, as the next."""

LARGEST_DISTORTION = 0.003
"""How much larger a sheet may be printed one way than the other, and how far sheared."""

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

    def figures(self, nominal: Sequence[Point], work: Sequence[Point]) -> Figures:
        """How the print differs from true size; `nominal` are all marks of the sheet."""
        return figures_of(self.fit, *self._pairs(nominal), work)

    def reliability(self, nominal: Sequence[Point], work: Sequence[Point]) -> Reliability:
        """How well the marks that were used check each other; `nominal` are all of the sheet."""
        return reliability_of(self.fit, *self._pairs(nominal), work)

    def _pairs(self, nominal: Sequence[Point]) -> tuple[list[Point], list[Point]]:
        return [nominal[number] for number, _ in self.marks], [place for _, place in self.marks]


def align(
    nominal: Sequence[Point],
    found: Sequence[Point],
    model: Model,
    limit: float,
    work: Sequence[Point] = (),
    *,
    anyway: bool = False,
) -> Alignment:
    """Match found marks, in any order, to the nominal ones and fit the model.

    `limit` is the largest residual in mm that is believed. With four marks or more, one that does
    not fit the rest is left out. `work` are points of the lines to be made, the marks themselves
    if none are given. Raises AlignError, saying why: too few marks, a sheet that lies the wrong way
    round or face down, residuals above the limit or, unless it is to be believed `anyway`, a scale
    or a shear that printers do not have.
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
        mirrored = _mirrored(nominal, found, ROUGHLY * extent)
        if mirrored:
            reason = f"the marks stand as in a mirror: the sheet lies face down, or {mirrored}"
            raise AlignError(Refusal(reason=reason))
        raise AlignError(
            Refusal(
                reason="the marks do not stand as they were printed: they are off by {} however "
                "they are taken",
                advice="measure them again",
                lengths=(round(rough.worst, 1),),
            )
        )
    quarters = round(rough.rotation_deg / 90.0) % 4
    if quarters:
        mirrored = _mirrored(nominal, found, ROUGHLY * extent)
        raise AlignError(_turned(quarters, rough.rotation_deg, mirrored))
    used = tuple(sorted(zip(order, found, strict=True)))
    alignment = _checked(nominal, used, model, limit)
    if not anyway:
        _refuse_unlikely(alignment, nominal, work or nominal)
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


def _mirrored(nominal: Sequence[Point], found: Sequence[Point], limit: float) -> str:
    """What was measured from the wrong side, where the marks stand as in a mirror."""
    as_seen = [(-x, y) for x, y in found]
    _, fitted = _best_order(nominal, as_seen)
    if fitted.rms > limit:
        return ""
    # Mirrored left to right and turned by a half is mirrored upside down.
    from_top = abs(fitted.rotation_deg) > 90.0
    return "y was measured from the top" if from_top else "x was measured from the right"


def _turned(quarters: int, rotation_deg: float, mirrored: str) -> Refusal:
    way = {1: "a quarter turn to the left", 2: "upside down", 3: "a quarter turn to the right"}
    reason = f"the sheet lies the wrong way round ({way[quarters]}, {rotation_deg:.1f}°)"
    advice = "turn it and measure again"
    if mirrored:
        reason += f", or {mirrored}"
        advice = "measure from the lower left corner; three marks alone do not tell which it is"
    return Refusal(reason=reason, fault="value", found=round(rotation_deg, 1), advice=advice)


def _checked(
    nominal: Sequence[Point], used: tuple[tuple[int, Point], ...], model: Model, limit: float
) -> Alignment:
    fitted = _fit(nominal, used, model)
    checking = _checking(nominal, used, fitted)
    if checking.worst <= limit:
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
            others.append((_checking(nominal, rest, tried).worst, i, rest, tried))
    others.sort(key=lambda each: each[:2])
    if others and others[0][0] <= limit:
        if len(others) > 1 and others[1][0] < CLEARLY * max(others[0][0], limit / CLEARLY):
            raise AlignError(_too_far(checking, used, limit, "it is not clear which is wrong"))
        _, i, rest, tried = others[0]
        return Alignment(tried, rest, (used[i][0],))
    raise AlignError(_too_far(checking, used, limit))


def _fit(
    nominal: Sequence[Point], used: tuple[tuple[int, Point], ...], model: Model
) -> FittedMotion:
    return fit_motion(model, [nominal[i] for i, _ in used], [place for _, place in used])


def _checking(
    nominal: Sequence[Point], used: tuple[tuple[int, Point], ...], fitted: FittedMotion
) -> FittedMotion:
    """The fit whose residuals tell what is wrong. Three marks always fit an affine motion, so there
    it is the one without shear: a printer scales, but it hardly shears."""
    if fitted.model == "affine" and len(used) == 3:
        return _fit(nominal, used, "axes")
    return fitted


def _too_far(
    fitted: FittedMotion, used: tuple[tuple[int, Point], ...], limit: float, advice: str = ""
) -> Refusal:
    rows = ", ".join(f"mark {number + 1} by {{}}" for number, _ in used)
    return Refusal(
        reason=f"the marks do not fit ({fitted.model}): off by up to {{}}: {rows}",
        fault="value",
        found=round(fitted.worst, 3),
        allowed=Span(most=limit, unit="mm"),
        advice=advice,
        lengths=(fitted.worst, *fitted.residuals),
    )


def _refuse_unlikely(alignment: Alignment, nominal: Sequence[Point], work: Sequence[Point]) -> None:
    """Refuse a print that differs from true size as printers do not: it looks the same where a mark
    is misread."""
    figures = alignment.figures(nominal, work)
    scale, most = 100 * LARGEST_SCALE_ERROR, 100 * LARGEST_DISTORTION
    for way, figure in (("across", figures.across), ("up", figures.up)):
        if abs(figure.value) > LARGEST_SCALE_ERROR:
            found = f"printed at {100 * (1 + figure.value):.2f} % {way}"
            raise AlignError(_unlikely(found, figure, Span(100 - scale, 100 + scale, "%"), 1.0))
    unequal = figures.unequal
    if abs(unequal.value) > LARGEST_DISTORTION:
        more, less = ("across", "up") if unequal.value > 0 else ("up", "across")
        found = f"printed {100 * abs(unequal.value):.2f} % larger {more} than {less}"
        raise AlignError(_unlikely(found, unequal, Span(-most, most, "%")))
    if abs(figures.shear.value) > LARGEST_DISTORTION:
        found = f"sheared by {100 * abs(figures.shear.value):.2f} %"
        raise AlignError(_unlikely(found, figures.shear, Span(-most, most, "%")))


def _unlikely(found: str, figure: Figure, allowed: Span, true: float = 0.0) -> Refusal:
    return Refusal(
        reason=f"the marks stand as on a sheet {found}; if one of them is misread, cuts and scores "
        "lie up to {} off",
        fault="value",
        found=round(100 * (true + figure.value), 2),
        allowed=allowed,
        advice="measure again; print at true size, and check a scan's dpi; where the print really "
        "is so, say --anyway",
        lengths=(round(figure.at_work, 1),),
    )
