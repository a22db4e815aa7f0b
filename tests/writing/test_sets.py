"""A set is whole, and what we did not write stays as it was."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest

from cutlayers.telling.errors import OutputError
from cutlayers.writing import changing
from cutlayers.writing.changing import CHANGE, STATE, WRITTEN
from cutlayers.writing.manifest import ABOUT, FORMAT, read_manifest, sum_of
from cutlayers.writing.sets import Leave, hold, write_set
from cutlayers.writing.single import put, put_new

ROOT = Path(__file__).parents[2]
SET = "make"


def contents(folder: Path) -> dict[str, bytes]:
    """The files in a folder; our own note beside them does not count."""
    return {item.name: item.read_bytes() for item in folder.iterdir() if item.name != STATE}


def state(folder: Path) -> list[str]:
    """What is in the hidden folder."""
    hidden = folder / STATE
    return sorted(item.name for item in hidden.iterdir()) if hidden.exists() else []


def test_files_are_written_into_a_new_folder(tmp_path: Path) -> None:
    """Missing folders are made, and nothing is left behind but the note of what was written."""
    folder = tmp_path / "boxes" / "sheets"
    write_set(folder, {"a.dxf": b"1", "a.svg": b"2"}, SET)

    assert contents(folder) == {"a.dxf": b"1", "a.svg": b"2"}
    assert state(folder) == [WRITTEN]


def test_a_set_takes_the_place_of_the_one_before(tmp_path: Path) -> None:
    """More, fewer and renamed files: what is there is the new set and what is somebody else's."""
    (tmp_path / "notes.txt").write_bytes(b"mine")
    for files in (
        {"a": b"1", "b": b"2"},
        {"a": b"1", "b": b"3", "c": b"4"},
        {"c": b"5"},
        {"d": b"5"},
        {"a": b"6", "b": b"7"},
    ):
        write_set(tmp_path, files, SET)

        assert contents(tmp_path) == {**files, "notes.txt": b"mine"}
        assert state(tmp_path) == [WRITTEN]


def test_sets_of_other_labels_stay(tmp_path: Path) -> None:
    """Each label has files of its own; one that another label wrote may be taken over."""
    write_set(tmp_path, {"a": b"1", "b": b"2"}, SET)
    write_set(tmp_path, {"c": b"3", "b": b"4"}, "other")
    write_set(tmp_path, {"a": b"5"}, SET)

    assert contents(tmp_path) == {"a": b"5", "b": b"4", "c": b"3"}
    noted = read_manifest(tmp_path / STATE / WRITTEN)
    assert {label: set(each.files) for label, each in noted.items()} == {
        SET: {"a"},
        "other": {"b", "c"},
    }


def test_an_unchanged_file_is_left_alone(tmp_path: Path) -> None:
    """The same content again does not even touch it."""
    write_set(tmp_path, {"a": b"1", "b": b"2"}, SET)
    before = (tmp_path / "a").stat()
    write_set(tmp_path, {"a": b"1", "b": b"3"}, SET)

    after = (tmp_path / "a").stat()
    assert (after.st_ino, after.st_mtime_ns) == (before.st_ino, before.st_mtime_ns)


@pytest.mark.parametrize("ours", [None, b"what we wrote once"])
@pytest.mark.parametrize("later", [{"a": b"new", "b": b"2"}, {"b": b"2"}])
def test_a_file_that_is_not_ours_is_never_touched(
    tmp_path: Path, ours: bytes | None, later: dict[str, bytes]
) -> None:
    """Neither written over nor removed, whether it was never ours or was changed since; it is named
    and nothing else is written, unless one says so."""
    if ours is not None:
        write_set(tmp_path, {"a": ours}, SET)
    (tmp_path / "a").write_bytes(b"precious")
    if ours is None and "a" not in later:
        write_set(tmp_path, later, SET)
        assert contents(tmp_path) == {"a": b"precious", **later}
        return

    with pytest.raises(OutputError, match=r"did not write a, or .* --overwrite") as caught:
        write_set(tmp_path, later, SET)

    assert "\n" not in str(caught.value)
    assert contents(tmp_path) == {"a": b"precious"}
    write_set(tmp_path, later, SET, Leave(overwrite=True))
    assert contents(tmp_path) == later


