"""The words that can be said at every question."""

WORDS: dict[str, str] = {
    "back": "leave this question, back to the step; what was typed so far is offered again",
    "again": "say the step again",
    "undo": "take the last entry back; it says which",
    "note": "write down anything worth remembering; the words may follow at once: note tube sounds odd",
    "review": "everything that was entered, with the entries' numbers",
    "correct": "measure a mark again; with the entry's number: correct 12",
    "help": "what to do now, and these words",
    "glossary": "the trade's words, in plain ones",
    "home": "leave this session for the list of machines and sessions; everything is saved",
    "quit": "leave the program; everything is saved",
}
"""Word to what it does."""
WITH_MORE = ("note", "correct")
"""Words behind which something may follow."""


def command_in(answer: str) -> tuple[str, str] | None:
    """The word and what follows it, where the answer is one of the words; else None."""
    first, _, rest = answer.partition(" ")
    word = "help" if answer == "?" else first.lower()
    if word not in WORDS or (rest.strip() and word not in WITH_MORE):
        return None
    return word, rest.strip()
