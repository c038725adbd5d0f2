using Chamber.Service.Access;
using Chamber.Testing;
using Microsoft.Extensions.Time.Testing;

namespace Chamber.Service.Tests.Access;

/// <summary>Names, codes and bounds are the program's own or invented.</summary>
public sealed class GatekeeperTests : IDisposable
{
    private const string Password = "four short words do";
    private const string Phone = "192.0.2.7";

    private readonly TempFolder folder = new();
    private readonly FakeTimeProvider time = new(new(2026, 3, 1, 12, 0, 0, TimeSpan.Zero));
    private readonly Gatekeeper gate;

    public GatekeeperTests() => gate = Open();

    [Fact]
    public void The_first_person_gets_in_by_the_code_on_the_console()
    {
        Assert.True(gate.SignUp(gate.OneTimeCode.ToLowerInvariant(), "Ada", Password, Phone).Ok);
        Assert.True(gate.SignIn("ada", Password, Phone).Ok);
    }

    [Fact]
    public void The_code_is_void_once_somebody_has_signed_up()
    {
        gate.SignUp(gate.OneTimeCode, "Ada", Password, Phone);

        Assert.False(gate.SignUp(gate.OneTimeCode, "Eve", Password, Phone).Ok);
    }

    [Fact]
    public void Five_wrong_codes_lock_the_address_out()
    {
        for (var i = 0; i < Lockout.FailuresMax; i++)
        {
            Assert.False(gate.SignUp("WRONG000", "Eve", Password, Phone).Ok);
        }

        Assert.Contains("Too many", gate.SignUp(gate.OneTimeCode, "Eve", Password, Phone).Problem, StringComparison.Ordinal);
    }

    [Fact]
    public void Five_wrong_passwords_lock_the_name_from_every_address_for_15_minutes()
    {
        gate.SignUp(gate.OneTimeCode, "Ada", Password, Phone);
        for (var i = 0; i < Lockout.FailuresMax; i++)
        {
            Assert.False(gate.SignIn("Ada", "a wrong password", $"192.0.2.{i}").Ok);
        }

        Assert.False(gate.SignIn("Ada", Password, Phone).Ok);
        time.Advance(Lockout.Pause);
        Assert.True(gate.SignIn("Ada", Password, Phone).Ok);
    }

    [Fact]
    public void Guessing_elsewhere_keeps_no_owner_out_of_a_browser_they_use()
    {
        gate.SignUp(gate.OneTimeCode, "Ada", Password, Phone);
        for (var i = 0; i < 50; i++)
        {
            Assert.False(gate.SignIn("Ada", "a wrong password", $"192.0.2.{i}").Ok);
        }

        Assert.False(gate.SignIn("Ada", Password, Phone).Ok);
        Assert.True(gate.SignIn("Ada", Password, Phone, browser: "known").Ok);
    }

    [Fact]
    public void A_known_browser_guesses_no_more_often_than_others()
    {
        gate.SignUp(gate.OneTimeCode, "Ada", Password, Phone);
        for (var i = 0; i < Lockout.FailuresMax; i++)
        {
            Assert.False(gate.SignIn("Ada", "a wrong password", Phone, browser: "known").Ok);
        }

        Assert.False(gate.SignIn("Ada", Password, Phone, browser: "known").Ok);
        Assert.True(gate.SignIn("Ada", Password, Phone).Ok);
    }

    [Fact]
    public void A_name_that_reads_like_an_address_locks_no_address_out()
    {
        gate.SignUp(gate.OneTimeCode, "Ada", Password, Phone);
        for (var i = 0; i < Lockout.FailuresMax; i++)
        {
            gate.SignIn(Phone, "a wrong password", $"192.0.2.{100 + i}");
        }

        Assert.True(gate.SignIn("Ada", Password, Phone).Ok);
    }