def test_a_report_that_lists_files_proves_nothing(tmp_path: Path) -> None:
    """Somebody's report.json with a list of names gives no leave to remove those."""
    theirs = {"report.json": b'{"files": ["photo.jpg"]}', "photo.jpg": b"a photo"}
    for name, content in theirs.items():
        (tmp_path / name).write_bytes(content)

    with pytest.raises(OutputError, match=r"report\.json"):
        write_set(tmp_path, {"report.json": b"{}", "guide.html": b"1"}, SET)

    assert contents(tmp_path) == theirs


def test_the_very_content_is_no_obstacle(tmp_path: Path) -> None:
    """A file that is there already just as it would be written loses nothing."""
    (tmp_path / "a").write_bytes(b"1")
    write_set(tmp_path, {"a": b"1", "b": b"2"}, SET)

    assert contents(tmp_path) == {"a": b"1", "b": b"2"}


@pytest.mark.parametrize(
    "note",
    [
        b"",
        b"\xff",
        b"[" * 100_000,
        b"[]",
        b'{"files": 5}',
        b'{"sets": {"make": {"files": {"a": "x"}}}}',
        json.dumps({"sets": {"make": {"files": {"a": sum_of(b"precious")}}}}).encode(),
    ],
)
def test_a_damaged_or_strange_note_proves_nothing(tmp_path: Path, note: bytes) -> None:
    """Then no file is ours."""
    (tmp_path / STATE).mkdir()
    (tmp_path / STATE / WRITTEN).write_bytes(note)
    (tmp_path / "a").write_bytes(b"precious")

    with pytest.raises(OutputError, match="did not write a"):
        write_set(tmp_path, {"a": b"1"}, SET)

    assert contents(tmp_path) == {"a": b"precious"}


@pytest.mark.parametrize("sets", [None, 5, "a", [], {}, {"make": 5}, {"make": {"files": 5}}])
@pytest.mark.parametrize("label", [None, 5, "make", ["make"], {"make": 1}])
@pytest.mark.parametrize("stage", ["new", "old", 5, [], {}])
def test_a_strange_note_of_a_change_is_none(
    tmp_path: Path, sets: object, label: object, stage: object
) -> None:
    """Whatever stands in it, the next set is written and nobody's file is touched."""
    note = {"about": ABOUT, "format": FORMAT, "sets": sets, "label": label, "stage": stage}
    (tmp_path / STATE).mkdir()
    (tmp_path / STATE / CHANGE).write_text(json.dumps({**note, "before": {"a": 5}}))
    (tmp_path / "a").write_bytes(b"precious")

    write_set(tmp_path, {"b": b"1"}, SET)

    assert contents(tmp_path) == {"a": b"precious", "b": b"1"}


def test_a_note_leads_to_no_other_folder(tmp_path: Path) -> None:
    """A note made by hand that names a file elsewhere removes nothing there."""
    (tmp_path / "precious").write_bytes(b"1")
    folder = tmp_path / "out"
    write_set(folder, {"a": b"1"}, SET)
    note = folder / STATE / WRITTEN
    note.write_text(note.read_text().replace('"a"', '"../precious"'))
    (folder / "a").unlink()

    write_set(folder, {"b": b"2"}, SET)

    assert (tmp_path / "precious").read_bytes() == b"1"


def _plainly(job: Path) -> Path:
    return job


def _by_way_of(job: Path) -> Path:
    return job.parent / ".." / job.parent.name / job.name


def _by_a_link(job: Path) -> Path:
    link = job.with_name("link.toml")
    link.symlink_to(job)
    return link


@pytest.mark.parametrize("way", [_plainly, _by_way_of, _by_a_link])
@pytest.mark.parametrize("ours", [True, False])
def test_an_input_is_never_written_over(
    tmp_path: Path, way: Callable[[Path], Path], ours: bool
) -> None:
    """Not even one that we wrote ourselves, nor when told to write over: by whichever name."""
    if ours:
        write_set(tmp_path, {"job.toml": b"job"}, SET)
    job = tmp_path / "job.toml"
    job.write_bytes(b"job")

    with pytest.raises(OutputError, match=r"job\.toml: is what this command reads"):
        write_set(tmp_path, {"job.toml": b"1"}, SET, Leave(inputs=[way(job)], overwrite=True))

    assert job.read_bytes() == b"job"


