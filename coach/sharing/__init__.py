"""A visit's file for somebody else, and somebody else's taken up: what in it is personal, what two copies share."""
