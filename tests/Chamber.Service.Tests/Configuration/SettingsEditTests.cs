using System.Text.Json.Nodes;
using Chamber.Service.Configuration;

namespace Chamber.Service.Tests.Configuration;

public class SettingsEditTests
{
    [Fact]
    public void Everything_but_the_value_stays_as_somebody_wrote_it()
    {
        const string Before = """
            { // our home
              "units": "F",
              "notices": { "digest": { "at": "07:30" }, /* was box */ "webhook": { "url": "http://old/" } },
              "broker": { "own": true, }, // the one inside
            }
            """;

        var after = SettingsEdit.Put(Before, ["notices", "webhook"], new JsonObject { ["url"] = "http://new/ü" });

        Assert.Equal(
            Before.Replace("""{ "url": "http://old/" }""", "{\n      \"url\": \"http://new/ü\"\n    }", StringComparison.Ordinal), after);
    }

    [Theory]
    [InlineData("{}", "{\n  \"a\": {\n    \"b\": 1\n  }\n}")]
    [InlineData("{ \"c\": 2 }", "{ \"c\": 2,\n  \"a\": {\n    \"b\": 1\n  } }")]
    [InlineData("{ \"c\": 2, }", "{ \"c\": 2,\n  \"a\": {\n    \"b\": 1\n  } }")]
    [InlineData("{ \"c\": 2 // two\n}", "{ \"c\": 2, // two\n  \"a\": {\n    \"b\": 1\n  }\n}")]
    [InlineData("{ \"c\": 2, /* two */ }", "{ \"c\": 2, /* two */\n  \"a\": {\n    \"b\": 1\n  } }")]
    [InlineData("{ \"a\": {} }", "{ \"a\": {\n    \"b\": 1\n  } }")]
    [InlineData("{ \"a\": { \"c\": [1, { \"b\": 3 }] } }", "{ \"a\": { \"c\": [1, { \"b\": 3 }],\n    \"b\": 1 } }")]
    [InlineData("{ \"a\": null }", "{ \"a\": {\n    \"b\": 1\n  } }")]
    [InlineData("{ \"x\": { \"a\": { \"b\": 7 } }, \"a\": { \"b\": 2 } }", "{ \"x\": { \"a\": { \"b\": 7 } }, \"a\": { \"b\": 1 } }")]
    public void A_key_that_is_missing_is_added_where_it_belongs(string before, string after) =>
        Assert.Equal(after, SettingsEdit.Put(before, ["a", "b"], 1));

    [Fact]
    public void What_is_taken_away_says_so() => Assert.Equal("{ \"a\": null }", SettingsEdit.Put("{ \"a\": { \"b\": 1 } }", ["a"], null));
}
