using NodaTime;

namespace Chamber.Service.Access;

/// <summary>A program's token, without what opens it.</summary>
/// <param name="Token">Its short name, by which it is revoked.</param>
/// <param name="For">Which program.</param>
/// <param name="May">What it may do.</param>
/// <param name="CreatedAt">When it was made.</param>
internal sealed record TokenAnswer(string Token, string For, ProgramMay May, Instant CreatedAt)
{
    public static TokenAnswer Of(ProgramToken program) =>
        new(program.Id, program.For, program.May, Instant.FromDateTimeOffset(program.CreatedAt));
}

/// <summary>A token that was just made.</summary>
/// <param name="Token">Its short name, by which it is revoked.</param>
/// <param name="For">Which program.</param>
/// <param name="May">What it may do.</param>
/// <param name="Secret">What the program sends, as <c>Authorization: Bearer SECRET</c>; shown only now.</param>
internal sealed record MadeTokenAnswer(string Token, string For, ProgramMay May, string Secret);
