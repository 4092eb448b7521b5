"""The pictures of the full-screen coach: scenes in mm, drawn on a raster of character cells."""
