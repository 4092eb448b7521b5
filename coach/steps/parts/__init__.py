"""The parts of a visit, a room for each: what it is, its steps, and where its events leave them."""
