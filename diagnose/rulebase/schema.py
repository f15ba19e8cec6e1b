"""Write the JSON Schema of a rule file, with which an editor completes and checks it.

``python -m diagnose.rulebase.schema`` writes ``knowledge/schema.json``.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter
from pydantic.json_schema import GenerateJsonSchema

from diagnose.rulebase.book import Book
from diagnose.rulebase.folder import knowledge_folder

NAME = "schema.json"


def schema() -> dict[str, Any]:
    """Return the JSON Schema of one rule file: any of the book's sections, none of them needed.

    >>> sorted(schema()["$defs"]["Answer"]["required"])
    ['say', 'usual']
    """
    made = TypeAdapter(Book).json_schema(by_alias=True)
    del made["required"]
    for section in made["properties"].values():
        section.pop("default", None)
    head = {
        "$schema": GenerateJsonSchema.schema_dialect,
        "title": "A file of the rule base",
        "description": "Any of the sections of the book; an id may stand once in all the files.",
    }
    return made | head


def text() -> str:
    """Return the schema as it stands in its file."""
    return json.dumps(schema(), indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def main() -> None:
    """Write the schema into the knowledge folder."""
    path: Path = knowledge_folder() / NAME
    path.write_text(text(), encoding="utf-8")
    print(path)


if __name__ == "__main__":
    main()