    [Fact]
    public async Task Sixty_guesses_at_once_are_no_more_than_five()
    {
        gate.SignUp(gate.OneTimeCode, "Ada", Password, Phone);

        var answers = await Task.WhenAll(Enumerable.Range(0, 60).Select(i =>
            Task.Run(() => gate.SignIn("Ada", $"a wrong password {i}", Phone))));

        Assert.Equal(Lockout.FailuresMax, answers.Count(answer => answer.Problem.Contains("not right", StringComparison.Ordinal)));
        Assert.Equal(60 - Lockout.FailuresMax, answers.Count(answer => answer.Problem.Contains("Too many", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task A_code_lets_one_person_in_once()
    {
        var code = gate.OneTimeCode;
        Assert.Equal(code, gate.TakeCodeToTell());
        var answers = await Task.WhenAll(Enumerable.Range(0, 4).Select(i =>
            Task.Run(() => gate.SignUp(code, $"Ada {i}", Password, Phone))));

        var only = Assert.Single(answers, answer => answer.Ok);
        Assert.Null(gate.TakeCodeToTell());
        Assert.Equal("", gate.Remove(only.Name!));
        Assert.False(gate.SignUp(code, "Eve", Password, Phone).Ok);
        Assert.NotEqual(code, gate.TakeCodeToTell());
    }

    [Fact]
    public void A_wrong_name_is_told_no_more_than_a_wrong_password()
    {
        gate.SignUp(gate.OneTimeCode, "Ada", Password, Phone);

        Assert.Equal(gate.SignIn("Ada", "a wrong password", Phone).Problem, gate.SignIn("Nobody", Password, Phone).Problem);
    }

    [Fact]
    public void A_new_password_ends_what_was_opened_with_the_old_one()
    {
        var before = gate.SignUp(gate.OneTimeCode, "Ada", Password, Phone);

        Assert.True(gate.ChangePassword("ada", "another long password").Ok);

        Assert.False(gate.StillHolds("Ada", before.Stamp!));
        Assert.False(gate.SignIn("Ada", Password, Phone).Ok);
        Assert.True(gate.SignIn("Ada", "another long password", Phone).Ok);
        Assert.Contains("at least 10", gate.ChangePassword("Ada", "short").Problem, StringComparison.Ordinal);
    }

    [Fact]
    public void Whose_access_was_taken_away_is_out_at_the_next_request()
    {
        var before = gate.SignUp(gate.OneTimeCode, "Ada", Password, Phone);

        Assert.Equal("", gate.Remove("Ada"));

        Assert.False(gate.StillHolds("Ada", before.Stamp!));
        Assert.False(gate.SignIn("Ada", Password, Phone).Ok);
    }

    // RFC 2104, section 2: a key shorter than a block is filled up with zeros, so PBKDF2 cannot tell the two apart.
    [Fact]
    public void A_password_with_a_null_at_its_end_is_another_and_is_none()
    {
        gate.SignUp(gate.OneTimeCode, "Ada", Password, Phone);
        Assert.False(gate.SignIn("Ada", Password + '\0', Phone).Ok);
        Assert.Contains("no null character", gate.Add("Ben", Password + '\0').Problem, StringComparison.Ordinal);
        Assert.True(gate.SignIn("Ada", Password, Phone).Ok);
    }

    [Fact]
    public void A_short_password_is_refused_with_the_fix() =>
        Assert.Contains("at least 10", gate.SignUp(gate.OneTimeCode, "Ada", "short", Phone).Problem, StringComparison.Ordinal);

    [Fact]
    public void A_link_lets_in_until_it_is_taken_back()
    {
        var (link, token) = gate.Invite("the neighbour who waters");

        Assert.Equal(link, gate.GuestOf(token));
        gate.TakeBack(link.Id);

        Assert.Null(gate.GuestOf(token));
        Assert.False(gate.IsGuest(link.Id));
    }

    [Theory]
    [InlineData(ProgramMay.Read)]
    [InlineData(ProgramMay.Write)]
    internal void A_program_is_known_by_its_token_until_it_is_taken_back(ProgramMay may)
    {
        var (program, token) = gate.LetIn("automation", may);

        Assert.Equal(program, gate.ProgramOf(token));
        Assert.Equal((program, may), (Open().ProgramOf(token), program.May));
        Assert.Null(gate.ProgramOf(token[..^1]));
        Assert.DoesNotContain(token, File.ReadAllText(FilePath), StringComparison.Ordinal);
        gate.ShutOut(program.Id);
        Assert.Null(gate.ProgramOf(token));
        Assert.Contains("There is no token", Assert.Throws<BadInputException>(() => gate.ShutOut(program.Id)).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void What_another_process_changed_counts_at_once_and_is_not_written_over()
    {
        gate.SignUp(gate.OneTimeCode, "Ada", Password, Phone);
        var (program, token) = Open().LetIn("automation", ProgramMay.Read);

        Assert.Equal(program, gate.ProgramOf(token));
        gate.Invite("a guest");
        Assert.Equal(("automation", "a guest", true),
            (Assert.Single(Open().Programs).For, Assert.Single(Open().Guests).For, Open().HasPeople));
    }

    [Fact]
    public void Two_that_change_at_one_moment_do_not_lose_what_the_other_wrote()
    {
        using var other = new FileStream(FilePath + ".lock", FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);

        Assert.Contains("Try again", Assert.Throws<BadInputException>(() => gate.LetIn("automation", ProgramMay.Read)).Message,
            StringComparison.Ordinal);
        Assert.Empty(gate.Programs);
    }

    [Fact]
    public void A_file_from_before_there_were_programs_is_read()
    {
        File.WriteAllText(FilePath, """{ "people": [], "guests": [] }""");

        Assert.Empty(gate.Programs);
    }

    [Fact]
    public void What_was_decided_survives_a_restart_and_no_secret_stands_in_the_file()
    {
        gate.SignUp(gate.OneTimeCode, "Ada", Password, Phone);
        var (_, token) = gate.Invite("a guest");

        var text = File.ReadAllText(FilePath);
        Assert.DoesNotContain(Password, text, StringComparison.Ordinal);
        Assert.DoesNotContain(token, text, StringComparison.Ordinal);
        Assert.True(Open().SignIn("Ada", Password, Phone).Ok);
        Assert.NotNull(Open().GuestOf(token));
    }

    [Fact]
    public void Only_the_owner_of_the_process_can_read_the_file()
    {
        gate.Invite("a guest");

        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(FilePath));
    }

    [Fact]
    public void A_damaged_file_lets_nobody_in_and_says_what_to_do()
    {
        File.WriteAllText(FilePath, "{ \"people\": [");

        var problem = Assert.Throws<InvalidDataException>(() => Open().SignIn("Ada", Password, Phone));
        Assert.Contains(FilePath, problem.Message, StringComparison.Ordinal);
    }

    public void Dispose() => folder.Dispose();

    private string FilePath => Path.Combine(folder.Path, "access.json");

    private Gatekeeper Open() => new(new(FilePath), new(time), time);
}
