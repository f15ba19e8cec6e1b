"""Measurements that are run by hand: ``python -m tests.bench.peers`` and ``.questions``."""
