"""A box in a browser: what folds, paints and turns it there, and a page of it to send to a friend.

The scripts and the look in `static/` serve the page that changes a job, too.
"""
