"""What a profile's file says in other words than the machine's own: its operations and its diary.

An operation in the file leaves open what has a default of its own; `reading.py` makes the plan.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated

from cutlayers.frozen import frozen
from cutlayers.profile.machine import Machine
from cutlayers.profile.operations import PASSES, Bridges, Method, Perforation, Scoring
from cutlayers.profile.output import DXF_COLOUR
from cutlayers.reading.declared import Day, Inner, Key, Several, Text, Word, a_colour, a_layer
from cutlayers.reading.tables import Declared, declared

METHODS = tuple(str(method) for method in Method if method is not Method.TOOL)


@frozen
class WrittenOperation:
    """How one operation is done, as far as the file says: by a tool or as something else.

    Example:

        [operations.cut]
        tool = "blade"
        passes = 2
        layer = "CUT"
        colour = "#0072B2"
        dxf_colour = 142
        bridges = { count = 2 }

        [operations.score]
        as = "ticks"
        scoring = { tick = 4 }

        [operations.perforate]
        tool = "blade"
        perforation = { cut = 2, tie = 1 }
    """

    tool: Annotated[str | None, Text("the NAME of one of the [tools.NAME] tables")] = None
    method: Annotated[
        Method | None,
        Key("as"),
        Word("done without a tool of its own; not for cut", METHODS, Method),
    ] = None
    passes: Annotated[int, PASSES] = 1
    layer: Annotated[str | None, a_layer("name of the layer; the operation's by default")] = None
    colour: Annotated[str | None, a_colour("colour of the layer, #RRGGBB")] = None
    dxf_colour: Annotated[int | None, DXF_COLOUR] = None
    perforation: Annotated[
        Perforation | None, Inner("cuts and ties, where the operation perforates")
    ] = None
    scoring: Annotated[Scoring | None, Inner("ends and sides of scores; only for score")] = None
    bridges: Annotated[
        Bridges | None, Inner("what holds pieces without a sticky mat; only for cut")
    ] = None


@frozen(kw_only=True)
class WrittenOperations:
    """The work, in the order in which it is done.

    Example:

        [operations]
        draw = { tool = "pen" }
        score = { as = "ticks" }
        perforate = { tool = "blade" }
        cut = { tool = "blade" }
    """

    draw: Annotated[
        WrittenOperation | None,
        Inner("pen or laser; by default your only pen, or by hand without one"),
    ] = None
    score: Annotated[
        WrittenOperation | None,
        Inner("stylus, wheel or laser; by default your only stylus, or by hand"),
    ] = None
    perforate: Annotated[
        WrittenOperation | None, Inner("drag-blade, wheel or laser; by default the tool of cut")
    ] = None
    cut: Annotated[WrittenOperation, Inner("drag-blade, wheel or laser; its tool must be named")]


@frozen
class WrittenTrial:
    """A trial that was recorded; kept for the user to look back, and read by nothing else.

    Example:

        [[trials]]
        kind = "offset"
        tested_on = 2026-03-01
        material = "kraft-270"
        readings = ["A=0.25"]
        results = ["tools.blade.offset = 0.25"]
    """

    kind: Annotated[str, Text("which trial")]
    tested_on: Annotated[date, Day("when")]
    material: Annotated[str | None, Text("on which card")] = None
    readings: Annotated[
        tuple[Annotated[str, Text()], ...], Several("what was read, name=value")
    ] = ()
    results: Annotated[tuple[Annotated[str, Text()], ...], Several("what came of it")] = ()


@frozen
class BesideTheMachine:
    """What the file has beside the fields of a Machine.

    Example:

        title = "The cutter in the kitchen"
        tool_change_s = 30
    """

    operations: Annotated[WrittenOperations, Inner("how each operation is done")]
    trials: Annotated[
        tuple[WrittenTrial, ...], Several("the trials recorded so far, [[trials]]")
    ] = ()


def profile_fields() -> tuple[Declared, ...]:
    """The tables and keys of a profile's file, in the order in which they are documented."""
    machine = {field.key: field for field in declared(Machine)}
    beside = {field.key: field for field in declared(BesideTheMachine)}
    first = ("title", "bed", "tools")
    return (
        *(machine[key] for key in first),
        beside["operations"],
        *(field for key, field in machine.items() if key not in first),
        beside["trials"],
    )
