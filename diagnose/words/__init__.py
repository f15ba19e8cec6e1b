"""Hear what people say: phrases in, answers with probabilities out.

May be imported from here: ``reader`` (what a phrase means), ``readings`` (what a shop calls what
it measures), ``heard`` (the results as data). Below it stand the rule base and the basics only.
Never enters: what is known of one reject, the engine, the screens; and at run time no training.
"""
