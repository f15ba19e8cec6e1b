"""The reasoning: arrays in, arrays out. It knows no YAML and no screen."""
