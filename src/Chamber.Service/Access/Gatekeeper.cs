using System.Security.Cryptography;
using Microsoft.AspNetCore.Identity;

namespace Chamber.Service.Access;

/// <summary>How a try to get in ended. <see cref="Name"/> is set only when it succeeded.</summary>
internal readonly record struct Entry(string? Name, string? Stamp, string Problem)
{
    public bool Ok => Name is not null;

    public static Entry Denied(string problem) => new(null, null, problem);
}

/// <summary>Decides who gets in: the first person by the one-time code, then people by password and guests by link.</summary>
internal sealed class Gatekeeper(AccessFile file, Lockout lockout, TimeProvider time, PasswordHasher<string> hasher)
{
    public const int PasswordLengthMin = 10;
    public static readonly int NameLengthMax = Core.Bounds.PersonName.LengthMax;

    /// <summary>Sessions that were signed out of and are remembered; a cookie is dead by itself after
    /// <see cref="AccessModule.CookieLife"/>.</summary>
    private const int EndedMax = 1_000;

    // Without look-alikes (0 O 1 I L), because it is read off a console and typed on a phone.
    private const string CodeAlphabet = "23456789ABCDEFGHJKMNPQRSTUVWXYZ";

    private static readonly string TooShort = $"Choose a password of at least {PasswordLengthMin} characters; four short words do well.";

    private static readonly string LongPassword = $"A password has at most {Core.Bounds.Password.LengthMax} characters.";

    // HMAC fills a short key up with it (RFC 2104), so that a password with one at its end would be the same as without.
    private const char Null = '\0';
    private const string NoNull = "A password has no null character.";

    private static readonly PasswordHasher<string> Usual = new();

    private readonly Lock codeGate = new();
    private string code = NewCode();
    private bool isCodeTold;

    // What a wrong name is compared with, so that it takes as long as a wrong password.
    private static readonly string UsualNobody = HashOfNobody(Usual);
    private readonly string nobody = hasher == Usual ? UsualNobody : HashOfNobody(hasher);

    public Gatekeeper(AccessFile file, Lockout lockout, TimeProvider time)
        : this(file, lockout, time, Usual)
    {
    }

    /// <summary>The code that the first person types; shown on the console, new at each start and once it was used.</summary>
    public string OneTimeCode => code;

    /// <summary>The same, once, for whoever tells it where only this machine's owner reads; null when it was reported, or is
    /// void.</summary>
    public string? TakeCodeToTell() => HasPeople || Interlocked.Exchange(ref isCodeTold, true) ? null : OneTimeCode;

    public bool HasPeople => file.Current.People.Count > 0;

    public IReadOnlyList<GuestLink> Guests => file.Current.Guests;

    public IEnumerable<string> PeopleNames => file.Current.People.Select(person => person.Name);

    /// <summary>Lets the first person in by the one-time code.</summary>
    public Entry SignUp(string code, string name, string password, string address)
    {
        if (Beyond(code, name, password) is { } problem)
        {
            return Entry.Denied(problem);
        }

        if (lockout.Begin(TryKey.Address(address)) is { } until)
        {
            return TooMany(until);
        }

        lock (codeGate)
        {
            if (HasPeople)
            {
                return Entry.Denied("Somebody has signed up already. Sign in, or ask them to add you.");
            }

            if (!CryptographicOperations.FixedTimeEquals(System.Text.Encoding.UTF8.GetBytes(code.Trim().ToUpperInvariant()),
                System.Text.Encoding.UTF8.GetBytes(OneTimeCode)))
            {
                return Entry.Denied("That is not the code that the console shows.");
            }

            lockout.Succeeded(TryKey.Address(address));
            var entry = Add(name, password);
            if (entry.Ok)
            {
                // It works once: were everybody's access taken away, the console would show another.
                this.code = NewCode();
                isCodeTold = false;
            }

            return entry;
        }
    }

