"""Pieces on sheets: placing, nesting, register marks, and the ink of a sheet."""
