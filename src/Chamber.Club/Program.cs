using System.CommandLine;
using Chamber.Club.Commands;

return await new RootCommand("Chamber for many homes: one database, one broker.")
{
    ClubCommand.Database,
    HomeCommands.Create(),
    IntakeCommand.Create(),
    SiloCommand.Create(),
}.Parse(args).InvokeAsync();
