"""Where a printed sheet really lies, and cut files corrected for it."""
