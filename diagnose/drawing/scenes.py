"""The scenes that drawings are set in: outlines, what fills them, and spots by name.

All lengths are in cells of the character drawing, columns to the right and rows downwards; the
vector drawing stretches the same figures. The shapes are schematic and our own.
"""

from __future__ import annotations

from dataclasses import dataclass, field

COLUMNS, ROWS = 38, 11
"""Cells of a drawing."""

SAND, CORE, IRON, AIR = "sand", "core", "iron", "air"

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Area:
    """A closed outline, and what fills it. Later areas cover earlier ones."""

    outline: tuple[Point, ...]
    fill: str


@dataclass(frozen=True, slots=True)
class Scene:
    """What a drawing is set in. ``lines`` are drawn over the areas; ``words`` stand at a place."""

    says: str
    spots: dict[str, Point]
    areas: tuple[Area, ...] = ()
    lines: tuple[tuple[Point, ...], ...] = ()
    words: dict[str, Point] = field(default_factory=dict)


def box(left: float, top: float, right: float, bottom: float, fill: str) -> Area:
    """Return an upright rectangle.

    >>> box(0, 0, 2, 1, IRON).outline
    ((0, 0), (2, 0), (2, 1), (0, 1))
    """
    return Area(((left, top), (right, top), (right, bottom), (left, bottom)), fill)


_IN_THE_BOX = (
    (4.0, 0.0), (6.0, 0.0), (6.0, 5.0), (12.0, 5.0), (12.0, 2.0), (17.0, 2.0), (17.0, 1.0),
    (22.0, 1.0), (22.0, 2.0), (26.0, 2.0), (26.0, 0.0), (29.0, 0.0), (29.0, 2.0), (31.0, 2.0),
    (31.0, 9.0), (25.0, 9.0), (25.0, 8.0), (12.0, 8.0), (12.0, 6.0), (4.0, 6.0),
)  # fmt: skip
_OUT_OF_THE_BOX = (
    (8.0, 3.0), (26.0, 3.0), (26.0, 1.0), (29.0, 1.0), (29.0, 3.0), (32.0, 3.0),
    (32.0, 10.0), (25.0, 10.0), (25.0, 9.0), (8.0, 9.0), (8.0, 7.0), (5.0, 7.0), (5.0, 6.0),
    (8.0, 6.0),
)  # fmt: skip

