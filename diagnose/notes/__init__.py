"""Corrective-action notes: what to say (``compose``), then how to print it (``render``)."""
