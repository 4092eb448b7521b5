"""The commands of the first screens, apart from all others: these alone are needed before the first picture."""

from coach.tui.commands import describing, everywhere, home, report, sharing
from coach.tui.commands.command import Commands

HOME: Commands = (
    describing.Edit(),
    home.Find(),
    sharing.TakeUp(),
    report.ReportInLine(),
    everywhere.Help(),
    everywhere.Quit(),
    everywhere.Settings(),
    everywhere.Look(),
    everywhere.ListOfCommands(),
    everywhere.PageBefore(),
    everywhere.NextPage(),
)

READYING: Commands = (
    everywhere.Back(),
    everywhere.Look(),
)
