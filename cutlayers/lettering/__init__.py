"""Letters as paths: single strokes for a pen, outlines of fonts, and where they go on a net."""
