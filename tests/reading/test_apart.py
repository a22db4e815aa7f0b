"""Work in another process: its answers, in any order, and its ways to end."""

from __future__ import annotations

import os
import subprocess
import sys
import threading

import pytest

from cutlayers.reading.apart import RanOutError, apart, run_apart


def swapped(text: str) -> str:
    """The text, backwards; a text that is too long for a pipe to hold stays so."""
    return text[::-1]


def refuse(text: str) -> str:
    """Never answers but with a refusal."""
    raise ValueError(f"no {text}")


def die() -> None:
    """End the process without a word."""
    os._exit(3)


def ends_in(seconds: float) -> None:
    """Work that takes longer than it may."""
    while True:
        sum(range(10_000))


def test_answers_may_be_asked_for_in_any_order_and_twice() -> None:
    with apart() as begin:
        first, refused, last = begin(swapped, "ab"), begin(refuse, "way"), begin(swapped, "xyz")
        assert last() == "zyx"
        with pytest.raises(ValueError, match="no way"):
            refused()
        assert (first(), first()) == ("ba", "ba")


def test_work_larger_than_a_pipe_holds_neither_waits_nor_stays() -> None:
    large = "ab" * 2_000_000
    with apart() as begin:
        answers = [begin(swapped, large) for _ in range(3)]
        assert all(answer() == large[::-1] for answer in answers)
    with apart() as begin:  # given, never asked for: the block ends all the same
        begin(swapped, large)
        begin(swapped, large)
    assert not [thread for thread in threading.enumerate() if thread.name.startswith("apart")]


def test_every_answer_of_a_process_that_died_says_so() -> None:
    with apart() as begin:
        fine, dead, after = begin(swapped, "ab"), begin(die), begin(swapped, "cd")
        assert fine() == "ba"
        for answer in (dead, after, after):
            with pytest.raises(RanOutError) as ran_out:
                answer()
            assert not ran_out.value.too_long


def test_what_cannot_be_sent_is_not_waited_for() -> None:
    """No function without a name can be; nor is what was begun after it done."""
    with apart() as begin:
        lost, after = begin(lambda: "ab"), begin(swapped, "cd")
        for answer in (lost, after):
            with pytest.raises(RanOutError):
                answer()


@pytest.mark.skipif(os.name == "nt", reason="the processor's time has no limit there")
def test_work_that_takes_too_long_is_ended() -> None:
    with pytest.raises(RanOutError) as ran_out:
        run_apart(ends_in, 1.0, seconds=0.1, memory_bytes=1 << 30)
    assert ran_out.value.too_long


KILLED = """
import os, signal
from cutlayers.reading.apart import apart
if __name__ == "__main__":
    with apart() as begin:
        begin(os.getpid)()
        os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.mark.skipif(os.name == "nt", reason="there is no such signal there")
def test_it_ends_with_a_process_that_is_killed() -> None:
    """Both write to one pipe, which is at its end once neither is there any more."""
    subprocess.run([sys.executable, "-c", KILLED], capture_output=True, timeout=60, check=False)