def test_a_link_in_a_files_place_is_not_ours(tmp_path: Path) -> None:
    """It and what it leads to stay; written over, only the link goes."""
    write_set(tmp_path, {"a": b"1"}, SET)
    (tmp_path / "a").rename(tmp_path / "kept")
    (tmp_path / "a").symlink_to(tmp_path / "kept")

    with pytest.raises(OutputError, match="did not write a"):
        write_set(tmp_path, {"a": b"2"}, SET)
    write_set(tmp_path, {"a": b"2"}, SET, Leave(overwrite=True))

    assert contents(tmp_path) == {"a": b"2", "kept": b"1"}
    assert not (tmp_path / "a").is_symlink()


def test_what_belongs_to_another_is_left(tmp_path: Path) -> None:
    """A set with an owner is for that owner to replace."""
    write_set(tmp_path, {"a": b"1"}, SET, Leave(owner="the kit spring"))
    for other in ("the kit autumn", ""):
        with pytest.raises(OutputError, match="holds the kit spring"):
            write_set(tmp_path, {"a": b"2"}, SET, Leave(owner=other))
    write_set(tmp_path, {"a": b"3"}, SET, Leave(owner="the kit spring"))

    assert contents(tmp_path) == {"a": b"3"}


def steps(patch: pytest.MonkeyPatch, failing: int, fail: Callable[[], None]) -> list[str]:
    """Let the step of that number, among those that change the disk, fail; gives the steps done."""
    done: list[str] = []

    def watched(name: str) -> None:
        original = getattr(Path, name)

        def step(path: Path, *rest: object, **options: object) -> object:
            done.append(f"{name} {path.name}")
            if len(done) == failing:
                fail()
            return original(path, *rest, **options)

        patch.setattr(Path, name, step)

    for name in ("write_bytes", "replace", "mkdir"):
        watched(name)
    return done


BEFORE = {"a": b"old a", "c": b"old c", "same": b"="}
LATER = {"a": b"new a", "b": b"new b", "d": b"new d", "same": b"="}


def number_of_steps(folder: Path) -> int:
    with pytest.MonkeyPatch.context() as patch:
        write_set(folder, BEFORE, SET)
        done = steps(patch, 0, lambda: None)
        write_set(folder, LATER, SET)
    return len(done)


def full_disk() -> None:
    raise OSError(28, "No space left on device")


def interrupt() -> None:
    raise KeyboardInterrupt


@pytest.mark.parametrize("fail", [full_disk, interrupt])
def test_whatever_step_fails_the_set_is_whole(tmp_path: Path, fail: Callable[[], None]) -> None:
    """A full disk or Ctrl-C at each step in turn: the old set or the new one, and what is said is
    true."""
    count = number_of_steps(tmp_path / "count")
    assert count > 10
    for failing in range(1, count + 1):
        folder = tmp_path / str(failing)
        write_set(folder, BEFORE, SET)
        (folder / "notes.txt").write_bytes(b"mine")
        with pytest.MonkeyPatch.context() as patch:
            steps(patch, failing, fail)
            try:
                write_set(folder, LATER, SET)
                written = True
            except OutputError as told:
                assert "No space left on device); nothing was changed" in str(told)
                written = False
            except KeyboardInterrupt:
                written = "d" in contents(folder)

        assert contents(folder) == {**(LATER if written else BEFORE), "notes.txt": b"mine"}
        assert state(folder) == [WRITTEN]
        write_set(folder, LATER, SET)
        assert contents(folder) == {**LATER, "notes.txt": b"mine"}


def test_a_failed_write_leaves_not_even_a_folder(tmp_path: Path) -> None:
    """Nothing was there before, nothing is there after."""
    count = number_of_steps(tmp_path / "count")
    for failing in range(1, count - 1):
        folder = tmp_path / str(failing) / "sheets"
        with pytest.MonkeyPatch.context() as patch:
            steps(patch, failing, full_disk)
            with pytest.raises(OutputError):
                write_set(folder, {f"file {n}": b"1" for n in range(count)}, SET)

        assert not folder.parent.exists()


