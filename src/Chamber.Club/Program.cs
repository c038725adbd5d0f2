using System.CommandLine;
using Chamber.Club.Commands;

return await new RootCommand("Chamber for many homes: one database, one broker.")
{
    ClubCommand.Database,
    AddressCommands.Create(),
    BoardsCommand.Create(),
    DemoCommand.Create(),
    ExperienceCommands.Create(),
    HomeCommands.Create(),
    IntakeCommand.Create(),
    SiloCommand.Create(),
    PageCommand.Create(),
    PeopleCommands.Invite(),
    PeopleCommands.Sensors(),
}.Parse(args).InvokeAsync(new() { ProcessTerminationTimeout = TimeSpan.FromMinutes(1) }); // Stopping in order takes its time.
