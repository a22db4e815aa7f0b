"""One job that is open: its text, what was made of it, and what it was before.

The file is the truth. A change is made in the text that the file has at that moment, is tried
before it is written, and is written whole; where an editor changed the same value meanwhile, both
values are told and neither is lost. Nothing here knows of a browser.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cutlayers import Budget, Cancelled, EditRefused, put, read_user_file
from cutlayers.page.changes import ChangeRefused, changed, conflict_in, place_of, value_at
from cutlayers.page.comparing import told_to_compare
from cutlayers.page.kits import row_told, rows_told
from cutlayers.page.laying import Sheets, laid, sheets_of
from cutlayers.page.looking import (
    Look,
    controls,
    findings_of,
    folded_picture,
    folding,
    lengths_as_drawn,
    machines,
    sizes_of,
    stays_flat,
)
from cutlayers.page.past import Past
from cutlayers.page.pieces import Place
from cutlayers.page.trying import Refused, tried, troubles
from cutlayers.page.working import working

if TYPE_CHECKING:
    from cutlayers import Finding

LARGEST_MB = 1
"""Of a job's file; it is written by hand."""

Boxes = dict[int, dict[str, Any]]
"""What is shown of a box, by its piece."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What came of a change: refused with reasons, at odds with an editor, or made."""

    refused: Refused
    conflict: Mapping[str, Any] | None = None


