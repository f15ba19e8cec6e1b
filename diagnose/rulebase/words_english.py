"""The English that the phrasebook leans on: small words, spellings, odd verb forms, near-synonyms.

Trade synonyms (drag for bottom, riser for feeder) belong to the glossary of the rule base, not
here. All entries are common usage; no source.
"""

from __future__ import annotations

FILLERS = frozenset(
    """
    a an the this that these those it its is are was were be been being am i we he she they you me
    us him them my our his her your their get gets got getting has have had having do does did
    done doing will would shall should can of to for so very quite rather then than as there
    here what which who whose when while where how and also still really any such if
    because per seem seems seemed look looks looked looking think thing things said say says come
    comes came ever even well please like s sort kind pretty real proper properly go
    goes gone went always exactly usually often nearly again already or nor ones both later though
    i'm us about
    """.split()
)
"""Words that carry nothing here; they are passed over, in the rule base as in what people type."""

LIGHT = frozenset(
    "in on at by with under over behind from up out off down into onto through between inside "
    "outside above below after before across along round around too just".split()
)
"""Small words that tell something only in front of the right word: *under* the skin."""

NEGATIONS = frozenset("not no never nor neither without hardly".split())
"""Words that turn what follows into its contrary."""

HEDGES = (
    r"\bnot (?:sure|certain)\b|\bunsure\b|\b(?:do not|don'?t|dunno|did not|didn'?t) know\b|\bno idea\b"
    r"|\b(?:can ?not|can'?t|could not|couldn'?t) (?:tell|say|see|remember)\b|\bmaybe\b|\bmight\b"
    r"|\bperhaps\b|\bpossibly\b|\bcould (?:be|have)\b|\bwhether\b|\bwonder\b|\bmay (?:be|have)\b|\?"
)
"""What people say when they do not know; nothing said in the same breath is taken as seen."""

SUBJECTS = frozenset(
    """
    hole core sand mould ladle gate riser sprue cup vent pattern pin skin joint weight box floor
    wash paste print board dowel chill chaplet nail wall edge face corner cope drag seam step runner
    furnace lump flash fin bore section boss bulge slag break lip fracture blacking dent crack
    """.split()
)
"""Things that a statement is about, as against what it says of them."""

NEUTRAL = frozenset("iron casting castings job piece part place spot one side".split())
"""Things that every statement may be about."""

SPELLINGS = {
    "mold": "mould", "molds": "moulds", "molded": "moulded", "molder": "moulder",
    "molders": "moulders", "molding": "moulding", "gray": "grey", "grayish": "greyish",
    "color": "colour", "colored": "coloured", "colors": "colours", "center": "centre",
    "oxidized": "oxidised", "plow": "plough", "fiber": "fibre", "meter": "metre",
    "caliper": "calliper", "molten": "molten",
}  # fmt: skip
"""American spelling -> British spelling."""

CONTRACTIONS = {
    "isnt": "is not", "arent": "are not", "wasnt": "was not", "werent": "were not",
    "dont": "do not", "doesnt": "does not", "didnt": "did not", "hasnt": "has not",
    "havent": "have not", "hadnt": "had not", "wont": "will not", "wouldnt": "would not",
    "couldnt": "could not", "cant": "can not", "cannot": "can not", "aint": "is not",
    "shouldnt": "should not",
}  # fmt: skip

ODD_FORMS = {
    "ran": "run", "sank": "sink", "sunk": "sink", "sunken": "sink", "blew": "blow", "blown": "blow",
    "broke": "break", "broken": "break", "stuck": "stick", "sticky": "stick", "tore": "tear",
    "torn": "tear", "stood": "stand", "spat": "spit", "froze": "freeze", "frozen": "freeze",
    "rose": "rise", "risen": "rise", "fell": "fall", "fallen": "fall", "drew": "draw",
    "drawn": "draw", "burnt": "burn", "shrank": "shrink", "shrunk": "shrink", "met": "meet",
    "dried": "dry", "dries": "dry", "weigh": "weight", "weighs": "weight", "weighed": "weight",
    "fed": "feed", "swelled": "swell", "swollen": "swell", "full": "fill", "forgot": "forget",
    "forgotten": "forget", "stopped": "stop", "quickly": "quick", "slowly": "slow", "shook": "shake", "threw": "throw", "thrown": "throw", "men": "man", "halves": "half",
    "joined": "join", "sawn": "saw", "sawed": "saw", "worn": "wear", "made": "make",
    "bled": "bleed", "ground": "grind", "found": "find", "took": "take", "taken": "take",
    "smaller": "small", "walled": "wall",
    "shiny": "shine", "shinier": "shine", "slaggy": "slag",
}  # fmt: skip
"""Verb forms and plurals that no ending explains."""

ALIKE = {
    "near": "beside", "next": "beside", "close": "beside", "adjacent": "beside", "nearby": "beside",
    "alongside": "beside", "against": "beside", "ingate": "gate", "ingates": "gate",
    "void": "hole", "voids": "hole", "cavity": "hole", "cavities": "hole", "every": "each",
    "excess": "extra", "bluish": "blue", "blueish": "blue",
    "brownish": "brown", "greyish": "grey", "blackish": "black", "silvery": "silver",
    "honeycombed": "honeycomb", "furthest": "far", "farthest": "far", "further": "far",
    "burned": "burn", "fettled": "fettle", "metal": "iron", "shrinkage": "shrink",     "underneath": "under", "beneath": "under",
}  # fmt: skip
"""Everyday word -> the one that stands for all of its kind; both sides are folded alike."""

PLAIN = frozenset(
    """
    paint order share could while think thing later great place month week water table house plant
    start these those where though through trough sport stock lower lover layer order clear point
    spoke stone store story study style young youth years woman wrong write world works worth
    customer morning evening nobody people person though trouble usual again always already around
    because between body bound wound tough count court cover crane crate cream creek drive
    front fruit funny giant glory grand grant green greet group guess guest hello hours human
    """.split()
)
"""Everyday words that must never be taken for slips of a trade word."""
