"""From the job to its sets: placed, checked, modelled, and the cut list over them."""
