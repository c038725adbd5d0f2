using Chamber.Service.Access;
using Chamber.Testing;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using Microsoft.Extensions.Time.Testing;

namespace Chamber.Fuzz;

/// <summary>Tries to get in: a text is a code, a name and a password, and also a token. Only what is right to the letter lets in. A
/// quarter of an hour passes with every twentieth, which ends the lock-out. Passwords are hashed once and not a hundred thousand times, so
/// that most of the time is the reader's.</summary>
internal sealed class SignInReader
{
    private const int PauseEvery = 20;
    private const string Name = "Ada";
    private const string Password = "fourshortwordshere";

    private readonly FakeTimeProvider time = new(new DateTimeOffset(2026, 11, 25, 10, 0, 0, TimeSpan.Zero));
    private readonly Gatekeeper nobodyYet;
    private readonly Gatekeeper home;
    private readonly string guest;
    private readonly string program;
    private int tries;

    public SignInReader(TempFolder folder)
    {
        var quick = new PasswordHasher<string>(Options.Create(new PasswordHasherOptions { IterationCount = 1 }));
        nobodyYet = new(new(folder.File("nobody.json")), new(time), time, quick);
        home = new(new(folder.File("access.json")), new(time), time, quick);
        home.Add(Name, Password);
        guest = home.Invite("Ben").Token;
        program = home.LetIn("scraper", ProgramMay.Read).Token;
    }

    public bool Read(string text)
    {
        if (++tries % PauseEvery == 0)
        {
            time.Advance(Lockout.Pause);
        }

        // The samples cannot know what is drawn at random.
        text = text.Replace("GUEST", guest, StringComparison.Ordinal).Replace("PROGRAM", program, StringComparison.Ordinal);
        var words = text.Split(' ');
        var (name, password) = (words.ElementAtOrDefault(1) ?? "", words.ElementAtOrDefault(2) ?? "");
        Readers.Require(!nobodyYet.SignUp(words[0], name, password, text).Ok, "Signed up with a wrong code.");
        var isIn = home.SignIn(name, password, "192.0.2.7").Ok;
        Readers.Require(!isIn || (name.Trim().Equals(Name, StringComparison.OrdinalIgnoreCase) && password == Password),
            "Signed in by a wrong name or password.");
        Readers.Require(home.GuestOf(text) is not null == (text == guest), "Let in as a guest by a wrong token, or not by the right one.");
        Readers.Require(home.ProgramOf(text) is not null == (text == program), "Let in as a program by a wrong token, or not by a right.");
        return isIn || text == guest || text == program;
    }
}
