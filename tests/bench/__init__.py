"""Benchmarks: ratios against a peer in the same run. `python -m tests.bench.<name>`; each ends with
1 when a limit that it states is missed.

All is made anew in them; only `again` measures what earlier runs remembered.
"""

import os

os.environ["CASEWRIGHT_CACHE"] = ""
