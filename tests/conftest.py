"""What holds for every test.

`pytest --hypothesis-profile=thorough tests/styles` tries 300 boxes of every style.
"""

from hypothesis import settings

# Speed is measured in tests/benchmarks; a busy machine must not turn a right answer into a failure.
settings.register_profile("cutlayers", deadline=None)
settings.register_profile("thorough", max_examples=300, deadline=None)
settings.load_profile("cutlayers")
