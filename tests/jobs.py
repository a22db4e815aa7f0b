"""Small jobs that many tests begin with."""

TRAY = """
[stock.card]
caliper = 0.3
sheet = "A4"
[[piece]]
style = "tray"
stock = "card"
size = { length = 60, width = 40, height = 20 }
"""
"""One tray; no title, no profile."""

LASER_TRAY = """
profile = "small-laser"
[stock.grey]
caliper = 0.5
grammage = 400
sheet = "A4"
[[piece]]
style = "tray"
stock = "grey"
size = { length = 80, width = 50, height = 20 }
"""
"""One tray of board on a laser, whose settings for it can be guessed by its weight."""
