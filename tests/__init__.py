"""Tests of casewright."""
