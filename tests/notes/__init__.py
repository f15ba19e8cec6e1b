"""Tests of the corrective-action notes."""
