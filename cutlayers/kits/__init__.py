"""Kits: one set of pieces for each row of a table, made sheet by sheet."""
