"""What may befall a command while it runs, and what must hold then.

| what happens | what must hold | where |
|---|---|---|
| kill -9 | old files or new, no mix; the command then does it | `test_disk.py`; sets at every \
line: `tests/writing/test_sets.py`; kits: `tests/kits/test_interrupted.py`; profiles: \
`tests/profile/test_editing.py` |
| Ctrl-C | one line, exit 130, old files or new | `test_disk.py`; while libraries are loaded: \
`tests/cli/test_ending.py` |
| a full disk, at any step, in the midst of a file | one line, exit 2, old files | `test_disk.py` |
| no permission, a disk to be read only | the same | `test_disk.py` |
| a full or closed standard output | one line, exit 74 or 141 | `tests/cli/test_ending.py` |
| another locale, time zone, hash seed, clock, working folder, no home folder | the same bytes | \
`test_surroundings.py` |
| two at once | the second is told who writes there | `tests/writing/test_sets.py` |
| damaged files of our own | told, and made anew | `tests/kits/test_interrupted.py` |
"""