class Desk:
    """A job that is open. Every method may be called from any thread."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.revision = 0
        self._asked = 0
        self._last_places: list[Place] = []  # of the change that more of the same may go on with
        self._lock = threading.RLock()
        self._past = Past()
        self._mark = b""
        self._row = 0  # of a kit, whose boxes are seen
        self.text = self._on_disk()
        self._look: Look | None = None
        self._boxes: Boxes = {}  # of that look
        self._seen = 0  # the piece that a page has seen last
        self._good = self.text
        self._broken: Refused = []
        self._findings: tuple[Finding, ...] = ()
        self._sheets: tuple[int, Sheets] | None = None
        self._take(self.text)

    # What is shown

    def state(self, piece: int = 0, *, other: bool = False) -> dict[str, Any]:
        """All that a page shows at once of one piece; `other` tells lengths in the other unit
        too."""
        with self._lock:
            self.take_outside()
            now = self._look
            told: dict[str, Any] = {
                "revision": self.revision,
                "file": self.path.name,
                "broken": self._broken,
                "canUndo": self._past.can_undo,
                "canRedo": self._past.can_redo,
                "machines": machines(),
                "profile": value_at(self.text, ("profile",)),
            }
            if now is None:
                return told
            piece = min(max(piece, 0), len(now.job.orders) - 1)
            order = now.job.orders[piece]
            origin = order.box.origin
            told |= {
                "title": now.job.title,
                "unit": now.job.unit,
                "pieces": [each.name for each in now.job.orders],
                "piece": piece,
                "style": origin.style.name if origin else "",
                "holds": order.holds.shape if order.holds else None,
                "sizes": sizes_of(order, now.job),
                "flat": stays_flat(now.job),
                "findings": findings_of(self._findings, now.job),
                "trouble": troubles(now.trouble),
                "box": self._box(now, piece),
                "kit": None if now.rows is None else row_told(now.rows, now.row),
            }
            if not any(each.get("unreadable") for each in self._broken):
                drawn = lengths_as_drawn(order)
                told["controls"] = controls(self.text, piece, other, drawn)
            return told

    def _box(self, now: Look, piece: int) -> dict[str, Any]:
        self._seen = piece
        if piece not in self._boxes:
            self._boxes |= self._folded(now, piece)
        return self._boxes[piece]

    def _folded(self, look: Look, piece: int) -> Boxes:
        """The box of a piece, if there is one."""
        return {piece: folding(look, piece)} if piece < len(look.job.orders) else {}

    def more(self, revision: int) -> dict[str, Any] | None:
        """What takes longer: cures and sheets; None once the job has changed."""
        with self._lock:
            if revision != self.revision or self._look is None:
                return None
            now, text, asked = self._look, self._good, self._asked
        # Whoever asks for a change waits for no work on what was before it.
        budget = Budget(cancel=lambda: self._asked != asked or self.revision != revision)
        try:
            found = laid(text, self.path, now, budget)
            sheets = sheets_of(found, budget)
        except Cancelled:
            return None
        with self._lock:
            if revision != self.revision:
                return None
            self._findings, self._sheets = found.findings, (revision, sheets)
            return {
                "revision": revision,
                "findings": findings_of(found.findings, now.job),
                "trouble": troubles(found.trouble),
                "sheets": sheets.told,
            }

    def sheet_picture(self, revision: int, number: int) -> bytes | None:
        """The picture of a side of a sheet as SVG, where it is still there."""
        with self._lock:
            if self._sheets is None or self._sheets[0] != revision:
                return None
            pictures = self._sheets[1].pictures
            return pictures[number] if 0 <= number < len(pictures) else None

    def working(self, revision: int, number: int) -> dict[str, Any] | None:
        """How a side of a sheet is worked, moment by moment, where it is still there."""
        with self._lock:
            if self._sheets is None or self._sheets[0] != revision:
                return None
            planned = self._sheets[1].planned
        return None if planned is None else working(planned, number)

    def folded_picture(self, piece: int) -> bytes | None:
        """One box on its way and finished, as a picture."""
        with self._lock:
            now = self._look
        return None if now is None else folded_picture(now, piece)

    # What is changed

    def change(
        self, changes: Sequence[Mapping[str, Any]], base: int, *, again: bool = False
    ) -> Answer:
        """Make changes, all or none, that a person made while seeing revision `base`; those that
        go on with the last ones, `again`, are undone together with them."""
        self._asked += 1
        try:
            places = [place_of(each) for each in changes]
        except ChangeRefused as error:
            return Answer([{"place": list(error.place), "words": str(error)}])
        with self._lock:
            before = self.text
            self.take_outside()
            if before != self.text or base != self.revision:
                for each in changes:
                    if conflict := conflict_in(each, before, self.text):
                        return Answer([], conflict)
            text = self.text
            job = self._look.job if self._look else None
            again = again and places == self._last_places
            if not again:
                self._last_places = []
            try:
                for each in changes:
                    text = changed(text, each, job, self.path)
            except ChangeRefused as error:
                return Answer([{"place": list(error.place), "words": str(error)}])
            return Answer(self._write_if_good(text, places, again=again))

    def cure(self, number: int, base: int) -> Answer:
        """Make the edits of a finding's cure, the finding counted in revision `base`."""
        with self._lock:
            self.take_outside()
            if base != self.revision or self._look is None or number >= len(self._findings):
                return Answer([{"place": [], "words": "the job has changed meanwhile; look again"}])
            cure = self._findings[number].cure
            if cure is None:
                return Answer([{"place": [], "words": "there is no cure for this"}])
            from cutlayers import with_cure

            try:
                text = with_cure(self.text, cure, self._look.job.unit)
            except EditRefused as error:
                return Answer([{"place": list(error.refusal.place), "words": str(error)}])
            return Answer(self._write_if_good(text, []))

    def undo(self) -> None:
        """Go back by one change, whoever made it."""
        self._step(self._past.undo)

    def redo(self) -> None:
        """Make again what was undone."""
        self._step(self._past.redo)

    def take_outside(self) -> bool:
        """Take what an editor saved, if anything; whether there was something."""
        with self._lock:
            try:
                text = self._on_disk()
            except ValueError:  # it is not there, no text, or no file
                return False
            if text == self.text:
                return False
            self._past.leave(self.text)
            self._last_places = []
            self._take(text)
            return True

    def see_row(self, number: int) -> None:
        """Show the boxes of another row of a kit; no change of the job."""
        with self._lock:
            self._row = number
            self._take(self.text)

    def look_again(self) -> None:
        """A file that the job reads was changed."""
        with self._lock:
            self._take(self.text)

    @property
    def table(self) -> Path | None:
        """The table of a kit; None where the job has none."""
        with self._lock:
            rows = self._look.rows if self._look else None
        return None if rows is None else Path(rows.file)

    def rows(self) -> dict[str, Any] | None:
        """The rows of a kit; None where the job has no table."""
        with self._lock:
            rows = self._look.rows if self._look else None
        return None if rows is None else rows_told(rows)

    def compared(self, changes: Sequence[Mapping[str, Any]], piece: int) -> dict[str, Any] | None:
        """What the job would be with some changes, nothing of it written; None once somebody has
        changed it meanwhile."""
        with self._lock:
            text, asked = self.text, self._asked
            job = self._look.job if self._look else None
        try:
            for each in changes:
                text = changed(text, each, job, self.path)
        except ChangeRefused as error:
            return {"refused": [{"place": list(error.place), "words": str(error)}]}
        found, refused = tried(text, self.path, self._row)
        if found is None:
            return {"refused": refused, "controls": controls(text, piece, other=False)["size"]}
        try:
            return told_to_compare(
                text, self.path, found, piece, Budget(cancel=lambda: self._asked != asked)
            )
        except Cancelled:
            return None

    def _write_if_good(self, text: str, places: Sequence[Place], *, again: bool = False) -> Refused:
        """Write a text that makes a box, or tell why it makes none. In a job that was broken in an
        editor a change is good where nothing is refused at its place."""
        if text == self.text:
            return []
        found, refused = tried(text, self.path, self._row)
        if found is None and not self._broken:
            return refused
        if found is None and any(tuple(each["place"]) in places for each in refused):
            return refused
        with ThreadPoolExecutor(1) as apart:  # a disk takes as long as what is shown next
            written = apart.submit(put, self.path, self._mark + text.encode())
            boxes = {} if found is None else self._folded(found, self._seen)
            written.result()
        self._past.leave(self.text, again=again)
        self._last_places = [*places]
        self._accept(text, found, refused, boxes)
        return []

    def _step(self, go: Callable[[str, Callable[[str], None]], None]) -> None:
        with self._lock:
            self._last_places = []
            self.take_outside()
            go(self.text, self._restore)

    def _restore(self, text: str) -> None:
        put(self.path, self._mark + text.encode())
        self._take(text)

    def _take(self, text: str) -> None:
        found, refused = tried(text, self.path, self._row)
        self._accept(text, found, refused)

    def _accept(
        self, text: str, found: Look | None, refused: Refused, boxes: Boxes | None = None
    ) -> None:
        self.text, self._broken = text, refused
        if found is not None:
            self._look, self._findings, self._good = found, found.findings, text
            self._boxes = boxes or {}
        self.revision += 1

    def _on_disk(self) -> str:
        content = read_user_file(self.path, LARGEST_MB)
        text = content.decode("utf-8-sig")
        self._mark = content[: len(content) - len(text.encode())]
        return text