SCENES = {
    "mould": Scene(
        "A section through the mould: sprue and gate on the left, feeder and core on the right.",
        {
            "cope-face": (14.5, 3), "cope-left": (13.5, 3), "cope-right": (24, 3),
            "cope-pocket": (19.5, 2), "drag-face": (18, 7), "drag-left": (14, 7),
            "drag-right": (22, 7), "left-wall": (13, 4), "right-wall": (29.5, 7),
            "over-core": (21, 3), "under-core": (21, 7), "beside-core": (15, 5),
            "in-core": (22, 5), "core-print": (33, 5), "at-gate": (13, 6), "far-end": (29.5, 3),
            "under-feeder": (27.5, 3), "boss": (28, 8), "joint-left": (2.5, 5),
            "joint-right": (36, 5), "middle": (15, 5), "sprue": (5, 3), "cup": (5, 0),
            "feeder": (27.5, 1), "cope-sand": (9, 2), "drag-sand": (8, 8), "floor": (18, 10),
            "vent": (14.5, 1),
        },
        (
            box(0, 0, 37, 10, SAND), Area(_IN_THE_BOX, IRON), box(17, 4, 35, 6, CORE),
        ),
        (((0, 5), (4, 5)), ((35, 5), (37, 5))),
        {"cope": (8.5, 1), "drag": (8.5, 9)},
    ),
    "casting": Scene(
        "The casting cut through: stub of the gate on the left, of the feeder on top, and a bore.",
        {
            "top": (17, 3), "top-left": (11, 3), "top-right": (30, 4), "bottom": (17, 9),
            "left": (9, 5), "right": (31, 7), "corner": (9, 8), "boss": (28, 9),
            "bore": (20, 6), "over-bore": (20, 4), "under-bore": (20, 8), "middle": (12, 6),
            "gate-stub": (6.5, 6.5), "feeder-stub": (27.5, 2), "thin-wall": (24, 4),
            "far-end": (30.5, 4), "outside": (35, 5),
        },
        (Area(_OUT_OF_THE_BOX, IRON), box(15, 5, 32, 7, AIR)),
    ),
    "wall": Scene(
        "Close by: the sand of the mould above, the iron below the skin.",
        {
            "sand": (19, 1), "skin": (19, 3), "skin-left": (9, 3), "skin-right": (28, 3),
            "under-skin": (19, 4.6), "under-left": (9, 4.6), "under-right": (28, 4.6),
            "middle": (19, 7), "left": (8, 7), "right": (29, 7), "deep": (19, 9),
        },
        (box(0, 0, 37, 3, SAND), box(0, 3, 37, 10, IRON)),
    ),
    "face": Scene(
        "A face of the casting, seen from above; the gate is on the left.",
        {
            "middle": (19, 5), "left": (8, 5), "right": (30, 5), "top": (19, 2), "bottom": (19, 8),
            "corner": (31, 8), "edge": (19, 9), "gate": (4, 5), "all": (19, 5),
        },
        (box(3, 1, 34, 9, IRON), box(0, 4, 3, 6, IRON)),
    ),
    "corner": Scene(
        "A section through an inner corner of the casting, filled by sand or a core.",
        {
            "corner": (16, 6), "upper": (13, 2), "side": (27, 8), "in-metal": (8, 8),
            "in-sand": (27, 3),
        },
        (
            Area(((4, 0), (14, 0), (14, 6), (36, 6), (36, 10), (4, 10)), IRON),
            box(14, 0, 36, 6, CORE),
        ),
    ),
    "bar": Scene(
        "The broken face of a thick bar.",
        {
            "middle": (18.5, 5), "rim": (18.5, 1.6), "left": (11, 5), "right": (26, 5),
            "all": (18.5, 5),
        },
        (
            Area(
                (
                    (13, 0), (24, 0), (30, 3), (30, 7), (24, 10), (13, 10), (7, 7), (7, 3),
                ),
                IRON,
            ),
        ),
    ),
    "plate": Scene(
        "A long casting from the side, beside a straight-edge.",
        {
            "whole": (18.5, 5), "left": (6, 5), "middle": (18.5, 5), "right": (31, 5),
            "top": (18.5, 4), "bottom": (18.5, 6),
        },
        (box(2, 4, 35, 6, IRON),),
        (((2, 9), (35, 9)),),
    ),
    "joint": Scene(
        "A section across the joint of the box, with the two halves of the casting.",
        {
            "joint-left": (8, 5), "joint-right": (29, 5), "cope": (18.5, 3), "drag": (18.5, 7),
            "left": (12.5, 5), "right": (24.5, 5),
        },
        (
            box(0, 0, 37, 10, SAND), box(11, 1, 26, 9, IRON),
        ),
        (((0, 5), (11, 5)), ((26, 5), (37, 5))),
        {"cope": (3, 2), "drag": (3, 8)},
    ),
    "row": Scene(
        "Six moulds in the order in which they were poured.",
        {str(number): (3.5 + 6 * (number - 1), 5) for number in range(1, 7)},
        tuple(box(1 + 6 * n, 3, 6 + 6 * n, 7, SAND) for n in range(6)),
        (),
        {str(number): (3.5 + 6 * (number - 1), 8) for number in range(1, 7)},
    ),
    "micro": Scene(
        "A polished section under the microscope; the skin is on top.",
        {"all": (18.5, 5), "rim": (18.5, 2), "middle": (18.5, 6)},
        (box(7, 1, 30, 9, IRON),),
    ),
    "stage": Scene(
        "Nothing but what is shown.",
        {
            "left": (8, 5), "middle": (18.5, 5), "right": (29, 5), "top": (18.5, 2),
            "bottom": (18.5, 8),
        },
    ),
}  # fmt: skip
