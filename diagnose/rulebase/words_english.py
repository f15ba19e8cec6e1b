"""The English that the phrasebook leans on: small words, spellings, odd verb forms, near-synonyms.

Trade synonyms (drag for bottom, riser for feeder) belong to the glossary of the rule base, not
here. All entries are common usage; no source.
"""

from __future__ import annotations

FILLERS = frozenset({
    "a", "about", "already", "also", "always", "am", "an", "and", "are", "as", "be", "because",
    "been", "being", "both", "came", "can", "come", "comes", "did", "do", "does", "doing", "done",
    "ever", "exactly", "for", "found", "get", "gets", "getting", "go", "goes", "gone", "got", "had",
    "has", "have", "having", "he", "her", "here", "him", "his", "how", "i", "i'm", "if", "is", "it",
    "its", "kind", "later", "like", "look", "looked", "looking", "looks", "me", "my", "nearly",
    "of", "often", "ones", "or", "our", "per", "please", "pretty", "proper", "properly", "quite",
    "rather", "real", "really", "s", "said", "say", "says", "seem", "seemed", "seems", "shall",
    "she", "should", "so", "sort", "still", "such", "than", "that", "the", "their", "then", "there",
    "these", "they", "thing", "things", "think", "this", "those", "though", "to", "us", "usually",
    "very", "was", "we", "went", "were", "what", "where", "which", "while", "who", "whose", "will",
    "would", "you", "your",
})  # fmt: skip
"""Words that carry nothing here; they are passed over, in the rule base as in what people type."""

LIGHT = frozenset({
    "above", "across", "after", "along", "any", "around", "at", "before", "behind", "below",
    "between", "by", "down", "from", "in", "inside", "into", "just", "off", "on", "onto", "out",
    "outside", "over", "them", "through", "under", "up", "when", "with",
})  # fmt: skip
"""Small words that tell something only in front of the right word: *under* the skin."""

NEGATIONS = frozenset({
    "barely", "failed", "forgot", "hardly", "neglected", "neither", "never", "no", "nobody", "none",
    "nor", "not", "nowhere", "omitted", "scarcely", "without",
})  # fmt: skip
"""Words that turn what follows into its contrary."""

HEDGES = (
    r"\bnot (?:sure|certain)\b|\bunsure\b|\b(?:do not|don'?t|dunno|did not|didn'?t) know\b"
    r"|\bno idea\b"
    r"|\b(?:can ?not|can'?t|could not|couldn'?t) (?:tell|say|see|remember)\b|\bmaybe\b|\bmight\b"
    r"|\bperhaps\b|\bpossibly\b|\bcould (?:be|have)\b|\bwhether\b|\bwonder\b|\bmay (?:be|have)\b|\?"
)
"""What people say when they do not know; nothing said in the same breath is taken as seen."""

WELL = (
    r"\b(?:sound|clean|clear|fine|tight|perfect|faultless|ok|okay|all right|alright|nothing"
    r"|none|fewer|hardly any|better than|not one|not a single one|no trouble|no fault|no bother"
    r"|never had|ran full|come out well|came out well|run full|as ever|as usual|as always)\b"
    r"|\bgood(?!\s+(?:few|many|deal|bit|inch|way|half|third))\b"
    r"|\b(?:is|are|was|were) (?:solid|whole)\b"
)
"""What people say of castings and places with nothing wrong."""

ABSENT = frozenset({
    "barely", "forgot", "hardly", "neither", "no", "none", "nor", "without",
})  # fmt: skip
"""Those of them that say that there is none: *no* core is another thing than *not* the core."""

SUBJECTS = frozenset({
    "board", "bore", "boss", "box", "break", "bulge", "chaplet", "chill", "cope", "core", "corner",
    "crack", "cup", "dent", "dowel", "drag", "edge", "face", "fin", "flash", "floor", "fold",
    "fracture", "furnace", "gate", "hole", "joint", "ladle", "lip", "lump", "mould", "nail",
    "paste", "pattern", "pin", "print", "riser", "runner", "sand", "seam", "section", "skin",
    "slag", "sprue", "step", "vent", "wall", "wash", "weight",
})  # fmt: skip
"""Things that a statement is about, as against what it says of them."""

