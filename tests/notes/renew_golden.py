"""Write the golden notes anew: ``python -m tests.notes.renew_golden``. Read them afterwards."""

from diagnose.notes.render import FORMS, render
from tests.notes.rejects import GOLDEN, REJECTS, opened

if __name__ == "__main__":
    for name, reject in REJECTS.items():
        for form in FORMS:
            path = GOLDEN / f"{name}.{form}"
            path.write_text(render(opened(reject), form), encoding="utf-8")
