using Chamber.Testing;

namespace Chamber.Shipping.Tests.Rig;

/// <summary>The main job from sensor to answer, and every native library on the way: SQLite, the drawing of plots.</summary>
internal static class MainJob
{
    public static async Task Do(string program)
    {
        using var home = new ShippedHome(program);
        await home.Ask("spot add shelf --kind shelf --light dim --room 2");
        await home.Ask("spot add mat --kind heat-mat --light dark --room 1");
        await home.Ask("probe add p1 --measures media --spot shelf");
        await using (var service = await home.Run())
        {
            await ReadingArrives(home);
            await PageAnswers(home);
            service.AskToStop();
            Assert.Equal(0, (await service.End()).ExitCode);
        }

        await home.Ask("read mat 26C");
        Assert.Equal(["mat", "shelf"], (await home.Json("spots --crop basil")).EnumerateArray()
            .Select(spot => spot.GetProperty("spot").GetString()!).Order(StringComparer.Ordinal));
        Assert.InRange((await home.Json("forecast --crop tomato --at 20C --seeds 12")).GetProperty("half").GetProperty("mid").GetDouble(),
            5, 14);
        await home.Ask("sow tomato --seeds 12 --spot shelf --name T1");
        await home.Ask("place basil --new-only");
        await home.Ask($"labels --out {home.File("labels.pdf")}");
        Assert.StartsWith("%PDF", await File.ReadAllTextAsync(home.File("labels.pdf"), TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
        await home.Ask($"export --out {home.File("taken-out")}");
        await home.Ask($"season --plot {home.File("season.png")}");
        await home.Ask("backup");
    }

    private static async Task ReadingArrives(ShippedHome home)
    {
        string[] publish = ["-h", "127.0.0.1", "-p", $"{home.BrokerPort}", "-q", "1", "-t", "chamber/p1/reading", "-m",
            """{ "temperature": 21.5 }"""];
        (await RunningProgram.Run("mosquitto_pub", publish)).Succeeded();

        // At QoS 1 the publisher has its acknowledgement only after the reading is on the disk.
        var probe = Assert.Single((await home.Json("probes")).EnumerateArray());
        Assert.Contains("21.5", probe.GetRawText(), StringComparison.Ordinal);
    }

    private static async Task PageAnswers(ShippedHome home)
    {
        using var client = new HttpClient { BaseAddress = new($"http://127.0.0.1:{home.PagePort}") };
        var page = await client.GetStringAsync("/spots", TestContext.Current.CancellationToken);
        Assert.Contains("shelf", page, StringComparison.Ordinal);

        // Files of the page and of the framework lie in the published program too.
        foreach (var path in new[] { "_framework/blazor.web.js", "page.css" })
        {
            Assert.NotEmpty(await client.GetStringAsync($"/{path}", TestContext.Current.CancellationToken));
        }
    }
}
