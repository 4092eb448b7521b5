"""The words that can be said at every question."""

from collections.abc import Container

WORDS: dict[str, str] = {
    "back": "leave this question, back to the step; what was typed so far is offered again",
    "again": "say the step again",
    "undo": "take the last entry back; it says which",
    "note": "write down anything worth remembering; the words may follow at once: note tube sounds odd",
    "bumped": "something was out and back, or bumped; what may follow at once: bumped mirror 2",
    "parts": "go to another part of the visit, now; this one waits where it is left",
    "review": "everything that was entered, with the entries' numbers",
    "report": "write this session as a page; what may follow: text, markdown, csv or json, then a file",
    "share": "write a copy of this session to give away; a file may follow: share copy.toml",
    "import": "take up a session's file from elsewhere; the file may follow: import visit.toml",
    "correct": "measure a mark again; with the entry's number: correct 12",
    "help": "what to do now, and these words",
    "glossary": "the trade's words, in plain ones",
    "home": "leave this session for the list of machines and sessions; everything is saved",
    "quit": "leave the program; everything is saved",
}
"""Word to what it does."""
DESCRIBING: dict[str, str] = {
    "back": "the question before this one",
    "again": "say the question again",
    "guess": "not known or not measured: something usual stands in, marked as a guess",
    "enough": "guess the rest, and hear all values",
    "review": "all values so far",
    "help": "what is asked, the cautions, and these words",
    "glossary": "the trade's words, in plain ones",
    "home": "leave this description for the list of machines and sessions; it waits there",
    "quit": "leave the program; the description waits",
}
"""The words while a machine is described."""
WITH_MORE = ("note", "correct", "bumped", "report", "share", "import")
"""Words behind which something may follow."""


def command_in(answer: str, words: Container[str] = WORDS) -> tuple[str, str] | None:
    """The word and what follows it, where the answer is one of these words; else None."""
    first, _, rest = answer.partition(" ")
    word = "help" if answer == "?" else first.lower()
    if word not in words or (rest.strip() and word not in WITH_MORE):
        return None
    return word, rest.strip()
