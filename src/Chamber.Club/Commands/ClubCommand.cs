using System.CommandLine;
using System.Net.Sockets;
using Chamber.Club.Store;
using MQTTnet.Exceptions;

namespace Chamber.Club.Commands;

/// <summary>What the commands have in common: the club's database, bounds of numbers, and one line for what went wrong.</summary>
internal static class ClubCommand
{
    public static Option<string> Database { get; } = new("--database")
    {
        HelpName = "ADDRESS",
        Description = "The club's PostgreSQL: Host=...;Database=...;Username=... "
            + "Also as CHAMBER_CLUB_DATABASE, which other users cannot see.",
        DefaultValueFactory = _ => Environment.GetEnvironmentVariable("CHAMBER_CLUB_DATABASE") ?? "",
        Recursive = true,
    };

    public static Command Does(this Command command, Func<ParseResult, CancellationToken, Task> act)
    {
        command.SetAction(async (parsed, cancel) =>
        {
            try
            {
                await act(parsed, cancel);
                return 0;
            }
            catch (Exception problem) when (problem is StoreException or FormatException or MqttCommunicationException or IOException
                or UnauthorizedAccessException or OrleansException or SocketException)
            {
                await Console.Error.WriteLineAsync(problem.Message);
                return problem is FormatException ? 2 : 1;
            }
        });
        return command;
    }

    public static Option<int> Within(this Option<int> option, int low, int high) => option.Bounded(low, high);

    public static Option<int?> Within(this Option<int?> option, int low, int high) => option.Bounded(low, high);

    private static Option<T> Bounded<T>(this Option<T> option, int low, int high)
    {
        option.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<T>() is int number && (number < low || number > high))
            {
                result.AddError($"{result.Option.Name} is {number}: {low} to {high}.");
            }
        });
        return option;
    }

    public static string AddressOf(ParseResult parsed) => parsed.GetValue(Database) is { Length: > 0 } address
        ? address
        : throw new FormatException("Name the club's database: --database \"Host=...;Database=...;Username=...\".");

    public static ClubDatabase Open(ParseResult parsed) => ClubDatabase.Open(AddressOf(parsed));
}
