"""Where a printed sheet really lies, and cut files corrected for it."""

__all__ = ["BY_RULER", "BY_SCAN"]

BY_RULER, BY_SCAN = 0.5, 0.1
"""mm; residuals that are believed by default: how well a ruler is read, and a scan."""
