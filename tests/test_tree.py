"""The test tree mirrors the source tree, so that the test of a module is found by its path."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).parents[1]
SOURCE, TESTS = ROOT / "diagnose", ROOT / "tests"
STILL_LACKING = 131
"""Modules without a test file of their own; fewer are welcome, and then this figure goes down."""


def has_its_own(module: Path) -> bool:
    """Tell whether a module has its file; a check of the book has bad files by its name instead."""
    inside = module.relative_to(SOURCE)
    if inside.parent == Path("rulebase/checks"):
        name = inside.stem.replace("_", "-")
        return any((TESTS / "rulebase" / "bad").glob(f"{name}*.yaml"))
    return (TESTS / inside.parent / f"test_{inside.name}").exists()


def test_few_modules_lack_a_test_file_of_their_own() -> None:
    modules = [path for path in SOURCE.rglob("*.py") if not path.stem.startswith("__")]
    assert len(modules) > 200
    lacking = [module for module in modules if not has_its_own(module)]
    told = "\n".join(str(module.relative_to(ROOT)) for module in sorted(lacking))
    assert len(lacking) <= STILL_LACKING, told
