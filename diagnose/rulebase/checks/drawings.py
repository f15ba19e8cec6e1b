"""A drawing names a scene, a mark or a spot that cannot be drawn; a defect is not shown in place.

Passes: ``{scene: wall, marks: [hole at under-skin]}``.
Fails:  ``{scene: wall, marks: [hole under skin]}``; a drawing for an answer that the look has not;
a defect with drawings of which none is a section through the mould or the casting.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from diagnose.basics.errors import Problem
from diagnose.basics.nearest import did_you_mean
from diagnose.drawing.marks import MARKS
from diagnose.drawing.place import split
from diagnose.drawing.scenes import SCENES
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.yamlread import Steps

IN_PLACE = ("mould", "casting")


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every drawing that cannot be made."""
    for name, defect in draft.book.defects.items():
        at: Steps = ("defects", name, "drawings")
        for number, drawing in enumerate(defect.drawings):
            yield from _scene(draft, (*at, number), drawing.scene)
            yield from _marks(draft, (*at, number, "marks"), drawing.scene, drawing.marks)
        if defect.drawings and not any(one.scene in IN_PLACE for one in defect.drawings):
            what = f"No drawing shows where on the casting {name!r} sits."
            yield draft.problem(at, what, "Add one with 'scene: mould' or 'scene: casting'.")
    for name, look in draft.book.looks.items():
        if look.drawing is None:
            continue
        at = ("looks", name, "drawing")
        yield from _scene(draft, at, look.drawing.scene)
        for answer, marks in look.drawing.answers.items():
            here = (*at, "answers", answer)
            if answer not in look.answers:
                what = f"The look {name!r} has no answer {answer!r}."
                instead = did_you_mean(answer, look.answers, "answer")
                yield draft.problem(here, what, instead, key=True)
            yield from _marks(draft, here, look.drawing.scene, marks)


def _scene(draft: Draft, at: Steps, scene: str) -> Iterator[Problem]:
    if scene not in SCENES:
        what = f"No scene is called {scene!r}."
        yield draft.problem((*at, "scene"), what, did_you_mean(scene, SCENES, "scene"))


def _marks(draft: Draft, at: Steps, scene: str, marks: Sequence[str]) -> Iterator[Problem]:
    for number, text in enumerate(marks):
        mark, spot = split(text)
        if mark not in MARKS:
            what = f"No mark is called {mark!r}."
            yield draft.problem((*at, number), what, did_you_mean(mark, MARKS, "mark"))
        if scene in SCENES and spot not in SCENES[scene].spots:
            what = f"The scene {scene!r} has no spot {spot!r}."
            spots = SCENES[scene].spots
            yield draft.problem((*at, number), what, did_you_mean(spot, spots, "spot"))
