"""Folded boxes for other programs: each panel a slab of card, in open formats."""