@pytest.mark.skipif(os.name == "nt", reason="processes are not forked there")
def test_whatever_step_is_the_last_the_next_run_makes_it_whole(tmp_path: Path) -> None:
    """Killed before each step in turn: files seen until then are of one set, never a mix, and the
    next run finds the old set or the new one, whole, and leaves nothing of the stopped one."""
    new = 0
    for failing in range(1, number_of_steps(tmp_path / "count") + 1):
        folder = tmp_path / str(failing)
        write_set(folder, BEFORE, SET)
        (folder / "notes.txt").write_bytes(b"mine")
        if (child := os.fork()) == 0:
            steps(pytest.MonkeyPatch(), failing, lambda: os._exit(9))
            write_set(folder, LATER, SET)
            os._exit(0)
        assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 9
        seen = contents(folder).items() - {("notes.txt", b"mine")}
        assert seen <= BEFORE.items() or seen <= LATER.items()

        with hold(folder):
            pass

        whole = contents(folder)
        assert whole in [{**each, "notes.txt": b"mine"} for each in (BEFORE, LATER)]
        assert state(folder) == [WRITTEN]
        new += "d" in whole
    assert 0 < new < failing


@pytest.mark.skipif(os.name == "nt", reason="processes are not forked there")
def test_what_came_after_a_kill_is_not_written_over(tmp_path: Path) -> None:
    """A file that somebody put where the new set was to go is left, and named."""
    write_set(tmp_path, BEFORE, SET)
    if (child := os.fork()) == 0:
        patch = pytest.MonkeyPatch()
        patch.setattr(changing, "_move", lambda *_: os._exit(9))
        write_set(tmp_path, LATER, SET)
    os.waitpid(child, 0)
    (tmp_path / "d").write_bytes(b"precious")

    with pytest.raises(OutputError, match="somebody else wrote d"):
        write_set(tmp_path, LATER, SET)
    assert contents(tmp_path) == {**BEFORE, "d": b"precious"}

    (tmp_path / "d").unlink()
    write_set(tmp_path, {"e": b"1"}, SET)
    assert contents(tmp_path) == {"e": b"1"}


def test_one_writer_at_a_time(tmp_path: Path) -> None:
    """The second is told who writes there; afterwards it may."""
    with hold(tmp_path):
        script = (
            "import sys; from pathlib import Path\n"
            "from cutlayers.writing.sets import write_set\n"
            "write_set(Path(sys.argv[1]), {'a': b'1'}, 'make')"
        )
        words = [sys.executable, "-c", script, str(tmp_path)]
        refused = subprocess.run(words, cwd=ROOT, capture_output=True, text=True)
        assert f"is being written by process {os.getpid()} on " in refused.stderr
        assert contents(tmp_path) == {}
    subprocess.run(words, cwd=ROOT, check=True)

    assert contents(tmp_path) == {"a": b"1"}


def test_a_lock_of_a_process_that_is_gone_keeps_nobody_out(tmp_path: Path) -> None:
    """Only a process that lives holds a folder."""
    (tmp_path / STATE).mkdir()
    (tmp_path / STATE / "lock").write_text("process 1 on attic\n")

    write_set(tmp_path, {"a": b"1"}, SET)

    assert state(tmp_path) == [WRITTEN]


def test_a_folder_may_be_a_link(tmp_path: Path) -> None:
    """What is linked is written into, the link stays; one that leads nowhere leads there then."""
    (tmp_path / "real").mkdir()
    for name in ("real", "later"):
        link = tmp_path / f"link to {name}"
        link.symlink_to(tmp_path / name)
        write_set(link, {"a": b"1"}, SET)
        write_set(link, {"b": b"2"}, SET)

        assert link.is_symlink()
        assert contents(tmp_path / name) == {"b": b"2"}


@pytest.mark.parametrize("linked", [False, True])
def test_a_folder_may_be_on_another_file_system(tmp_path: Path, linked: bool) -> None:
    """Where nothing can be moved to from where the user is, nor from where temporary files are."""
    try:
        folder = Path(tempfile.mkdtemp(dir="/dev/shm"))
    except OSError:
        pytest.skip("there is no file system in memory")
    try:
        if folder.stat().st_dev == tmp_path.stat().st_dev:
            pytest.skip("all is on one file system")
        place = tmp_path / "link" if linked else folder
        if linked:
            place.symlink_to(folder)
        for files in ({"a": b"1", "b": b"2"}, {"b": b"3", "c": b"4"}):
            write_set(place, files, SET)

            assert contents(folder) == files
            assert state(folder) == [WRITTEN]
        put_new(place / "new", b"5")
        put(place / "new", b"6")
        assert (folder / "new").read_bytes() == b"6"
    finally:
        shutil.rmtree(folder)


