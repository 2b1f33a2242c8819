"""The gate draws the same examples each time; `--hypothesis-profile=wide` draws others."""

from hypothesis import HealthCheck, settings

# No test fails because the machine is busy: neither by how long an example takes nor its drawing.
UNTIMED = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
settings.register_profile("gate", derandomize=True, **UNTIMED)
settings.register_profile("wide", max_examples=500, **UNTIMED)
settings.load_profile("gate")
