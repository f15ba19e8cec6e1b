"""Published worked examples: counts as printed, with their source beside them.

Read, not remembered, unless it says so; the pages are named in
``../shared/research/iron-solidification-statistics.md``, section 7, or here.
"""

from __future__ import annotations

import numpy as np

Counts = np.ndarray

# fmt: off

CANS = np.array(
    [
        12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15,
        9, 12, 7, 13, 9, 6,
    ],
    dtype=float,
)
"""30 samples of 50 cans: D. C. Montgomery, Introduction to SQC, 2nd ed. 1991, pp. 152-155."""

CANS_LATER = np.array(
    [9, 6, 12, 5, 6, 4, 6, 3, 7, 6, 2, 4, 3, 6, 5, 4, 8, 5, 6, 7, 5, 6, 3, 5], dtype=float
)
"""24 further samples of 50, after the machine was set: the same book."""

BOARDS = np.array(
    [
        21, 24, 16, 12, 15, 5, 28, 20, 31, 25, 20, 24, 16, 19, 10, 17, 13, 22, 18, 39, 30, 24,
        16, 19, 17, 15,
    ],
    dtype=float,
)
"""Faults on 26 samples of 100 circuit boards: the same book, pp. 173-175."""

COMPUTERS = np.array(
    [10, 12, 8, 14, 10, 16, 11, 7, 10, 15, 9, 5, 7, 11, 12, 6, 8, 10, 7, 5], dtype=float
)
"""Faults on 20 samples of 5 computers: the same book, pp. 181-182."""

WAFERS = np.array(
    [
        8, 7, 11, 3, 6, 11, 4, 4, 5, 8, 8, 6, 7, 6, 10, 7, 9, 5, 6, 8, 8, 10, 4, 11, 4, 11, 6,
        6, 9, 5, 4, 7, 5, 7, 8, 5, 10, 9, 7, 9, 4, 9, 4, 7, 11, 8, 10, 8, 7, 5,
    ],
    dtype=float,
)
"""Bad wafers of 50 lots of 200: rpubs 1407303, a student's report with the output of R's qcc."""

WAFERS_TWENTY = np.array(
    [3, 7, 11, 3, 6, 11, 4, 4, 5, 8, 10, 8, 6, 7, 9, 8, 4, 6, 10, 9], dtype=float
)
"""Bad wafers of 20 lots of 200: rpubs 1408104."""

EMERGENCY = np.array(
    [
        266501, 264225, 276532, 281461, 269071, 261215, 270409, 279778, 270483, 270320, 267923,
        271478, 255353, 256820, 261835, 259144, 255910, 260863, 264465, 260989,
    ],
    dtype=float,
)
EMERGENCY_ALL = np.array(
    [
        280443, 276823, 291681, 296155, 282343, 275888, 283867, 295251, 284468, 282529, 279618,
        283932, 266629, 268091, 276803, 271578, 266005, 273520, 278574, 273772,
    ],
    dtype=float,
)
"""Patients seen within four hours, 20 weeks: Mohammed and others, Quality and Safety in Health
Care 22, 2013, 362-368. Only the counts were read; no limits."""

DISASTERS = np.array(
    [
        4, 5, 4, 1, 0, 4, 3, 4, 0, 6, 3, 3, 4, 0, 2, 6, 3, 3, 5, 4, 5, 3, 1, 4, 4, 1, 5, 5, 3,
        4, 2, 5, 2, 2, 3, 4, 2, 1, 3, 2, 1, 1, 1, 1, 1, 3, 0, 0, 1, 0, 1, 1, 0, 0, 3, 1, 0, 3,
        2, 2, 0, 1, 1, 1, 0, 1, 0, 1, 0, 0, 0, 2, 1, 0, 0, 0, 1, 1, 0, 2, 2, 3, 1, 1, 2, 1, 1,
        1, 1, 2, 4, 2, 0, 0, 0, 1, 4, 0, 0, 0, 1, 0, 0, 0, 0, 0, 1, 0, 0, 1, 0, 0,
    ],
    dtype=float,
)
"""Coal mining disasters a year, 1851 to 1962: R. G. Jarrett, Biometrika 66, 1979, as printed on
learnbayes.wordpress.com, "A Poisson change-point model"."""

SMOOTHED = np.array(
    [
        9.45, 7.99, 9.29, 11.66, 12.16, 10.18, 8.04, 11.46, 9.20, 10.34, 9.03, 11.47, 10.51,
        9.40, 10.08, 9.37, 10.62, 10.31, 8.52, 10.84, 10.90, 9.33, 12.29, 11.50, 10.60, 11.08,
        10.38, 11.62, 11.31, 10.52,
    ]
)
"""Montgomery's EWMA example (target 10, sigma 1, weight 0.1, 2.7 sigma): help.imsl.com, EWMA.
Only the data were read."""

RABBITS = ([0, 0, 6, 5], [3, 0, 3, 6], [6, 2, 0, 4], [5, 6, 1, 0], [2, 5, 0, 0])
"""Penicillin and rabbits, five doses: R's mantelhaen.test, as stored in statsmodels' tests."""

THIRD = (
    [313, 512, 19, 89],
    [207, 353, 8, 17],
    [205, 120, 391, 202],
    [278, 139, 244, 131],
    [138, 53, 299, 94],
    [351, 22, 317, 24],
)
"""Six strata where the crude ratio points the other way: the same tests (close to the admissions
of Berkeley, with one applicant moved)."""

SECOND = (
    [20, 14, 10, 24],
    [15, 12, 3, 15],
    [3, 2, 3, 2],
    [12, 3, 7, 5],
    [1, 0, 3, 2],
)
"""Five strata: the same tests."""

BEETLES = (
    np.array([1.6907, 1.7242, 1.7552, 1.7842, 1.8113, 1.8369, 1.8610, 1.8839]),
    np.array([59.0, 60, 62, 56, 63, 59, 62, 60]),
    np.array([6.0, 13, 18, 28, 52, 53, 61, 60]),
)
"""Dose, beetles and killed: Bliss 1935, after Dobson, on sci.usq.edu.au (glmlab manual). The page
prints 60 killed of the 62 at 1.8610; its own answer follows from 61 only: a misprint."""

HOURS = (
    np.array(
        [
        0.5, 0.75, 1, 1.25, 1.5, 1.75, 1.75, 2, 2.25, 2.5, 2.75, 3, 3.25, 3.5, 4, 4.25, 4.5,
        4.75, 5, 5.5,
    ]
    ),
    np.array([0, 0, 0, 0, 0, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 1, 1, 1, 1, 1], dtype=float),
)
"""Hours of study and passing: rpubs 167443."""

FAMILY = np.array(
    [
        0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262,
        0.5719, 0.6528, 0.7590, 1.0,
    ]
)
FAMILY_Q = np.array(
    [
        0.0015, 0.003, 0.0095, 0.035625, 0.0603, 0.06385714, 0.06385714, 0.0645, 0.0765, 0.486,
        0.58118182, 0.714875, 0.75323077, 0.81321429, 1.0,
    ]
)
"""The example of Benjamini and Hochberg 1995; q as printed in scipy's documentation of
``false_discovery_control``."""
