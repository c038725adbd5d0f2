using System.Text;
using System.Text.RegularExpressions;
using Chamber.Testing;

namespace Chamber.Core.Tests.Repository;

public sealed class FolderTests
{
    private const string Service = "Chamber.Service";
    private const string Page = "docs/architecture.md";
    private const string Begin = "<!-- arrows: written by FolderTests -->\n";
    private const string End = "<!-- end of arrows -->\n";

    public static TheoryData<string, string> Assemblies => new()
    {
        { "Chamber.Core", "Chamber.Core.dll" },
        { "Chamber.Storage", "Chamber.Storage.dll" },
        { "Chamber.Mqtt", "Chamber.Mqtt.dll" },
        { Service, "chamber.dll" },
    };

    [Theory]
    [MemberData(nameof(Assemblies))]
    public void Folders_refer_to_each_other_in_one_direction(string project, string file) =>
        Sources.ExpectNone(FolderArrows.Circle(FolderArrows.Of(project, file)).Select(arrow => arrow.ToString()));

    // That the rule above can fail, and says where.
    [Fact]
    public void A_circle_is_found_and_printed_by_its_shortest_way()
    {
        FolderArrow[] line = [Arrow("Pages", "Home"), Arrow("Home", "Ground"), Arrow("Pages", "Ground")];

        Assert.Empty(FolderArrows.Circle(line));
        Assert.Equal(
            ["Home -> Ground (InHome refers to InGround)", "Ground -> Home (InGround refers to InHome)"],
            FolderArrows.Circle([Arrow("Home", "Ground"), .. line, Arrow("Ground", "Pages"), Arrow("Ground", "Home")])
                .Select(arrow => arrow.ToString()));

        static FolderArrow Arrow(string from, string to) => new(from, to, $"In{from}", $"In{to}");
    }

    [Fact]
    public void A_room_of_the_service_refers_only_to_those_below_it()
    {
        var height = Rooms().SelectMany((line, i) => line.Select(room => (Room: $"{Service}.{room}", Height: i)))
            .ToDictionary(entry => entry.Room, entry => entry.Height);
        height[Service] = int.MaxValue;

        var wrong =
            from arrow in FolderArrows.Of(Service, "chamber.dll")
            where !height.TryGetValue(arrow.From, out var upper) || !height.TryGetValue(arrow.To, out var lower) || lower >= upper
            select $"{arrow}: {Page} does not have it further down";

        Sources.ExpectNone(wrong);
    }

    // What they need of a store is its seam, and a home as of a time; HomeContext, which makes them, knows the file.
    [Fact]
    public void Readers_of_a_home_name_no_data_file_journal_or_ledger()
    {
        var wrong =
            from found in FolderArrows.Mentioned(Service, "chamber.dll", $"{Service}.Home", $"{Service}.Home.Answers",
                $"{Service}.Home.Watching")
            where !found.Type.StartsWith("HomeContext", StringComparison.Ordinal)
            where found.Target.StartsWith("Chamber.Storage.", StringComparison.Ordinal)
                && !found.Target.StartsWith("Chamber.Storage.Seam.", StringComparison.Ordinal)
                && !found.Target.StartsWith("Chamber.Storage.Past.", StringComparison.Ordinal)
            select $"{found.Folder}.{found.Type} names {found.Target}: ask IHomeStore or IHomeRecords";

        Sources.ExpectNone(wrong);
    }

    // Facts and readings go where they come from, so that what people do is written in any store. Named here is who handles the data
    // file itself: copies it, puts one in its place, fills one from another home, or keeps in it what the program remembers.
    [Theory]
    [InlineData("Home.Writing", "Safekeeping")]
    [InlineData("Commands.Seed")]
    [InlineData("Commands.Sowing")]
    [InlineData("Commands.LookingBack")]
    [InlineData("Commands.Spots", "ImportVerb")]
    [InlineData("Commands.Watch", "NoticesVerb")]
    [InlineData("Commands.Terminal", "Invocation")]
    [InlineData("Commands.Service", "BackupVerb", "ClubVerb", "ExportVerb", "ImportHomeVerb", "MirrorVerb", "RunVerb")]
    public void Whoever_writes_in_a_home_writes_through_the_seam(string room, params string[] ofTheFile)
    {
        string[] seam = ["Chamber.Storage.Seam.", "Chamber.Storage.Writing.", "Chamber.Storage.Facts."];
        var beside = (
            from found in FolderArrows.Mentioned(Service, "chamber.dll", $"{Service}.{room}")
            where found.Target.StartsWith("Chamber.Storage.", StringComparison.Ordinal)
                && !seam.Any(part => found.Target.StartsWith(part, StringComparison.Ordinal))
            select found).ToList();

        Sources.ExpectNone(beside.Where(found => !ofTheFile.Contains(found.Type))
            .Select(found => $"{found.Folder}.{found.Type} names {found.Target}: write with a HomePen"));
        Sources.ExpectNone(ofTheFile.Except(beside.Select(found => found.Type)).Select(name => $"{name} needs no exception any more"));
    }

    /// <summary>Rewritten when CHAMBER_ANSWERS is <c>write</c>.</summary>
    [Fact]
    public void The_page_of_the_architecture_draws_the_arrows_as_they_are()
    {
        var page = Sources.Text(Page);
        var (begin, end) = (page.IndexOf(Begin, StringComparison.Ordinal) + Begin.Length, page.IndexOf(End, StringComparison.Ordinal));
        var drawn = $"```\n{Drawn()}```\n";
        if (Environment.GetEnvironmentVariable("CHAMBER_ANSWERS") == "write")
        {
            File.WriteAllText(SourceTree.Path(Page), page[..begin] + drawn + page[end..]);
            return;
        }

        Assert.True(drawn == page[begin..end],
            $"{Page} draws other arrows: write them with CHAMBER_ANSWERS=write and look whether you meant them. As they are:\n{drawn}");
    }

    // The rows of the table of rooms, from the top down, turned over: the ground first.
    private static List<string[]> Rooms() =>
        [.. Regex.Matches(Sources.Text(Page), @"^\| (`[^|]*`) \|", RegexOptions.Multiline)
            .Select(row => Regex.Matches(row.Groups[1].Value, "`([^`]+)`").Select(room => room.Groups[1].Value).ToArray())
            .Where(line => !line[0].StartsWith("Chamber.", StringComparison.Ordinal))
            .Reverse()];

    // Everything is on the ground, so arrows to it say nothing.
    private static string Drawn()
    {
        var drawn = new StringBuilder();
        foreach (var room in FolderArrows.Of(Service, "chamber.dll").Where(arrow => arrow.To != $"{Service}.Ground")
            .GroupBy(arrow => arrow.From))
        {
            drawn.Append($"{Short(room.Key)} -> {string.Join(", ", room.Select(arrow => Short(arrow.To)))}\n");
        }

        return drawn.ToString();
    }

    private static string Short(string folder) => folder == Service ? "Program" : folder[(Service.Length + 1)..];
}
