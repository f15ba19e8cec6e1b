"""Tables of a made-up foundry, read for one reject."""
