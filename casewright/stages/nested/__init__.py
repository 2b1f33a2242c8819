"""Nests of all materials, of offcuts, and what the stock does not hold."""
