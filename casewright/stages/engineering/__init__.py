"""From sets and parts to what the engineer's papers show."""
