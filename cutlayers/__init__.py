"""cutlayers: from a short job file to cut, score, perforate and draw layers for paper boxes."""

__version__ = "0.1.0"
