"""``python -m diagnose`` is the same as ``diagnose``."""

from diagnose.cli import main

main()
