"""Settings that hold for every test."""

from hypothesis import settings

# A loaded machine is no fault of the rule under test; what is slow is found by the benchmark.
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
