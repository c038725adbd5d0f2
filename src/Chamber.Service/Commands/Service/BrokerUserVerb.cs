using System.CommandLine;
using Chamber.Mqtt.Broker;
using Chamber.Service.Commands.Terminal;
using Spectre.Console;

namespace Chamber.Service.Commands.Service;

/// <summary>Users of the own broker, for sensors that come from beyond this machine.</summary>
internal static class BrokerUserVerb
{
    public static Verb Create() => new("broker-user", "Manages users of the built-in broker, for sensors that are not on this machine.",
        "chamber broker-user add sensors") { Add(), Remove() };

    private static Verb Add()
    {
        var name = new Argument<string>("name") { Description = "The user." };
        return new Verb("add", "Adds a user of the built-in broker, or sets a new password, read from standard input.",
            "chamber broker-user add sensors < password.txt") { name }
            .Does(invocation =>
            {
                invocation.Data.Make();
                var user = invocation.Parse.GetValue(name)!;
                Users(invocation).Set(user, Password(invocation));
                invocation.Answer(new { User = user }, screen => screen.Headline($"{user} may connect to the broker."));
            });
    }

    private static Verb Remove()
    {
        var name = new Argument<string>("name") { Description = "The user." };
        return new Verb("remove", "Removes a user of the built-in broker.", "chamber broker-user remove sensors") { name }
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
