"""The marks that are drawn into a scene: each as a few letters, and as strokes.

``letters``: lines of the character drawing, centred on the spot; a space lets through what is
below. ``strokes``: SVG path data around (0, 0), where a letter is about 5 wide and 10 high;
``ink`` says how they are drawn.
"""

from __future__ import annotations

from dataclasses import dataclass

LINE, HOLLOW, DARK, BRIGHT, SANDY = "line", "hollow", "dark", "bright", "sandy"


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark: ``says`` is what a screen reader is told."""

    says: str
    letters: tuple[str, ...]
    strokes: str
    ink: str = LINE


def _disc(x: float, y: float, r: float) -> str:
    """Return a circle as path data.

    >>> _disc(0, 0, 2)
    'M-2 0a2 2 0 1 0 4 0a2 2 0 1 0 -4 0'
    """
    return f"M{x - r:g} {y:g}a{r:g} {r:g} 0 1 0 {2 * r:g} 0a{r:g} {r:g} 0 1 0 {-2 * r:g} 0"


def _discs(*places: tuple[float, float, float]) -> str:
    return "".join(_disc(*place) for place in places)


_DOTS = ((-12, -2, 1.4), (-6, 2, 1.4), (-1, -3, 1.4), (5, 1, 1.4), (10, -2, 1.4), (14, 3, 1.4))
_SPONGE = ((-8, -1, 2), (-4, 3, 1.5), (-2, -3, 2), (2, 1, 2.2), (6, -2, 1.6), (8, 3, 1.4))
_WIDE_WAVE = "M-20 0c4 -5 6 5 10 0s6 -5 10 0s6 5 10 0s6 -5 10 0"
_ZIGZAG = "M-16 3l6 -6l5 5l6 -6l5 6l6 -5"
_ROUGH = "M-22 2l3 -4l3 5l4 -6l3 5l4 -4l3 5l4 -6l3 5l4 -4l3 5l4 -5"

MARKS = {
    # Holes
    "hole": Mark("a round hole", ("()",), _disc(0, 0, 5), HOLLOW),
    "pear-hole": Mark(
        "a pear-shaped hole", ("(=>",), "M-6 0c0 -6 7 -5 13 0c-6 5 -13 6 -13 0z", HOLLOW
    ),
    "flat-hole": Mark(
        "a flat hole", ("(____)",), "M-14 0c4 -5 24 -5 28 0c-4 4 -24 4 -28 0z", HOLLOW
    ),
    "worm-hole": Mark(
        "a hole like a worm's, square to the skin",
        ("|", "/", "|"),
        "M-1 -13c3 5 -3 8 0 13s-3 8 0 12l3 0c-3 -5 3 -7 0 -12s3 -8 0 -13z",
        HOLLOW,
    ),
    "funnel": Mark(
        "a funnel drawn down",
        ("\\   /", " \\ / ", "  v  "),
        "M-10 -10c6 4 8 10 10 22c2 -12 4 -18 10 -22z",
        HOLLOW,
    ),
    "small-holes": Mark("many small holes", ("o . o . o", " . o . o "), _discs(*_DOTS), HOLLOW),
    "sponge": Mark("spongy metal", ("%8%8%",), _discs(*_SPONGE), DARK),
    "jagged-hole": Mark(
        "a jagged hole", ("<~>",), "M-8 0l4 -5l3 2l4 -4l6 5l-2 5l-5 -2l-4 4z", HOLLOW
    ),
    "crystal-hole": Mark(
        "a hole lined with fir-tree crystals",
        ("<^v^>",),
        "M-10 0l4 -6l2 4l3 -5l2 5l4 -5l2 5l3 3l-4 4l-2 -3l-3 4l-3 -4l-3 3z",
        HOLLOW,
    ),
    "bead": Mark("a bead of metal", ("(@)",), _disc(0, 0, 6) + _disc(0, 1, 3.4), LINE),
    "bubble": Mark("a bubble rising", ("o",), _disc(0, 0, 3), HOLLOW),
    # What is in it
    "sand": Mark(
        "sand grains",
        (".:.:.",),
        _discs((-6, 0, 1), (-3, 2, 1), (-1, -2, 1), (2, 1, 1), (4, -2, 1), (6, 2, 1)),
        SANDY,
    ),
    "slag": Mark("slag", ("&&&",), "M-9 1c1 -6 6 -7 9 -4c4 -2 9 1 8 5c-3 4 -13 5 -17 -1z", DARK),
    "film": Mark("a thin dark film", ("~~~~",), "M-13 0c4 -3 6 3 10 0s6 3 10 0l4 1", DARK),
    "flakes": Mark(
        "loose shiny flakes", ("' , '",), "M-8 -2l5 1M-2 3l5 -2M4 -3l5 2M-6 4l4 1", DARK
    ),
    "coating": Mark("flakes of blacking", ("==-",), "M-9 -2h8v2h-8zM1 2h8v2h-8z", DARK),
    "dirt": Mark("dirt", ("*.*",), _discs((-5, 0, 2), (1, 2, 1.4), (5, -2, 1.8)), DARK),
    # Lines
    "crack": Mark("a crack", ("/\\/\\/\\",), _ZIGZAG, LINE),
    "tear": Mark(
        "a ragged branching tear",
        ("\\_ /", "  Y_", " /  "),
        "M-10 -10l5 5l1 5l6 2l-2 6l4 4M-4 0l-7 5M2 2l8 -5",
        LINE,
    ),
    "seam": Mark(
        "a seam with round lips", (")(", ")("), "M-4 -10c6 4 2 14 -1 18M4 -10c-6 4 -2 14 1 18", LINE
    ),
    "net": Mark(
        "a net of fine lines",
        ("_/\\_/\\", " \\/ \\/"),
        "M-14 -3l6 4l5 -5l6 5l5 -4l6 3M-8 1l-2 6M-3 -4l1 -5M3 1l1 7M8 -3l2 -5",
        LINE,
    ),
    "groove": Mark("a groove", ("\\_/",), "M-8 -3c3 0 4 6 8 6s5 -6 8 -6", LINE),
    "crease": Mark("a crease under a flap", ("_\\/_",), "M-12 -3h8l4 7l3 -7h9", LINE),
    "branching": Mark(
        "fine branching furrows",
        ("_,-<_-",),
        "M-18 0l8 -2l6 2l7 -4M-4 0l6 4l9 0M-10 -2l-3 -5",
        LINE,
    ),
    "scratch": Mark("a straight scratch", ("-=====-",), "M-18 0h36", LINE),
    "fin": Mark("a fin", ("|", "|"), "M-1.5 8v-18h3v18z", DARK),
    "vein": Mark("thin raised veins", ("_/\\_/\\__",), "M-18 2l5 -6l5 6l4 -5l5 5l4 -4l6 5", DARK),
    # Shapes
    "plate": Mark("a thin rough plate", ("_/======\\_",), "M-22 2l4 -5h36l4 5z", DARK),
    "lump": Mark("a rough lump", ("/^~^\\",), "M-13 4l2 -7l5 2l3 -4l5 3l4 -2l5 8z", DARK),
    "bulge": Mark("a smooth bulge", (".-'''-.",), "M-18 4c6 -10 30 -10 36 0z", DARK),
    "dip": Mark("a dip like a saucer", ("`-._.-'",), "M-16 -2c6 9 26 9 32 0", HOLLOW),
    "step": Mark("a step", ("__", "  |__"), "M-12 -5h12v8h12", LINE),
    "thick": Mark(
        "wall too thick",
        ("|<-->|",),
        "M-14 -5v10M14 -5v10M-14 0h28M-10 -3l-4 3l4 3M10 -3l4 3l-4 3",
        LINE,
    ),
    "thin": Mark(
        "wall too thin",
        (">||<",),
        "M-2 -6v12M2 -6v12M-12 0h9M12 0h-9M-6 -3l3 3l-3 3M6 -3l-3 3l3 3",
        LINE,
    ),
    "gap": Mark("metal missing", ("[   ]",), "M-10 -5h20v10h-20z", HOLLOW),
    "rounded-gap": Mark(
        "metal missing, the edge rounded", (")    ",), "M-10 -8c12 2 12 14 0 16h22v-16z", HOLLOW
    ),
    "ragged-gap": Mark(
        "metal missing, the edge ragged and sandy",
        (">.: :",),
        "M-10 -8l5 4l-4 3l5 3l-6 6h22v-16z",
        SANDY,
    ),
    "level-gap": Mark(
        "metal missing above a level line", ("_______",), "M-20 0h40v-6h-40z", HOLLOW
    ),
    "fresh-break": Mark(
        "a fresh broken face", ("/|/|",), "M-6 -8l4 4l-3 3l5 3l-4 5h14v-15z", HOLLOW
    ),
    "bow": Mark("bowed", (".--'''''--.", "'         '"), "M-60 8q60 -26 120 0", LINE),
    "twist": Mark(
        "twisted", ("\\__----~~/",), "M-60 -8c40 0 80 16 120 16M-60 8c40 0 80 -16 120 -16", LINE
    ),
    "smaller": Mark(
        "smaller than drawn",
        ("->    <-",),
        "M-24 0h12M24 0h-12M-16 -4l4 4l-4 4M16 -4l-4 4l4 4",
        LINE,
    ),
    "larger": Mark(
        "larger than drawn",
        ("<-    ->",),
        "M-12 0h-12M12 0h12M-20 -4l-4 4l4 4M20 -4l4 4l-4 4",
        LINE,
    ),
    "missing": Mark(
        "not there",
        ("(---)",),
        "M-12 -6h4M-4 -6h4M4 -6h4M12 -6v4M12 2v4M8 6h-4M0 6h-4M-8 6h-4M-12 2v-4",
        LINE,
    ),
    "double": Mark("a double outline", ("||",), "M-3 -10v20M3 -10v20", LINE),
    # Skin
    "rough": Mark("a rough skin", ("^v^^v^v^^v",), _ROUGH, LINE),
    "dimples": Mark(
        "dimples, as on an orange",
        ("u_u_u_u_u",),
        "M-20 -2c3 6 6 6 8 0c3 6 6 6 8 0c3 6 6 6 8 0c3 6 6 6 8 0c3 6 6 6 8 0",
        LINE,
    ),
    "pits": Mark("pits", ("v__v_v__v",), "M-18 -2h5l2 5l2 -5h6l2 4l2 -4h6l2 5l2 -5h5", LINE),
    "wrinkles": Mark("wrinkles", ("~-~-~-~-~",), _WIDE_WAVE, LINE),
    "crust": Mark(
        "a crust of sand and metal",
        ("#%#:#%#",),
        "M-18 3l2 -7h32l2 7z" + _discs((-9, 0, 1), (-2, 1, 1), (6, -1, 1), (11, 1, 1)),
        DARK,
    ),
    "glaze": Mark("glazed sand", ("=:=:=:=",), "M-18 -2h36v4h-36z", SANDY),
    "peened": Mark(
        "hammered shut by the blast",
        ('"""""',),
        "M-14 0c2 -3 4 -3 5 0c2 -3 4 -3 5 0c2 -3 4 -3 5 0c2 -3 4 -3 5 0c2 -3 4 -3 5 0",
        LINE,
    ),
    "ground": Mark("ground away", ("/////",), "M-14 4l6 -8M-7 4l6 -8M0 4l6 -8M7 4l6 -8", LINE),
    "rust": Mark(
        "rust",
        (";,:;,:",),
        _discs((-10, 0, 1.6), (-6, 2, 1), (-2, -1, 2), (3, 1, 1.4), (8, -1, 1.8)),
        DARK,
    ),
    # Metal
    "white": Mark("white iron", ("WWW",), "M-11 -4h22v8h-22z", BRIGHT),
    "mottled": Mark(
        "mottled iron",
        ("w.W.w",),
        "M-12 -4h24v8h-24z" + _discs((-6, 0, 2), (1, -1, 2), (7, 1, 2)),
        BRIGHT,
    ),
    "grey": Mark("grey iron", ("ggg",), "M-11 -4h22v8h-22z", DARK),
    "coarse": Mark(
        "coarse open grain",
        ("X x X x",),
        "M-12 -4l5 8M-7 -4l-5 8M-1 -4l5 8M4 -4l-5 8M9 -4l4 8M13 -4l-4 8",
        LINE,
    ),
    "dark-layer": Mark("a dark layer", ("##########",), "M-24 -3h48v6h-48z", DARK),
    "carbide": Mark(
        "hard carbide",
        ("<><><>",),
        "M-12 0l4 -4l4 4l-4 4zM-4 0l4 -4l4 4l-4 4zM4 0l4 -4l4 4l-4 4z",
        BRIGHT,
    ),
    "graphite-flakes": Mark(
        "flakes of graphite",
        ("~ / ~ \\", " \\ ~ / "),
        "M-16 -6c4 -3 6 2 10 0M-4 4c5 2 7 -4 12 -2M4 -8l7 5M-14 6l6 -4M10 6c2 -3 4 -3 6 -1",
        LINE,
    ),
    "graphite-nodules": Mark(
        "round nodules of graphite",
        ("@  @  @", "  @  @ "),
        _discs((-14, -5, 3), (-4, 3, 3.4), (6, -5, 3), (14, 4, 3)),
        DARK,
    ),
    "graphite-worms": Mark(
        "worm-like graphite",
        ("s S s S",),
        "M-16 -3c4 -4 5 5 9 1M-3 4c4 -5 6 4 10 0M6 -5c4 -3 5 4 9 1",
        LINE,
    ),
    "graphite-chunks": Mark(
        "broken-up chunks of graphite",
        (".:;.:;.",),
        _discs(
            (-10, -2, 1.2),
            (-7, 1, 1),
            (-4, -2, 1.3),
            (-1, 2, 1),
            (2, -1, 1.2),
            (5, 2, 1),
            (8, -2, 1.2),
        ),
        DARK,
    ),
    "graphite-spikes": Mark(
        "spiky graphite",
        ("-*- -*-",),
        "M-14 0h12M-8 -5v10M2 0h12M8 -5v10M-11 -3l6 6M5 -3l6 6",
        LINE,
    ),
    # Things
    "chaplet": Mark("a chaplet", ("I",), "M-5 -8h10M0 -8v16M-5 8h10", LINE),
    "chill": Mark("a chill", ("[##]",), "M-10 -5h20v10h-20z", DARK),
    "core": Mark("a core", ("[;;;;]",), "M-14 -6h28v12h-28z", SANDY),
    "core-up": Mark(
        "a core lifted up", (" ^^ ", "[;;;;]"), "M-14 -2h28v11h-28zM0 -4v-8M-3 -9l3 -3l3 3", SANDY
    ),
    "core-side": Mark(
        "a core pushed aside", ("[;;;;]>",), "M-16 -6h26v12h-26zM12 0h9M18 -3l3 3l-3 3", SANDY
    ),
    "core-broken": Mark(
        "a broken core", ("[;;/ /;;]",), "M-16 -6h13l-4 12h-9zM2 -6h14v12h-18z", SANDY
    ),
    "core-bent": Mark(
        "a bent core", ("`;;;;;;'",), "M-18 -7c8 6 28 6 36 0v8c-8 6 -28 6 -36 0z", SANDY
    ),
    "hammer": Mark("a blow of the hammer", ("[]==",), "M-10 -5h7v10h-7zM-3 -1h15v2h-15z", DARK),
    "arrow-up": Mark("upwards", ("^", "|"), "M0 9v-18M-4 -5l4 -4l4 4", LINE),
    "arrow-down": Mark("downwards", ("|", "v"), "M0 -9v18M-4 5l4 4l4 -4", LINE),
    "arrow-left": Mark("to the left", ("<--",), "M12 0h-24M-8 -4l-4 4l4 4", LINE),
    "arrow-right": Mark("to the right", ("-->",), "M-12 0h24M8 -4l4 4l-4 4", LINE),
    "gas": Mark(
        "gas", ("( ( (",), "M-6 8c4 -4 -4 -8 0 -16M0 8c4 -4 -4 -8 0 -16M6 8c4 -4 -4 -8 0 -16", LINE
    ),
    "flame": Mark("a flame", ("(^)",), "M0 -9c2 5 6 7 6 12c0 8 -12 8 -12 0c0 -4 4 -5 6 -12z", LINE),
    "drip": Mark(
        "iron dripping", ("v", "o"), "M0 -8c3 6 4 8 4 11c0 6 -8 6 -8 0c0 -3 1 -5 4 -11z", DARK
    ),
    "stream": Mark("a stream of iron", ("=>=>=>",), "M-18 -2h34M-18 2h34M12 -6l6 6l-6 6", LINE),
    "splash": Mark("a splash", ("\\ | /", " '.' "), "M0 6v-14M-4 5l-8 -9M4 5l8 -9", LINE),
    "weight": Mark("a weight", ("[kg]",), "M-11 -6h22v12h-22zM-3 -6c0 -5 6 -5 6 0", DARK),
    "wet": Mark(
        "wet",
        ("' ' '",),
        "M-8 -4c2 4 2 6 0 6s-2 -2 0 -6zM0 -4c2 4 2 6 0 6s-2 -2 0 -6zM8 -4c2 4 2 6 0 6s-2 -2 0 -6z",
        LINE,
    ),
    "hot": Mark("hot", ("HOT",), "M-4 9v-13a4 4 0 1 1 8 0v13zM0 7v-12", DARK),
    "cold": Mark("cold", ("COLD",), "M-4 9v-13a4 4 0 1 1 8 0v13z", HOLLOW),
    # Signs
    "tick": Mark("good", ("OK",), "M-6 0l4 5l9 -11", LINE),
    "cross": Mark("bad", ("XX",), "M-6 -6l12 12M6 -6l-12 12", LINE),
    "question": Mark("which?", ("?",), "M-4 -4c0 -6 9 -6 8 0c0 4 -4 3 -4 7M0 7v1", LINE),
    "clock": Mark("time", ("(L)",), _disc(0, 0, 9) + "M0 -6v6h5", LINE),
    "rain": Mark(
        "rain",
        ("/ / /", " / / "),
        "M-10 -6l-3 7M-3 -6l-3 7M4 -6l-3 7M11 -6l-3 7M-6 2l-3 7M1 2l-3 7M8 2l-3 7",
        LINE,
    ),
    "man": Mark(
        "one man's work",
        (" o ", "/|\\"),
        _disc(0, -7, 3) + "M0 -4v8M-6 0l6 -3l6 3M-5 11l5 -7l5 7",
        LINE,
    ),
    "magnet": Mark(
        "a magnet", ("|_|",), "M-7 -8v8a7 7 0 0 0 14 0v-8h-5v8a2 2 0 0 1 -4 0v-8z", DARK
    ),
    "file": Mark("a file", ("=####>",), "M-16 -2h6v-2h22l4 4l-4 4h-22v-2h-6z", DARK),
    "eye": Mark(
        "look here", ("<o>",), "M-11 0c6 -8 16 -8 22 0c-6 8 -16 8 -22 0z" + _disc(0, 0, 3), LINE
    ),
    "nothing": Mark("nothing to see", ("",), "", LINE),
}
