"""What a style is, and what styles are built from: trays, tubes, ends, stars, openings.

A part takes sizes in mm, score to score, and gives back a shape or a larger net. Where a size
cannot work it raises StyleError for the option that all styles call by the same name.
"""
