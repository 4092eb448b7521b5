"""Mirror 3, lens and nozzle: what two heights and the nozzle's marks tell, and what to do about it."""
