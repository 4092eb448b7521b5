"""From what was measured on the tape to the mark's offset (u, v) with its doubt.

u to the right, v up, in mm, seen by someone facing the tape's outer face (the face the beam hits).
One module for each way to measure, all of them in the table of `methods`; each returns a
`model.Reading`.  `plausibility` asks before something unlikely is believed, and never swallows it.
"""
