"""Compiled inner loops: plain arrays in, plain arrays out, no state of their own."""
