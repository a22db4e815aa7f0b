"""What holds for every test."""

from hypothesis import settings

# Speed is measured in tests/benchmarks; a busy machine must not turn a right answer into a failure.
settings.register_profile("cutlayers", deadline=None)
settings.load_profile("cutlayers")
