"""The page: a job and its box in a browser on this machine.

It knows the package's public face and nothing below it. `desk.py` holds one job that is open: its
text, what was made of it, what was before (`past.py`); `looking.py` works out what a page shows of
a text, `laying.py` what takes longer, `comparing.py` what stands beside it; `changes.py` and
`pieces.py` make edits of what a person did, which `trying.py` tries before they are written;
`making.py` makes the files, `kits.py` tells of kits, `events.py` carries what is told without
asking. `folder.py` knows which jobs are open and who looks; `safety.py` lets in
requests of our own page alone; `app.py` has the addresses, `serving.py` tells where they are, and
`running.py` starts and ends the server.
"""

from cutlayers.page.serving import listening, serve

__all__ = ["listening", "serve"]