    /// <summary>Adds a person, or gives the one with this name a new password; the caller must be one.</summary>
    public Entry Save(string name, string password) =>
        Find(name.Trim()) is { } known ? ChangePassword(known.Name, password) : Add(name, password);

    /// <summary>Adds a person; the caller must be one.</summary>
    public Entry Add(string name, string password)
    {
        name = name.Trim();
        if (name.Length == 0 || name.Length > NameLengthMax)
        {
            return Entry.Denied($"Choose a name of 1 to {NameLengthMax} characters.");
        }

        if (WhyNoPassword(password) is { } problem)
        {
            return Entry.Denied(problem);
        }

        if (Find(name) is not null)
        {
            return Entry.Denied($"There is a {name} already.");
        }

        var person = new Person(name, hasher.HashPassword(name, password), NewStamp());
        file.Change(list => list with { People = [.. list.People, person] });
        return new(person.Name, person.Stamp, "");
    }

    /// <summary>Takes somebody's access away: whatever browser they use is out at its next request.</summary>
    /// <returns>Why not; empty when they are out.</returns>
    public string Remove(string name)
    {
        if (Find(name) is not { } person)
        {
            return $"There is no {name}.";
        }

        file.Change(list => list with { People = [.. list.People.Where(other => other.Name != person.Name)] });
        return "";
    }

    /// <summary>Gives somebody a new password, which ends every sign-in under the old one.</summary>
    public Entry ChangePassword(string name, string password)
    {
        if (Find(name) is not { } person)
        {
            return Entry.Denied($"There is no {name}.");
        }

        if (WhyNoPassword(password) is { } problem)
        {
            return Entry.Denied(problem);
        }

        var changed = new Person(person.Name, hasher.HashPassword(person.Name, password), NewStamp());
        file.Change(list => list with { People = [.. list.People.Select(other => other.Name == person.Name ? changed : other)] });
        return new(changed.Name, changed.Stamp, "");
    }

    /// <param name="name">Who they say they are.</param>
    /// <param name="password">How they prove it.</param>
    /// <param name="address">Where they come from.</param>
    /// <param name="browser">The number of the browser, where that person has signed in before: it alone is counted then.</param>
    public Entry SignIn(string name, string password, string address, string? browser = null)
    {
        name = name.Trim();
        if (Beyond("", name, password) is { } problem)
        {
            // Nobody has such a name or password, and neither is kept or reckoned with.
            lockout.Begin(TryKey.Address(address));
            return Entry.Denied(problem);
        }

        TryKey[] counts = browser is null ? [TryKey.Address(address), TryKey.Name(name)] : [TryKey.Browser(browser)];
        if (lockout.Begin(counts) is { } until)
        {
            return TooMany(until);
        }

        var person = Find(name);
        var result = hasher.VerifyHashedPassword(name, person?.PasswordHash ?? nobody, password);
        if (person is null || result == PasswordVerificationResult.Failed)
        {
            return Entry.Denied("The name or the password is not right.");
        }

        lockout.Succeeded(counts);
        return new(person.Name, person.Stamp, "");
    }

    /// <summary>Somebody has signed out: whoever kept a copy of the cookie is out too.</summary>
    public void End(string session)
    {
        var now = time.GetUtcNow();
        file.Change(list => list with
        {
            Ended = [.. list.Ended.Where(ended => ended.At + AccessModule.CookieLife > now).TakeLast(EndedMax - 1), new(session, now)],
        });
    }

    /// <summary>Whether somebody has signed out of a session.</summary>
    public bool HasEnded(string session) => file.Current.Ended.Any(ended => ended.Session == session);

    /// <summary>Whether a session opened with this stamp still holds.</summary>
    public bool StillHolds(string name, string stamp) => Find(name)?.Stamp == stamp;

