"""How a conversation in plain lines is left, or begun anew at its step."""


class Anew(Exception):
    """Something changed: the step is computed and said anew."""


class Home(Exception):
    """The person wants to leave the session for the list."""


class Quit(Exception):
    """The person wants to leave the program."""
