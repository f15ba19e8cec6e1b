"""Constants that are fixed by definition, by the names the sums use them under."""

from __future__ import annotations

from typing import Final

GRAVITY: Final = 9.80665
"""Standard acceleration of fall, m/s2 (CGPM 1901, exact). Exam sheets use 9.8, 9.81 or 10."""

PSI: Final = 6.894757293168361
"""One pound-force per square inch in kPa (from the inch, the pound and standard gravity)."""

GAS_CONSTANT: Final = 8.31446261815324
"""Molar gas constant, J/(mol K) (SI 2019, exact)."""

ATMOSPHERE: Final = 101.325
"""Standard atmosphere, kPa (CGPM 1954, exact)."""

ICE_POINT: Final = 273.15
"""0 degC in kelvin (exact)."""

MOLAR_VOLUME: Final = GAS_CONSTANT * ICE_POINT / ATMOSPHERE * 1000.0
"""Volume of a mole of gas at 0 degC and one atmosphere, cm3."""
