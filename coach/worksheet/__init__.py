"""A sheet of paper to take to the machine: blank openings in true scale to stick the tapes on, and typing it in."""
