"""What a machine's visits say together: what drifts, since when, and when its tolerance will be left."""
