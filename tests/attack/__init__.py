"""Hostile and broken input at every door: nothing crashes, hangs, fills the memory or is lost.

    python -m tests.attack --minutes 60          every door in turn, for so long
    python -m tests.attack --door svg --seed 7 --cases 1000
    python -m tests.attack --door svg --seed 7 --only 412      one case again, its files kept

A *door* is a way in for a user's words: a job file, a profile, a table, a picture, a drawing, a
font, a scan, a trial's readings, the words of a command, the page. Each makes its *cases* from a
seed and a number alone, so every failure can be tried again. A case is files in an empty folder and
the words of one command, or what the page of that folder is asked.
"""
