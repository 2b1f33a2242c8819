"""The gate draws the same examples each time; `--hypothesis-profile=wide` draws others.

No test lets one of our packages add up floats in a way that depends on the release of Python.
"""

import builtins

from hypothesis import HealthCheck, settings

from tests.exact_sums import watched_sum

builtins.sum = watched_sum

# No test fails because the machine is busy: neither by how long an example takes nor its drawing.
UNTIMED = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
settings.register_profile("gate", derandomize=True, **UNTIMED)
settings.register_profile("wide", max_examples=500, **UNTIMED)
settings.load_profile("gate")
