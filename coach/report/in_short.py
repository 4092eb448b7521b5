"""What a stranger asks first: what was wrong, what was done, is it good now, what next; each answered at once."""

from coach.report.ahead import next_answer
from coach.report.deeds import done_answer
from coach.report.found import wrong_answer
from coach.report.good_now import good_answer
from coach.report.page import Answer
from coach.report.so_far import finished
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.entries import doing_words

INVENTED = "Practice: machine, marks and cuts are invented. Nothing here is true of any real machine."


def warnings(session: Session) -> tuple[str, ...]:
    """What stands above everything else."""
    invented = (INVENTED,) if session.practice is not None else ()
    if finished(session):
        return invented
    doing = doing_words(session.effective)
    return (*invented, f"Not finished: this is how it stood so far ({doing}). What follows may still change.")


def answers(session: Session, wording: Wording) -> tuple[Answer, ...]:
    """The four, in the order in which they are asked."""
    return (
        wrong_answer(session, wording),
        done_answer(session, wording),
        good_answer(session, wording),
        next_answer(session, wording),
    )
