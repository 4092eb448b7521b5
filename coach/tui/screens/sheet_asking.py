"""What is typed about a sheet as a whole: the day on which its marks were made, and their dose."""

from collections.abc import Callable
from functools import partial

from coach.shown import day_words
from coach.steps import dosing
from coach.tui.screens.asking import Ask, Field
from coach.worksheet.made import checked_made
from coach.worksheet.typed_in import TypedIn
from coach.worksheet.words import DAY_LEAD, DOSE_LEAD, dose_said


def ask_day(then: Callable[[str], None], stands: str) -> Ask:
    """The day; `then` gets it as it was typed and raises CoachError where it cannot be."""
    return Ask(
        "Made on which day?",
        DAY_LEAD,
        (Field("day", "Day", stands, proposed=True),),
        lambda typed: f"Understood: {day_words(checked_made(typed['day'], None))}.",
        lambda typed: then(typed["day"]),
    )


def ask_dose(sheet: TypedIn) -> Ask:
    """The dose of the tapes that are typed in from now on."""
    return Ask(
        "With what pulse?",
        DOSE_LEAD,
        [
            Field(name, dosing.LABELS[name], sheet.dose.get(name, ""), partial(dosing.check_dose, name))
            for name in dosing.dose_fields(sheet.session.machine.pulse)
        ],
        dose_said,
        sheet.set_dose,
    )
