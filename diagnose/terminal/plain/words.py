"""The words that may come at any prompt of the line-by-line session, and what they do."""

from __future__ import annotations

from pathlib import Path

from diagnose.basics.errors import Fault
from diagnose.basics.layout import Section
from diagnose.notes.figures_in_words import aim, name_and_value, quoted, reading_in_words
from diagnose.notes.pictures import described, drawn
from diagnose.notes.render import render, write
from diagnose.notes.verdict import pushes, verdict
from diagnose.notes.wording import percent
from diagnose.reasoning.reasons import found_text
from diagnose.session.autosave import Bench
from diagnose.session.session import Session
from diagnose.terminal.plain.console import Talk, number_in
from diagnose.terminal.plain.sheet import take_sheet
from diagnose.terminal.plain.ticket import take_ticket

WORDS = {
    "?": "these words",
    "back": "take the last answer back",
    "picture": "drawings of the answers, or of the likeliest fault, also in words",
    "why": "what speaks for and against the first cause",
    "said": "all that was said, numbered",
    "take back N": "take number N of that list back",
    "reading": "the list of readings; or give one: reading moulding sand moisture 4.6 %",
    "sheet FILE": "take readings from a table: CSV, XLSX, XLS or ODS",
    "work NAME": "a sum: work moisture moist=50g dry=48.3g; work by itself says which there are",
    "about": "say anew what it is",
    "ticket": "what goes on the note: pattern, day, heat, how many bad, who; ticket heat 99",
    "see": "say what you see",
    "ask": "go on with the questions",
    "verdict": "the verdict as it stands",
    "note": "the note, also written to files in this folder",
    "quit": "leave; everything is kept",
}

DRAWN = 78
"""Columns for drawings: two side by side."""


class Leave(Exception):  # noqa: N818 - it ends the talk; nothing is wrong
    """Raised by the word quit."""


class GoTo(Exception):  # noqa: N818 - it moves the talk; nothing is wrong
    """Raised by a word that leads to a stage, named in it; "" is the present one, begun anew."""


def obey(bench: Bench, talk: Talk, line: str) -> bool:
    """Do what a word asks for; return whether the line was one of the words."""
    word, _, rest = line.strip().lower().partition(" ")
    if word == "quit" and not rest:
        raise Leave
    if word in ("about", "see", "ask") and not rest:
        raise GoTo(word)
    if word == "take" and rest.startswith("back"):
        _take_back(bench, talk, rest.removeprefix("back").strip())
    elif word == "reading":
        _reading(bench, talk, line.strip()[len(word) :].strip())
    elif word == "ticket":
        take_ticket(bench, talk, line.strip()[len(word) :].strip())
    elif word == "sheet" and Path(rest).suffix:
        _sheet(bench, talk, line.strip()[len(word) :].strip())
    elif word == "work" and _is_sum(rest):
        _work(bench, talk, line.strip()[len(word) :].strip())
    elif not rest and word in SIMPLE:
        SIMPLE[word](bench, talk)
    else:
        return False
    return True


def done(bench: Bench, talk: Talk, wrong: str) -> bool:
    """Print what is wrong, or that the reject could not be kept; return whether all went well."""
    if bench.trouble:
        talk.say(bench.trouble)
    if news := bench.take_news():
        talk.say(news)
    if wrong:
        talk.say(wrong)
    return not wrong


def put_causes(bench: Bench, talk: Talk) -> None:
    """Print the first causes on one line."""
    named = (f"{c.name} {percent(c.probability)}" for c in bench.session.causes()[:3])
    talk.say("; ".join(named), "Likely: ")


def put_note(bench: Bench, talk: Talk) -> None:
    """Print the note."""
    talk.put()
    talk.put(render(bench.session, "txt", talk.encoding).rstrip("\n"))


def _words(_bench: Bench, talk: Talk) -> None:
    for word, does in WORDS.items():
        talk.say(does, f"{word:<12}  ")


def _back(bench: Bench, talk: Talk) -> None:
    wrong, undone = bench.made(bench.session.undo)
    done(bench, talk, wrong)
    talk.say("The last answer is taken back." if undone else "There is nothing to take back.")
    raise GoTo("")


