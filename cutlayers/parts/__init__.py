"""Building blocks that styles share: trays, tubes, tucked ends, stars, openings, common options.

A part takes sizes in mm, score to score, and gives back a shape or a larger net. Where a size
cannot work it raises StyleError for the option that all styles call by the same name.
"""
