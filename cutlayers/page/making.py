"""The files of a job, made while the page shows how far it has come; the same as `cutlayers make`
writes, byte for byte."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from cutlayers import (
    Budget,
    Cancelled,
    CutlayersError,
    job_in,
    machine_for,
    names_kit,
)
from cutlayers.page.kits import bars_for

CHECKING = 0.3
"""Share of the time of a kit that its rows take; the rest its sheets."""

Tell = Callable[[Mapping[str, Any]], None]


class Making:
    """At most one run at a time; another asked for meanwhile is refused."""

    def __init__(self, path: Path, tell: Tell) -> None:
        self._path, self._tell = path, tell
        self._lock = threading.Lock()
        self._cancelled = threading.Event()
        self.folder = path.parent / path.stem
        self.files: tuple[str, ...] = ()

    def cancel(self) -> None:
        """Call off the run, if there is one; nothing is written then."""
        self._cancelled.set()

    def run(self, text: str, *, anyway: bool) -> None:
        """Make the files of a text, and tell how it goes and ends."""
        if not self._lock.acquire(blocking=False):
            return
        self._cancelled.clear()
        try:
            self._tell({"stage": "done", **self._made(text, anyway=anyway)})
        except Cancelled:
            self._tell({"stage": "cancelled"})
        except CutlayersError as error:
            self._tell({"stage": "refused", "words": str(error)})
        except Exception:
            self._tell({"stage": "refused", "words": "something went wrong here; nothing was made"})
            raise
        finally:
            self._lock.release()

    def _made(self, text: str, *, anyway: bool) -> dict[str, Any]:
        from cutlayers import draw, files_read, lay_out, laying_steps, plan, render, show, write

        budget = Budget(cancel=self._cancelled.is_set)
        if names_kit(self._path):
            return self._kit_made(budget, anyway=anyway)
        job = job_in(text, self._path)
        machine = machine_for(self._path, job.profile, None)
        if machine.take_up:
            job = job_in(text, self._path, machine.take_up)
        # After laying come the order, the drawings and the files of each side, in like shares.
        done, whole = 0, 2 * laying_steps(job) + 2

        def progress(steps: int) -> None:
            nonlocal done
            budget.check()
            done += steps
            self._tell({"stage": "working", "share": min(0.98, done / whole)})

        layout = lay_out(job, machine, budget=budget, progress=progress)
        if not (layout.works or anyway):
            return {"written": False, "files": [], "folder": str(self.folder)}
        each = max(1, (whole - done) // (4 * max(1, len(layout.sides))))
        shown = show(job, machine, budget=budget)
        progress(each)
        planned = plan(layout, budget=budget, progress=lambda _: progress(each))
        drawn = draw(planned, shown, budget=budget)
        files = render(drawn, progress=lambda _: progress(each))
        budget.check()
        write(files, self.folder, inputs=files_read(self._path, None))
        self.files = tuple(sorted(files))
        return self._written()

    def _kit_made(self, budget: Budget, *, anyway: bool) -> dict[str, Any]:
        """All sheets of a kit. What is made of it before it is called off is kept, and the next
        run goes on from there."""
        from cutlayers import Severity, open_kit, write_kit

        def shares(start: float, end: float) -> Callable[[float], None]:
            return lambda share: self._tell(
                {"stage": "working", "share": min(0.98, start + share * (end - start))}
            )

        opened = open_kit(self._path, None, bars_for(budget, shares(0.0, CHECKING)))
        wrong = any(each.severity is Severity.ERROR for each in opened.kit.findings)
        if wrong and not anyway:
            return {"written": False, "files": [], "folder": str(self.folder)}
        report, _ = write_kit(opened, self.folder, bars=bars_for(budget, shares(CHECKING, 1.0)))
        self.files = report.files
        return self._written()

    def _written(self) -> dict[str, Any]:
        files = [{"name": name} for name in self.files]
        return {"written": True, "files": files, "folder": str(self.folder)}

    def file(self, name: str) -> Path | None:
        """A file of the last run by its name."""
        return self.folder / name if name in self.files else None
