"""The page: a job and its box in a browser on this machine.

It knows the package's public face and nothing below it. `desk.py` holds one job that is open: its
text, what was made of it, what was before; `looking.py` works out what a page shows of a text;
`changes.py` makes edits of what a person did; `making.py` makes the files; `events.py` carries what
is told without asking. `folder.py` knows which jobs are open and who looks; `safety.py` lets in
requests of our own page alone; `app.py` has the addresses, `serving.py` tells where they are, and
`running.py` starts and ends the server.
"""

from cutlayers.page.serving import listening, serve

__all__ = ["listening", "serve"]
