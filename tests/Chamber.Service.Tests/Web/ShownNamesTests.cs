using System.Net;
using System.Text.RegularExpressions;
using Chamber.Service.Home.Watching;
using Chamber.Service.Tests.Commands;
using Chamber.Testing;

namespace Chamber.Service.Tests.Web;

/// <summary>Where something has a name of any letters, every page calls it by that name. The home is invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed partial class ShownNamesTests : IDisposable
{
    private static readonly string[] Own = ["qs-one", "qs-two", "qp-one", "QB1", "QB2"];

    private readonly HomeRig rig = new();

    [Fact]
    public async Task Pages_call_things_as_people_do()
    {
        await Furnish();
        await using var page = await StillPage.Open(rig);
        var about = new[] { "/history/spot/qs-one", "/history/probe/qp-one", "/batches/QB2", "/spots/qs-two", "/spots/qs-one?crop=tomato",
            "/spots?crop=tomato", "/batches/compare?first=QB1&second=QB2", "/spots/compare?spot=qs-one&spot=qs-two&crop=tomato",
            "/spots/place?sow=basil:1", "/seeds/sow?spot=qs-one" };
        List<string> found = [];
        Look("the digest", HomeDigest.Of(page.Home, page.Home.Now).ToString());
        foreach (var path in StillPage.Addresses("QB1", "qs-one", "ql-24").Concat(about))
        {
            Look(path, Text(await page.Get(path)));
        }

        Assert.Contains("Upper shelf", Text(await page.Get("/")), StringComparison.Ordinal);
        Assert.True(found.Count == 0, string.Join('\n', found.Distinct()));

        void Look(string path, string text) =>
            found.AddRange(from name in Own
                from Match bare in Regex.Matches(text, $@"(?<![\w-]){name}(?![\w-])")
                where !IsMeant(text, bare)
                select $"{path}: …{text[Math.Max(0, bare.Index - 50)..Math.Min(text.Length, bare.Index + 40)]}…");
    }

    public void Dispose() => rig.Dispose();

    private async Task Furnish()
    {
        await rig.Do("spot add qs-one --kind heat-mat", "spot add qs-two --kind sill --light bright",
            "probe add qp-one --measures media --spot qs-one", "lot add ql-24 --crop tomato --seeds 60 --year 2024",
            "sow tomato --seeds 12 --spot qs-one --lot ql-24 --name QB1", "sow tomato --seeds 12 --spot qs-one --lot ql-24 --name QB2");
        for (var day = 0; day < 8; day++)
        {
            rig.Clock.Advance(TimeSpan.FromHours(23));
            await rig.Do("read qs-one 22C", "water QB1");
        }

        await rig.Do("look QB1 4", "move QB2 qs-two", "note QB1 looked-in", "set-aside qp-one --from 2027-02-26 --to 2027-02-27",
            "maintenance qs-one 2h");
        foreach (var (thing, name) in new[] { ("spot qs-one", "Upper shelf"), ("spot qs-two", "By the window"),
            ("probe qp-one", "Grey sensor"), ("batch QB1", "Early reds"), ("batch QB2", "Late reds") })
        {
            var renamed = await rig.Run(["rename", .. thing.Split(' '), "--shown", name]);
            Assert.True(renamed.Code == 0, renamed.Error);
        }

        rig.Clock.Advance(TimeSpan.FromMinutes(2));
        await rig.Do("read qs-one 55C --sure");
    }

    // Where the own name itself is meant: it is on labels in brackets, and stands where another is given.
    private static bool IsMeant(string text, Match name) =>
        MeantBefore().IsMatch(text[..name.Index]) || text[(name.Index + name.Length)..].StartsWith(" shown as", StringComparison.Ordinal)
            || (text[..name.Index].EndsWith('(') && text[name.Index + name.Length] == ')');

    [GeneratedRegex("(empty for|Rename) $")]
    private static partial Regex MeantBefore();

    // What somebody reads: no scripts, no fields to type in, no addresses.
    private static string Text(string page) =>
        WebUtility.HtmlDecode(Spaces().Replace(Tags().Replace(Hidden().Replace(page, " "), " "), " "));

    [GeneratedRegex("<(script|style|textarea)\\b.*?</\\1>|<!--.*?-->", RegexOptions.Singleline)]
    private static partial Regex Hidden();

    [GeneratedRegex("<[^>]*>")]
    private static partial Regex Tags();

    [GeneratedRegex("\\s+")]
    private static partial Regex Spaces();
}