NEUTRAL = frozenset({
    "casting", "castings", "iron", "job", "one", "only", "part", "piece", "place", "side", "spot",
})  # fmt: skip
"""Things that every statement may be about."""

SPELLINGS = {
    "mold": "mould", "molds": "moulds", "molded": "moulded", "molder": "moulder",
    "molders": "moulders", "molding": "moulding", "gray": "grey", "grayish": "greyish",
    "color": "colour", "colored": "coloured", "colors": "colours", "center": "centre",
    "oxidized": "oxidised", "plow": "plough", "fiber": "fibre", "meter": "metre",
    "caliper": "calliper", "molten": "molten",
    "brite": "bright", "nxt": "next", "ole": "hole", "oles": "holes", "ruff": "rough",
    "thru": "through",
}  # fmt: skip
"""American spelling, and spelling by ear, -> British spelling."""

TOGETHER = {
    "blowhole": "blow hole", "blowholes": "blow holes", "pinhole": "pin hole",
    "pinholes": "pin holes", "sandhole": "sand hole", "sandholes": "sand holes",
    "wormhole": "worm hole", "wormholes": "worm holes", "knockout": "knock out",
    "shakeout": "shake out", "runout": "run out", "dropout": "drop out", "coldshut": "cold shut",
    "downgate": "down gate",
}  # fmt: skip
"""Words that some write as one and some as two."""

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
    "forgotten": "forget", "stopped": "stop", "quickly": "quick", "slowly": "slow",
    "shook": "shake", "threw": "throw", "thrown": "throw", "men": "man", "halves": "half",
    "joined": "join", "sawn": "saw", "sawed": "saw", "worn": "wear", "made": "make",
    "bled": "bleed", "ground": "grind", "found": "find", "took": "take", "taken": "take",
    "smaller": "small", "walled": "wall", "shiny": "shine", "shinier": "shine", "slaggy": "slag",
}  # fmt: skip
"""Verb forms and plurals that no ending explains."""

ALIKE = {
    "near": "beside", "next": "beside", "close": "beside", "adjacent": "beside", "nearby": "beside",
    "alongside": "beside", "against": "beside", "ingate": "gate", "ingates": "gate", "void": "hole",
    "voids": "hole", "cavity": "hole", "cavities": "hole", "every": "each", "excess": "extra",
    "bluish": "blue", "blueish": "blue", "brownish": "brown", "greyish": "grey",
    "blackish": "black", "silvery": "silver", "honeycombed": "honeycomb", "furthest": "far",
    "farthest": "far", "further": "far", "burned": "burn", "fettled": "fettle", "metal": "iron",
    "shrinkage": "shrink", "underneath": "under", "beneath": "under",
}  # fmt: skip
"""Everyday word -> the one that stands for all of its kind; both sides are folded alike."""

PLAIN = frozenset({
    "again", "already", "always", "around", "because", "between", "body", "bound", "clear", "could",
    "count", "court", "cover", "crane", "crate", "cream", "creek", "customer", "drive", "evening",
    "front", "fruit", "funny", "giant", "glory", "grand", "grant", "great", "green", "greet",
    "group", "guess", "guest", "hello", "hours", "house", "human", "later", "layer", "lover",
    "lower", "month", "morning", "nobody", "order", "paint", "people", "person", "place", "plant",
    "point", "share", "spoke", "sport", "start", "stock", "stone", "store", "story", "study",
    "style", "table", "these", "thing", "think", "those", "though", "through", "tough", "trouble",
    "trough", "usual", "water", "week", "where", "while", "woman", "works", "world", "worth",
    "wound", "write", "wrong", "years", "young", "youth",
})  # fmt: skip
"""Everyday words that must never be taken for slips of a trade word."""
