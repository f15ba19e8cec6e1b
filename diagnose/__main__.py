"""``python -m diagnose`` is the same as ``diagnose``."""

from diagnose.commands.main import main

main()
