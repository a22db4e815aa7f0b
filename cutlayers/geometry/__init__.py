"""Plane geometry: transforms, paths with arcs, offsets, crossings, strokes.

The convention everybody shares: lengths are mm, y points up, outlines run counter-clockwise, a
bulge above 0 turns left.
"""