def test_our_own_folder_is_no_link(tmp_path: Path) -> None:
    """A hidden folder that leads elsewhere is not one that we made."""
    (tmp_path / "out").mkdir()
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "out" / STATE).symlink_to(tmp_path / "elsewhere")

    with pytest.raises(OutputError, match="is a link"):
        write_set(tmp_path / "out", {"a": b"1"}, SET)

    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_a_folder_below_a_file_is_refused(tmp_path: Path) -> None:
    """One line that names the folder."""
    (tmp_path / "taken").write_bytes(b"a file")
    with pytest.raises(OutputError) as caught:
        write_set(tmp_path / "taken" / "sheets", {"a.dxf": b"1"}, SET)

    assert str(tmp_path / "taken" / "sheets") in str(caught.value)
    assert "\n" not in str(caught.value)
    assert contents(tmp_path) == {"taken": b"a file"}


def test_a_folder_in_the_way_of_a_file_is_refused(tmp_path: Path) -> None:
    """And the other files are not written either."""
    (tmp_path / "b.svg").mkdir()
    with pytest.raises(OutputError, match=r"b\.svg: a folder of this name"):
        write_set(tmp_path, {"a.dxf": b"1", "b.svg": b"2"}, SET, Leave(overwrite=True))

    assert [item.name for item in tmp_path.iterdir()] == ["b.svg"]


@pytest.mark.parametrize("name", ["", "..", "a/b.dxf", "../a.dxf", "a\\b.dxf", "a:b", "\0", STATE])
def test_only_plain_names_are_written(tmp_path: Path, name: str) -> None:
    """No name leads out of the folder."""
    with pytest.raises(OutputError, match="not a plain file name"):
        write_set(tmp_path, {name: b"1"}, SET)

    assert contents(tmp_path) == {}


KILLS = int(os.environ.get("CUTLAYERS_KILLS", "12"))
"""How often the process is killed; set it to 200 for the long run."""

LINES = 7000
"""Lines of ours that writing all four sets runs, 600 to 1800 each."""

SETS = [
    {f"sheet-{n}.dxf": f"{n}{kind}".encode() * 2000 for n in range(count)}
    | {"report": kind.encode()}
    for kind, count in (("one", 20), ("more", 30), ("fewer", 9))
]
SETS.append({f"renamed-{n}.dxf": b"r" * 5000 for n in range(25)} | {"report": b"renamed"})

WRITER = """\
import sys
from pathlib import Path
from cutlayers.writing.sets import write_set
from tests.dying import die_at_line
from tests.writing.test_sets import SETS, SET
die_at_line(int(sys.argv[2]), "writing")
turn = int(sys.argv[3])
while True:
    turn += 1
    write_set(Path(sys.argv[1]), SETS[turn % len(SETS)], SET)
"""


@pytest.mark.skipif(os.name == "nt", reason="there is no such signal there")
def test_killed_at_any_moment_the_set_is_whole(tmp_path: Path) -> None:
    """Killed while it writes sets with more, fewer and renamed files over each other: what is seen
    is of one set, and the next run finds one set, whole."""
    (tmp_path / "notes.txt").write_bytes(b"mine")
    told = {"whole at once": 0, "a part of one set": 0}
    for kill in range(KILLS):
        words: list[str | Path] = [
            sys.executable,
            "-c",
            WRITER,
            tmp_path,
            str(1 + kill * LINES // KILLS),
            str(kill),
        ]
        assert subprocess.run(words, cwd=ROOT).returncode == -signal.SIGKILL
        seen = contents(tmp_path)
        assert seen.pop("notes.txt") == b"mine"
        assert any(seen.items() <= each.items() for each in SETS)
        told["whole at once" if seen in SETS else "a part of one set"] += 1
        with hold(tmp_path):
            pass
        seen = contents(tmp_path)
        assert seen.pop("notes.txt") == b"mine"
        assert seen in SETS or not state(tmp_path)  # killed before there was any set
        assert state(tmp_path) in ([WRITTEN], [])
    print(told)
