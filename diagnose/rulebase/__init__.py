"""The rule base: its YAML, its schema, its checks, its cache."""