def _why(bench: Bench, talk: Talk) -> None:
    first = bench.session.causes()[0]
    title = f"Why: {first.name}, {percent(first.probability)}"
    talk.tell([Section(title, pushes(bench.session.explain(first.id)))])


def _picture(bench: Bench, talk: Talk) -> None:
    """Print the drawings that go with the question in hand, or with the fault."""
    session = bench.session
    question = bench.next_question()
    for name in (question.id if question else "", session.defects()[0].id):
        if told := described(session.book, name):
            talk.tell(told)
            talk.put()
            for line in drawn(session.book, name, DRAWN)[0].lines:
                talk.put(line.text)
            return
    talk.say("There is no drawing of it.")


def _said(bench: Bench, talk: Talk) -> None:
    reject = bench.session.reject
    found = [
        f"{found_text(bench.session.desk, one)} {quoted(one.said)}".strip()
        for one in reject.findings
    ]
    kept = [f"not known: {quoted(words)}" for words in reject.not_understood]
    talk.choices([*found, *kept])
    if not found and not kept:
        talk.say("Nothing was said yet.")


def _take_back(bench: Bench, talk: Talk, number: str) -> None:
    reject, session = bench.session.reject, bench.session
    most = len(reject.findings) + len(reject.not_understood)
    chosen = number_in(number, most)
    if chosen is None:
        talk.say(f"Say which: take back 1 to {most}. The word said shows the list.")
        return
    at = chosen - 1
    if at < len(reject.findings):
        wrong = bench.change(lambda: session.take_back(reject.findings[at].id))
    else:
        words = reject.not_understood[at - len(reject.findings)]
        wrong = bench.change(lambda: session.forget_phrase(words))
    if done(bench, talk, wrong):
        talk.say("Taken back.")
    raise GoTo("")


def _reading(bench: Bench, talk: Talk, text: str) -> None:
    session = bench.session
    if not text:
        _list_readings(session, talk)
        return
    name, value = name_and_value(text)
    before = session.readings()
    if not done(bench, talk, bench.change(lambda: session.measure(name or text, value))):
        return
    for reading in session.readings():
        if reading not in before:
            talk.say(f"{reading_in_words(reading)}.", f"{reading.name}: ")
            if reading.speaks_for:
                talk.say("; ".join(reading.speaks_for), "Speaks for: ")
    put_causes(bench, talk)
    raise GoTo("")


def _list_readings(session: Session, talk: Talk) -> None:
    """Print every measurement with its window, and what was read or follows from readings."""
    known = {reading.id: reading for reading in session.readings()}
    for name, entry in session.book.measurements.items():
        text = f"{entry.name}: {aim(session.desk.window(entry), entry.unit)}"
        if name in known:
            text += f"; {reading_in_words(known[name])}"
        talk.say(text)
        for line in known[name].working if name in known else ():
            talk.say(line, "    ")
    talk.say("Give one like this: reading moulding sand moisture 4.6 %")


def _sheet(bench: Bench, talk: Talk, file: str) -> None:
    if done(bench, talk, take_sheet(bench, talk, file)):
        put_causes(bench, talk)
    raise GoTo("")


def _is_sum(text: str) -> bool:
    from diagnose.terminal.plain.work import is_asked_for

    return is_asked_for(text)


def _work(bench: Bench, talk: Talk, text: str) -> None:
    from diagnose.terminal.plain.work import work_out

    work_out(bench, talk, text)


def put_verdict(bench: Bench, talk: Talk) -> None:
    """Print the verdict as it stands."""
    talk.tell(verdict(bench.session))


def _note(bench: Bench, talk: Talk) -> None:
    put_note(bench, talk)
    try:
        for path in write(bench.session, Path.cwd()):
            talk.put(f"Written: {path}")
    except Fault as fault:
        talk.say(str(fault))


SIMPLE = {
    "?": _words,
    "back": _back,
    "picture": _picture,
    "why": _why,
    "said": _said,
    "verdict": put_verdict,
    "note": _note,
}
