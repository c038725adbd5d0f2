using System.CommandLine;
using Chamber.Service.Access;
using Chamber.Service.Commands.Terminal;
using NodaTime;

namespace Chamber.Service.Commands.Service;

/// <summary>Programs that may call the API from other machines, without a person's password.</summary>
internal static class TokensVerb
{
    public static Verb Create() => new Verb("tokens", "Lists the programs that may call the API, what each may do, and since when.",
        "chamber tokens", "chamber tokens add \"shelf display\"") { Add(), Remove() }
        .Does(invocation =>
        {
            var programs = Gate(invocation).Programs;
            invocation.Answer(programs.Select(TokenAnswer.Of), screen =>
            {
                if (programs.Count == 0)
                {
                    screen.Headline("No program has a token. On this machine none is needed.");
                    return;
                }

                screen.Table(["Token", "For", "May", "Since"], programs.Select(program => new[]
                {
                    program.Id, program.For, Choice.Word(program.May), invocation.Show(Instant.FromDateTimeOffset(program.CreatedAt)),
                }));
            });
        });

    private static Verb Add()
    {
        var program = new Argument<string>("program") { Description = "Which program, in your own words." };
        var may = Typed.Option<ProgramMay?>("--may", "WHAT",
            "What it may do: read (what a guest sees, the default) or write (what a person may change, except letting others in).", text =>
            Choice.Parse<ProgramMay>(text));
        return new Verb("add", "Makes a token for a program and shows it once.", "chamber tokens add \"shelf display\"",
            "chamber tokens add automation --may write") { program, may }
            .Does(invocation =>
            {
                invocation.Data.Make();
                var (made, token) = Gate(invocation)
                    .LetIn(invocation.Parse.GetValue(program)!, invocation.Parse.GetValue(may) ?? ProgramMay.Read);
                invocation.Answer(new MadeTokenAnswer(made.Id, made.For, made.May, token), screen =>
                {
                    screen.Headline($"The token for {made.For}, shown only now: {token}");
                    screen.Say($"The program sends it with each request: Authorization: Bearer {token}");
                    screen.Aside($"Revoke it with: chamber tokens remove {made.Id}");
                });
            });
    }

    private static Verb Remove()
    {
        var token = new Argument<string>("token") { Description = "The token's short name, from the list." };
        return new Verb("remove", "Revokes a token: the program is out at its next request.", "chamber tokens remove K7QD") { token }
            .Does(invocation =>
            {
                var id = invocation.Parse.GetValue(token)!;
                Gate(invocation).ShutOut(id);
                invocation.Answer(new { Removed = id }, screen => screen.Headline($"Token {id} is revoked."));
            });
    }

    private static Gatekeeper Gate(Invocation invocation) => new(new(invocation.Data.PageAccess), new(invocation.Clock), invocation.Clock);
}
