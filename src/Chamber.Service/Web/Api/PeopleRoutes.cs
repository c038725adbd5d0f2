using Chamber.Service.Access;
using Chamber.Service.Configuration;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Chamber.Service.Web.Api;

/// <summary>Who may sign in, and guests' links.</summary>
internal static class PeopleRoutes
{
    public static void Map(RouteGroupBuilder owned, RouteGroupBuilder writes)
    {
        owned = owned.MapGroup(string.Empty).RequireAuthorization(AccessModule.LetIn).WithTags("Access");
        writes = writes.MapGroup(string.Empty).RequireAuthorization(AccessModule.LetIn).WithTags("Access");
        owned.MapGet("/home-network", (HomeNetwork network) => network.Read()).WithName("HomeNetwork")
            .WithSummary("Whether phones and sensors of the home network are let in, and where they find the page and the broker.");
        writes.MapPut("/home-network", (HomeNetwork network, HomeNetworkRequest asked) => network.Open(asked))
            .WithName("OpenHomeNetwork")
            .WithSummary("Lets phones and sensors of the home network in, each by name and password.");
        writes.MapPost("/home-network/sensors", (HomeNetwork network, SensorRequest asked) => network.LetIn(asked)).WithName("LetSensorIn")
            .WithSummary("Makes the user of one sensor. Its password is in this answer only.");
        writes.MapDelete("/home-network/sensors/{name}", (HomeNetwork network, string name) => ShutOut(network, name))
            .WithName("ShutSensorOut").WithSummary("Takes the access of one sensor back: its next message is refused.")
            .ProducesProblem(StatusCodes.Status404NotFound);
        writes.MapDelete("/home-network", Close).WithName("CloseHomeNetwork")
            .WithSummary("Shuts phones and sensors of the home network out; who was connected is cut off.");
        owned.MapGet("/people", (Gatekeeper gate) => gate.PeopleNames.Select(name => new PersonAnswer(name))).WithName("People")
            .WithSummary("Who may sign in.");
        writes.MapPut("/people/{name}", (Gatekeeper gate, string name, PasswordRequest asked) => Save(gate, name, asked))
            .WithName("SavePerson")
                .WithSummary("Lets somebody sign in, or gives them a new password, which ends every sign-in under the old one.");
        writes.MapDelete("/people/{name}", (Gatekeeper gate, string name) => Remove(gate, name))
            .WithName("RemovePerson").WithSummary("Takes somebody's access away.").ProducesProblem(StatusCodes.Status404NotFound);
        owned.MapGet("/guests", (Gatekeeper gate) => gate.Guests.Select(GuestAnswer.Of)).WithName("Guests")
            .WithSummary("The links by which guests look.");
        writes.MapPost("/guests", (Gatekeeper gate, SettingsInForce notices, HttpRequest request, GuestRequest asked) =>
            Invite(gate, notices, request, asked))
            .WithName("InviteGuest")
                .WithSummary("Makes a link for a guest, who sees everything and changes nothing. It is in this answer only.");
        writes.MapDelete("/guests/{guest}", (Gatekeeper gate, string guest) => TakeBack(gate, guest))
            .WithName("TakeBackGuest").WithSummary("Takes a link back: whoever came in by it is out.")
                .ProducesProblem(StatusCodes.Status404NotFound);
        owned.MapGet("/tokens", (Gatekeeper gate) => gate.Programs.Select(TokenAnswer.Of)).WithName("Tokens")
            .WithSummary("The programs that may call the API by a token.");
        writes.MapPost("/tokens", (Gatekeeper gate, TokenRequest asked) => LetIn(gate, asked)).WithName("MakeToken")
            .WithSummary("Makes a token for a program. It is in this answer only. Only people may; a program may not.");
        writes.MapDelete("/tokens/{token}", (Gatekeeper gate, string token) => ShutOut(gate, token))
            .WithName("TakeBackToken").WithSummary("Takes a token back, by its short name in the list: the program is out.")
                .ProducesProblem(StatusCodes.Status404NotFound);
    }

    private static PersonAnswer Save(Gatekeeper gate, string name, PasswordRequest asked)
    {
        var entry = gate.Save(name, asked.Password);
        return entry.Ok ? new(entry.Name!)
            : throw BadInputException.In(asked.Password.Length < Gatekeeper.PasswordLengthMin ? "password" : "name", entry.Problem);
    }

    private static NoContent Close(HomeNetwork network)
    {
        network.Close();
        return TypedResults.NoContent();
    }

    private static NoContent ShutOut(HomeNetwork network, string name)
    {
        network.ShutOut(name);
        return TypedResults.NoContent();
    }

    private static NoContent Remove(Gatekeeper gate, string name) =>
        gate.Remove(name) is { Length: > 0 } problem ? throw BadInputException.Unknown(problem) : TypedResults.NoContent();

    private static Created<InvitationAnswer> Invite(Gatekeeper gate, SettingsInForce notices, HttpRequest request, GuestRequest asked)
    {
        var (link, token) = gate.Invite(asked.For);
        var page = notices.Notices.PageLink?.TrimEnd('/') ?? $"{request.Scheme}://{request.Host}";
        return TypedResults.Created("/api/guests", new InvitationAnswer(link.Id, link.For, $"{page}/guest/{token}"));
    }

    private static Created<MadeTokenAnswer> LetIn(Gatekeeper gate, TokenRequest asked)
    {
        var (program, token) = gate.LetIn(asked.For, asked.May);
        return TypedResults.Created("/api/tokens", new MadeTokenAnswer(program.Id, program.For, program.May, token));
    }

    private static NoContent ShutOut(Gatekeeper gate, string id)
    {
        gate.ShutOut(id);
        return TypedResults.NoContent();
    }

    private static NoContent TakeBack(Gatekeeper gate, string id)
    {
        gate.TakeBack(id);
        return TypedResults.NoContent();
    }
}

/// <summary>Somebody who may sign in.</summary>
internal sealed record PersonAnswer(string Name);

/// <summary>A password for somebody.</summary>
/// <param name="Password">At least 10 characters.</param>
internal sealed record PasswordRequest(string Password);

/// <summary>Whom a link is for.</summary>
/// <param name="For">In your own words.</param>
internal sealed record GuestRequest(string For);

/// <summary>A guest's link, without what opens it.</summary>
internal sealed record GuestAnswer(string Guest, string For, Instant CreatedAt)
{
    public static GuestAnswer Of(GuestLink link) => new(link.Id, link.For, Instant.FromDateTimeOffset(link.CreatedAt));
}

/// <summary>A link that was just made.</summary>
/// <param name="Guest">By which it is revoked.</param>
/// <param name="For">Whom it is for.</param>
/// <param name="Link">To hand over; shown only now.</param>
internal sealed record InvitationAnswer(string Guest, string For, string Link);

/// <summary>Which program a token is for.</summary>
/// <param name="For">In your own words.</param>
/// <param name="May">read: what a guest sees; write: what a person may change, but for letting others in.</param>
internal sealed record TokenRequest(string For, ProgramMay May = ProgramMay.Read);
