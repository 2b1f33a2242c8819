"""Sizes to parts and joints in the room, to solids, to flat panels. Millimetres; no files.

Part of casewright.
"""
