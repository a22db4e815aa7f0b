"""What `cutlayers bring` says of a drawing."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Sequence

from cutlayers.bringing import Answer, Understood, by_reason, fold_name, looks_of, size_of
from cutlayers.telling.lengths import Unit, format_length

MENDED = {
    "strokes": ("outline of a stroke made a line", "outlines of strokes made lines"),
    "doubled": ("stretch drawn twice", "stretches drawn twice"),
    "outdone": ("crease under a cut", "creases under cuts"),
    "gaps": ("gap closed", "gaps closed"),
    "crossings": ("crossing split", "crossings split"),
    "arcs": ("arc found again", "arcs found again"),
    "tiny": ("tiny line left out", "tiny lines left out"),
    "trimmed": ("end cut back", "ends cut back"),
    "lengthened": ("crease lengthened", "creases lengthened"),
    "dangling": ("line that ends at nothing", "lines that end at nothing"),
    "scraps": ("scrap left out", "scraps left out"),
}
"""How what was mended is told, of one and of several."""


OUT = {"drawn": "the side that is drawn", "behind": "the side behind the drawing"}
"""How the side that is out is told."""


def understanding_text(
    name: str, understood: Understood, nets: Sequence[Answer], unit: Unit
) -> str:
    """What was understood of a drawing, from its scale to the folds of each net."""
    return "\n".join(_lines(name, understood, nets, unit))


def _lines(name: str, understood: Understood, nets: Sequence[Answer], unit: Unit) -> Iterator[str]:
    width, height = size_of(understood.drawing)
    size = f"{format_length(width, unit)} × {format_length(height, unit)}"
    yield f"{name}: {len(understood.drawing.lines)} lines, {size}"
    yield f"scale: one unit is {understood.scale.mm:.6g} mm; {understood.scale.reason}"
    yield "lines:"
    for (kind, evidence, doubtful), numbers in by_reason(understood.meant).items():
        note = "    not sure, see them in the picture" if doubtful else ""
        looks = looks_of(understood.drawing, numbers)
        shown = f"{looks[0]}: " if len(looks) == 1 else ""
        yield f"  {len(numbers):5d} {kind.value:10s} {shown}{evidence}{note}"
    aside = understood.drawing.set_aside or {}
    if aside:
        yield f"set aside: {', '.join(f'{count} × {what}' for what, count in aside.items())}"
    mended = list(_mended(understood))
    yield f"mended: {', '.join(mended) or 'nothing'}"
    for answer in nets:
        yield ""
        yield from _net(answer, unit)


def _mended(understood: Understood) -> Iterator[str]:
    counts = dataclasses.asdict(understood.cleaned.counts)
    counts |= {"scraps": understood.scraps, "strokes": understood.strokes}
    for field, (one, several) in MENDED.items():
        number = counts[field]
        if number:
            yield f"{number} {one if number == 1 else several}"


def _net(answer: Answer, unit: Unit) -> Iterator[str]:
    net, bent = answer.net, answer.bent
    often = f", {answer.count} times" if answer.count > 1 else ""
    yield f"{net.name}{often}: {len(net.panels)} panels, {len(net.hinges)} folds; {_closes(answer)}"
    if answer.folded is not None and net.hinges:
        out = OUT[answer.folded.outside]
        yield f"  outside: {out}; {answer.folded.outside_reason}"
    for panel in net.panels:
        lands = f", on {panel.lands_on}" if panel.lands_on else ""
        role = f"  {panel.role.value}{lands}" if answer.folded is not None else ""
        yield f"  {panel.name:24s} {_area(panel.outline.area, unit):>12s}{role}"
    for hinge in net.hinges:
        angle = answer.angle(hinge)
        turns = f"{angle:.4g}°" if angle is not None else "angle not found"
        turns = "bends" if hinge in bent else turns
        unsure = "  nothing tests it" if angle is not None and answer.doubtful(hinge) else ""
        length = format_length(hinge.edge.length, unit)
        yield f"  {fold_name(hinge):24s} {length:>12s}  {turns}{unsure}"


def _closes(answer: Answer) -> str:
    if not answer.net.hinges:
        return "nothing folds"
    if answer.folded is None:
        return answer.why_not
    unsure = sum(map(answer.doubtful, answer.net.hinges))
    if unsure == len(answer.net.hinges):
        return "it can fold up so, but nothing tests it: say the angles under folds"
    of = f"; {unsure} of its angles nothing tests" if unsure else ""
    return f"it folds up and closes to {answer.folded.gap:.2f} mm{of}"


def _area(square_millimetres: float, unit: Unit) -> str:
    if unit == "in":
        return f"{square_millimetres / 25.4**2:.2f} in²"
    return f"{square_millimetres / 100.0:.1f} cm²"
