"""Upkeep: what a machine needs now and then, what was done of it, and what is due."""
