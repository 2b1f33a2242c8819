"""The gate draws the same examples each time; `--hypothesis-profile=wide` draws others."""

from hypothesis import settings

settings.register_profile("gate", derandomize=True, deadline=None)
settings.register_profile("wide", deadline=None, max_examples=500)
settings.load_profile("gate")
