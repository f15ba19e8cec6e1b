"""The checks of the rule base: one small file a check, its docstring its manual page."""
