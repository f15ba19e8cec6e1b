"""The session on the terminal's whole screen; no reasoning in here."""
