"""How every command ends: with a code, and on a fault with one line.

    0    done
    1    the job does not work; the findings are printed
    2    bad input or usage, or a place that cannot be written
    70   a fault of our own, its details kept in a file
    74   standard output cannot be written
    130  stopped by Ctrl-C
    141  whoever read standard output went away

The last five follow the codes that shells and sysexits.h (4.3BSD) use.
"""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:  # help is printed without them
    from cutlayers.telling.errors import CutlayersError
    from cutlayers.telling.refusals import Refusal

STOPPED = "stopped; no file is half written"
FOR_SCRIPTS = "--json"
"""The option by which a script asks for data; also where the context keeps that it did."""

JOB_FILE = "cutlayers.job_file"
"""Where the context keeps the job file that a command reads."""

INPUT, FAULT, OUTPUT_LOST, INTERRUPTED, READER_GONE = 2, 70, 74, 130, 141

PLAIN = {
    "×": "x",
    "–": "-",
    "…": "...",
    "→": "->",
    "≤": "<=",
    "≥": ">=",
    "±": "+-",
    "²": "2",
    "³": "3",
    "°": " deg",
    "·": "*",
}
"""What stands for a mark that a console cannot print; "?" for all others."""


class RefusedUsage(click.UsageError):
    """A command line that cannot be, with the facts of it."""

    def __init__(self, refusal: Refusal) -> None:
        from cutlayers.telling.refusing import refused_line

        super().__init__(refused_line(refusal))
        self.refusal = refusal


class EndingGroup(click.Group):
    """A group of commands in which nothing ends with a traceback."""

    def make_context(
        self, info_name: str | None, args: list[str], *words: Any, **extra: Any
    ) -> click.Context:
        """Read the command line, which prints help and version too."""
        _print_what_can_be_printed()
        for_scripts = FOR_SCRIPTS in args
        with _ending(for_scripts):
            context = super().make_context(info_name, args, *words, **extra)
        context.meta[FOR_SCRIPTS] = for_scripts
        return context

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command."""
        with _ending(ctx.meta[FOR_SCRIPTS], ctx):
            return super().invoke(ctx)


@contextlib.contextmanager
def _ending(for_scripts: bool, context: click.Context | None = None) -> Iterator[None]:
    try:
        yield
    except click.UsageError as error:
        if for_scripts:
            _print_refusals([usage_refused(error)])
        raise  # click says it to people
    except (click.ClickException, click.exceptions.Exit):
        raise  # click says these itself
    except (KeyboardInterrupt, click.Abort):
        code = _stopped()
    except Exception as error:
        code = _told(error, for_scripts, context)
    else:
        return
    raise click.exceptions.Exit(code)


def _told(error: Exception, for_scripts: bool, context: click.Context | None) -> int:
    """Say what a command ended with, and give its code."""
    from cutlayers.telling.errors import Cancelled, CutlayersError

    if isinstance(error, Cancelled):
        return _stopped()
    if not isinstance(error, CutlayersError):
        return _unexpected(error)
    from cutlayers.telling.refusing import refused_lines

    refusals = _in_their_file(error, context)
    if for_scripts:
        _print_refusals(refusals)
    _tell(refused_lines(refusals))
    return INPUT


def _stopped() -> int:
    _tell(STOPPED)
    return INTERRUPTED


def _in_their_file(error: CutlayersError, context: click.Context | None) -> Sequence[Refusal]:
    """What was refused, in the job file where it is said of the job and no file is named."""
    from cutlayers.telling.errors import JobError, PlacementError

    job_file = context.meta.get(JOB_FILE) if context is not None else None
    if not job_file or not isinstance(error, PlacementError | JobError):
        return error.refusals
    return [each if each.file else each.within(str(job_file)) for each in error.refusals]


def usage_refused(error: click.UsageError) -> Refusal:
    """A command line that click or a command refuses, as facts."""
    from dataclasses import replace

    from cutlayers.telling.refusals import Refusal

    if isinstance(error, RefusedUsage):
        return error.refusal
    said = " ".join(error.format_message().split())
    refusal = Refusal(reason=said, fault="usage")
    if isinstance(error, click.NoSuchOption):
        return replace(refusal, found=error.option_name)
    return refusal


def _print_refusals(refusals: Sequence[Refusal]) -> None:
    import json

    from cutlayers.telling.facts import refusal_data

    told = {"refusals": [refusal_data(each) for each in refusals]}
    click.echo(json.dumps(told, indent=2, ensure_ascii=False))


def _unexpected(error: Exception) -> int:
    import traceback

    frames = traceback.extract_tb(error.__traceback__)
    if isinstance(error, OSError) and any(frame.name == "echo" for frame in frames):
        _give_up_stdout()
        if isinstance(error, BrokenPipeError):
            return READER_GONE
        _tell(f"standard output cannot be written ({error.strerror})")
        return OUTPUT_LOST
    said = (str(error).splitlines() or [""])[0][:200]
    what = f"{type(error).__name__}: {said}" if said else type(error).__name__
    kept = _kept("".join(traceback.format_exception(error)))
    where = f", with the details in {kept}" if kept else ""
    _tell(f"cutlayers met a fault of its own ({what}); please report it{where}")
    return FAULT


def _kept(details: str) -> str | None:
    """The file in the system's folder for such things that the details were written to."""
    import tempfile

    try:
        with tempfile.NamedTemporaryFile(
            "w",
            prefix="cutlayers-fault-",
            suffix=".txt",
            delete=False,
            encoding="utf-8",
            errors="backslashreplace",
        ) as file:
            file.write(details)
    except OSError:
        return None
    return file.name


def _tell(line: str) -> None:
    with contextlib.suppress(OSError, ValueError):
        click.echo(line, err=True)


def _give_up_stdout() -> None:
    """Let what waits for standard output go, lest the end of Python trips over it again."""
    with contextlib.suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


def _print_what_can_be_printed() -> None:
    """Keep a console that knows few letters from ending the work."""
    import codecs

    codecs.register_error("cutlayers.plain", _plainly)
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(OSError, ValueError, AttributeError):
            stream.reconfigure(errors="cutlayers.plain")  # type: ignore[union-attr]


def _plainly(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    lost = error.object[error.start : error.end]
    return "".join(PLAIN.get(mark, "?") for mark in lost), error.end
