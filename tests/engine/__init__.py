"""Checks of the reasoning against enumeration, other libraries and published figures."""
