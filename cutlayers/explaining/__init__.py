"""The page of each finding's code: what is measured, why it matters, how to cure it, the source."""
