"""The stages of a visit, a room for each: its steps, their words, cautions, gates and choices."""
