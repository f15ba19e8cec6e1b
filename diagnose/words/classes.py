"""The names of what the encoder's classifier tells apart."""

from __future__ import annotations

CALLED_AS, MEASURED_AS = "called=", "measured="
"""Before the id of a defect that a text names, and of a measurement that it names."""


def class_of(kind: str, name: str, answer: str) -> str:
    """Return the class of a meaning.

    >>> class_of("look", "cavity-wall", "smooth"), class_of("called", "misrun", "")
    ('cavity-wall=smooth', 'called=misrun')
    """
    return CALLED_AS + name if kind == "called" else f"{name}={answer}"
