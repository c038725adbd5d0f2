using System.Text.Json;
using Chamber.Testing;

namespace Chamber.Service.Tests.Rig;

/// <summary>What of a kept answer may move, and by how little. Tolerances are the program's own
/// (demo-data/shared-flat/README.md).</summary>
public sealed class AnswerFileTests
{
    [Theory]
    [InlineData("""{ "chance": 0.80 }""", """{ "chance": 0.809 }""", true)]
    [InlineData("""{ "chance": 0.80 }""", """{ "chance": 0.84 }""", false)]
    [InlineData("""{ "chance": 0.02 }""", """{ "chance": 0.06 }""", false)]
    [InlineData("""{ "days": 17.91 }""", """{ "days": 17.99 }""", true)]
    [InlineData("""{ "days": 17.91 }""", """{ "days": 18.05 }""", false)]
    [InlineData("""{ "warmHours": 4161.8 }""", """{ "warmHours": 4170.1 }""", true)]
    [InlineData("""{ "up": 8 }""", """{ "up": 9 }""", false)]
    [InlineData("""{ "at": "2026-02-20T15:00:00Z" }""", """{ "at": "2026-02-20T15:20:00Z" }""", true)]
    [InlineData("""{ "at": "2026-02-20T15:00:00Z" }""", """{ "at": "2026-02-20T16:00:00Z" }""", false)]
    public void A_number_moves_by_little_and_a_count_not_at_all(string kept, string given, bool same) =>
        Assert.Equal(same, AnswerFile.Differences(kept, given).Count == 0);

    [Theory]
    [InlineData("Look at T1", "Look at T9", false)]
    [InlineData("mat-1 has moved", "mat-2 has moved", false)]
    [InlineData("The chance that the first is up is 41 %.", "The chance that the first is up is 42 %.", true)]
    [InlineData("The chance that the first is up is 41 %.", "The chance that the first is up is 44 %.", false)]
    [InlineData("half up in about 6.5 days", "half up in about 6.6 days", true)]
    [InlineData("half up in about 6.5 days", "half up in about 6.7 days", false)]
    [InlineData("3 were up at the last look", "4 were up at the last look", false)]
    [InlineData("since Fri 20 Feb 11:12, at worst 26.5 °C", "since Fri 20 Feb 11:20, at worst 26.5 °C", true)]
    [InlineData("since Fri 20 Feb 11:12, at worst 26.5 °C", "since Sat 21 Feb 11:12, at worst 26.5 °C", false)]
    [InlineData("since Fri 20 Feb 11:12", "since Fri 20 Feb 12:12", false)]
    [InlineData("It is -2.5 °C", "It is 2.5 °C", false)]
    public void Digits_of_a_sentence_are_compared_as_what_they_are(string kept, string given, bool same) =>
        Assert.Equal(same, AnswerFile.Differences(JsonSerializer.Serialize(kept), JsonSerializer.Serialize(given)).Count == 0);
}
