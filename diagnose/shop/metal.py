"""What iron weighs and holds of heat: the figures that several sums share."""

from __future__ import annotations

from typing import Final

from diagnose.shop.calculation import Input

SOLID: Final = 7200.0
"""Density of cold grey iron, kg/m3: 0.26 lb/in3 in an old weighting rule (read) is 7197."""

LIQUID: Final = 6900.0
"""Density of liquid grey iron, kg/m3; 6900 to 7000, from memory."""

SPECIFIC_HEAT: Final = 840.0
"""Heat to warm 1 kg of liquid iron by 1 K, J/(kg K); from memory."""

LATENT_HEAT: Final = 230e3
"""Heat of freezing of grey iron, J/kg; from memory."""

STEFAN_BOLTZMANN: Final = 5.670374419e-8
"""Radiation constant, W/(m2 K4) (SI 2019, exact)."""

MOLTEN: Final = (
    "molten iron: ladles, tools and moulds dry and warm, eyes and feet covered, the way clear; "
    "follow the local code"
)

DENSITY: Final = Input("density", "density of the metal", "kg/m3", 1500, 9000, default=LIQUID)
