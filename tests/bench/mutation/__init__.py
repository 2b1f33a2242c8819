"""Faults made on purpose, one at a time, in copies of this tree: which ones does no test notice?"""
