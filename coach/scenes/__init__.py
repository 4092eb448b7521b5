"""From a session, a step or a description of a machine to the scene that shows it: for the screen and for reports."""
