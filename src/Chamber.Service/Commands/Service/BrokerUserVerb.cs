using System.CommandLine;
using Chamber.Mqtt.Broker;
using Chamber.Service.Commands.Terminal;
using Spectre.Console;

namespace Chamber.Service.Commands.Service;

/// <summary>Users of the own broker, for sensors that come from beyond this machine.</summary>
internal static class BrokerUserVerb
{
    public static Verb Create() => new("broker-user", "Manages users of the built-in broker, for sensors that are not on this machine.",
        "chamber broker-user add mat-probe") { Add(), Remove(), List() };

    private static Verb Add()
    {
        var name = new Argument<string>("name") { Description = "The user; by default it writes the topics of the probe that has this name." };
        var writes = Filters("--writes", "Topics that it may write, such as 'chamber/#'; several times for more. By default "
            + "chamber/NAME/#, and nothing once --reads is given.");
        var reads = Filters("--reads", "Topics that it may read, such as 'chamber/alerts/#'; several times for more. By default none.");
        return new Verb("add", "Adds a user of the built-in broker, or sets a new password and rights; the password comes by standard input.",
            "chamber broker-user add mat-probe < password.txt",
            "chamber broker-user add bridge --writes 'chamber/#' < password.txt",
            "chamber broker-user add wall-panel --reads 'chamber/alerts/#' < password.txt") { name, writes, reads }
            .Does(invocation =>
            {
                invocation.Data.Make();
                var user = invocation.Parse.GetValue(name)!;
                var (written, read) = (invocation.Parse.GetValue(writes) ?? [], invocation.Parse.GetValue(reads) ?? []);
                var rights = written.Length + read.Length == 0 ? AccountRights.OfProbe(user) : new(written, read);
                Users(invocation).Set(user, Password(invocation), rights);
                invocation.Answer(UserAnswer.Of(user, rights), screen =>
                {
                    screen.Headline($"{user} may connect to the broker.");
                    screen.Say($"It may write {Words(rights.Writes)} and read {Words(rights.Reads)}.");
                });
            });
    }

    private static Verb List() => new Verb("list", "Lists the users of the built-in broker, and what each may write and read.",
        "chamber broker-user list")
        .Does(invocation =>
        {
            var users = Users(invocation).Rights().OrderBy(user => user.Key, StringComparer.Ordinal).ToList();
            invocation.Answer(users.Select(user => UserAnswer.Of(user.Key, user.Value)).ToList(), screen =>
            {
                screen.Headline(users.Count == 0 ? "The broker has no users: only programs on this machine may connect."
                    : "Users of the built-in broker:");
                if (users.Count > 0)
                {
                    screen.Table(["User", "May write", "May read"],
                        users.Select(user => new[] { user.Key, Words(user.Value.Writes), Words(user.Value.Reads) }));
                }
            });
        });

    private static Option<string[]> Filters(string name, string description) => new(name)
    {
        HelpName = "TOPIC",
        Description = description,
        CustomParser = result =>
        {
            try
            {
                return [.. result.Tokens.Select(token => AccountRights.Require(token.Value))];
            }
            catch (FormatException problem)
            {
                throw new BadInputException($"{name} {problem.Message}", problem);
            }
        },
    };

    private static string Words(IReadOnlyList<string> filters) => filters.Count == 0 ? "nothing" : string.Join(", ", filters);

    private static Verb Remove()
    {
        var name = new Argument<string>("name") { Description = "The user." };
        return new Verb("remove", "Removes a user of the built-in broker.", "chamber broker-user remove mat-probe") { name }
            .Does(invocation =>
            {
                var user = invocation.Parse.GetValue(name)!;
                if (!Users(invocation).Remove(user))
                {
                    throw new BadInputException($"The broker has no user \"{user}\".");
                }

                invocation.Answer(new { Removed = user }, screen => screen.Headline($"{user} may no longer connect."));
            });
    }

    private static UserFile Users(Invocation invocation) => new(invocation.Data.BrokerUsers);

    private static string Password(Invocation invocation)
    {
        if (invocation.CommandContext is { IsTerminal: true, IsTyped: true })
        {
            return invocation.Screen.Console.Prompt(new TextPrompt<string>("Password:").Secret());
        }

        return invocation.CommandContext.In.ReadLine() is { Length: > 0 } line ? line
            : throw new BadInputException("No password came in: type it, or send it on standard input.");
    }
}

/// <summary>A user of the own broker.</summary>
/// <param name="User">Its name.</param>
/// <param name="Writes">Topics that it may write.</param>
/// <param name="Reads">Topics that it may read.</param>
internal sealed record UserAnswer(string User, IReadOnlyList<string> Writes, IReadOnlyList<string> Reads)
{
    public static UserAnswer Of(string user, AccountRights rights) => new(user, rights.Writes, rights.Reads);
}
