"""Which screen has which commands, in the order in which the key line and the help show them."""

from coach.tui.commands import describing, everywhere, measuring, report, session, sharing, sheet, upkeep
from coach.tui.commands.at_home import HOME, READYING
from coach.tui.commands.command import Commands

SESSION: Commands = (
    session.Undo(),
    session.Glance(),
    session.Review(),
    everywhere.Help(),
    everywhere.Home(),
    session.Bumped(),
    session.Parts(),
    session.Note(),
    report.Report(),
    everywhere.Settings(),
    everywhere.Look(),
    everywhere.ListOfCommands(),
    session.ScrollUp(),
    session.ScrollDown(),
)

MEASURING: Commands = (
    measuring.Accept(),
    measuring.NextWay(),
    measuring.OtherFace(),
    everywhere.Help(),
    everywhere.Back(),
    measuring.LastWay(),
    measuring.NextField(),
    measuring.FieldBefore(),
    measuring.OtherUnit(),
    measuring.OtherDetail(),
    measuring.Finer(),
    measuring.Coarser(),
    everywhere.Look(),
    everywhere.ListOfCommands(),
)

REVIEW: Commands = (
    session.Amend(),
    session.ReviewUndo(),
    report.ReportInLine(),
    session.ReviewNote(),
    everywhere.Help(),
    everywhere.Back(),
    sharing.Share(),
    everywhere.Look(),
    everywhere.ListOfCommands(),
    everywhere.PageBefore(),
    everywhere.NextPage(),
)

DESCRIBING: Commands = (
    describing.DontKnow(),
    describing.Before(),
    describing.Enough(),
    describing.NextQuestion(),
    describing.DescribingHelp(),
    everywhere.Back(),
    describing.DescribingUnit(),
    everywhere.Look(),
    everywhere.ListOfCommands(),
    everywhere.PageBefore(),
    everywhere.NextPage(),
)

SETTINGS: Commands = (
    everywhere.Help(),
    everywhere.Back(),
    everywhere.Look(),
    everywhere.ListOfCommands(),
    everywhere.PageBefore(),
    everywhere.NextPage(),
)

UPKEEP: Commands = (
    upkeep.UpkeepUndo(),
    upkeep.HowOften(),
    upkeep.Hours(),
    everywhere.Help(),
    everywhere.Back(),
    everywhere.Look(),
    everywhere.ListOfCommands(),
    everywhere.PageBefore(),
    everywhere.NextPage(),
)

SHEET: Commands = (
    sheet.SheetUndo(),
    everywhere.Help(),
    everywhere.Back(),
    everywhere.Settings(),
    everywhere.Look(),
    everywhere.ListOfCommands(),
    everywhere.PageBefore(),
    everywhere.NextPage(),
)

HISTORY: Commands = (
    everywhere.Help(),
    everywhere.Back(),
    everywhere.Look(),
    everywhere.ListOfCommands(),
    everywhere.PageBefore(),
    everywhere.NextPage(),
)

ALL: tuple[Commands, ...] = (HOME, READYING, SESSION, MEASURING, REVIEW, SETTINGS, DESCRIBING, UPKEEP, SHEET, HISTORY)