    /// <summary>Makes a link; the token is returned once and kept only as its hash.</summary>
    /// <exception cref="BadInputException">Nobody is named in 1 to <see cref="NameLengthMax"/> characters.</exception>
    public (GuestLink Link, string Token) Invite(string whom)
    {
        var token = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(24));
        var link = new GuestLink(RandomNumberGenerator.GetString(CodeAlphabet, 4), Hash(token), Named("for", whom), time.GetUtcNow());
        file.Change(list => list with { Guests = [.. list.Guests, link] });
        return (link, token);
    }

    /// <summary>Takes a link back: whoever came in by it is out at their next request.</summary>
    /// <exception cref="BadInputException">There is no such link.</exception>
    public void TakeBack(string linkId)
    {
        if (!IsGuest(linkId))
        {
            throw BadInputException.Unknown($"There is no guest \"{linkId}\".");
        }

        file.Change(list => list with { Guests = [.. list.Guests.Where(link => link.Id != linkId)] });
    }

    public GuestLink? GuestOf(string token)
    {
        var hash = Hash(token);
        return file.Current.Guests.FirstOrDefault(link => link.TokenHash == hash);
    }

    public bool IsGuest(string linkId) => file.Current.Guests.Any(link => link.Id == linkId);

    public IReadOnlyList<ProgramToken> Programs => file.Current.Programs;

    /// <summary>Lets a program in; the token is returned once and kept only as its hash.</summary>
    /// <exception cref="BadInputException">It has no name of 1 to <see cref="NameLengthMax"/> characters.</exception>
    public (ProgramToken Program, string Token) LetIn(string program, ProgramMay may)
    {
        var token = "chamber_" + Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(24));
        var made = new ProgramToken(RandomNumberGenerator.GetString(CodeAlphabet, 4), Hash(token), Named("for", program), may,
            time.GetUtcNow());
        file.Change(list => list with { Programs = [.. list.Programs, made] });
        return (made, token);
    }

    /// <summary>Takes a program's token back: it is out at its next request.</summary>
    /// <exception cref="BadInputException">There is no such program.</exception>
    public void ShutOut(string programId)
    {
        if (Programs.All(program => program.Id != programId))
        {
            throw BadInputException.Unknown($"There is no token \"{programId}\".");
        }

        file.Change(list => list with { Programs = [.. list.Programs.Where(program => program.Id != programId)] });
    }

    /// <summary>The program that shows a token; null when it is not known, or was taken back.</summary>
    public ProgramToken? ProgramOf(string token)
    {
        var hash = Hash(token);
        return file.Current.Programs.FirstOrDefault(program => program.TokenHash == hash);
    }

    // A password is never shown, not even by its beginning.
    private static string? Beyond(string code, string name, string password) =>
        Core.Bounds.PersonName.WhyNot(name) ?? Core.Bounds.PersonName.WhyNot(code)
            ?? (Core.Bounds.Password.WhyNot(password) is not null ? LongPassword : password.Contains(Null) ? NoNull : null);

    private static string? WhyNoPassword(string password) =>
        password.Length < PasswordLengthMin ? TooShort : Beyond("", "", password);

    private static string Named(string field, string name) => name.Trim() is { Length: > 0 } named && named.Length <= NameLengthMax
        ? named
        : throw BadInputException.In(field, $"Say what it is for, in 1 to {NameLengthMax} characters.");

    private Person? Find(string name) =>
        file.Current.People.FirstOrDefault(person => string.Equals(person.Name, name, StringComparison.OrdinalIgnoreCase));

    private static Entry TooMany(DateTimeOffset until) =>
        Entry.Denied($"Too many wrong tries. Try again after {until.ToLocalTime():HH:mm}.");

    private static string NewCode() => RandomNumberGenerator.GetString(CodeAlphabet, 8);

    private static string HashOfNobody(PasswordHasher<string> hasher) => hasher.HashPassword("", RandomNumberGenerator.GetHexString(32));

    private static string NewStamp() => RandomNumberGenerator.GetHexString(16);

    private static string Hash(string token) => Convert.ToBase64String(SHA256.HashData(System.Text.Encoding.UTF8.GetBytes(token)));
}
