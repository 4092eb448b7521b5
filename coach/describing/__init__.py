"""Describing a machine: the questions, what is answered so far, what is guessed, and the profile that follows."""
