using Chamber.Service.Tests.Web.Api;

namespace Chamber.Service.Tests.Web;

/// <summary>Whatever is text goes out compressed. The page's files are compressed when they are published.</summary>
public class CompressionTests
{
    [Fact]
    public async Task Pages_and_answers_go_out_compressed()
    {
        await using var rig = await ApiRig.Start();
        foreach (var path in (string[])["/", "/spots", "/batches/T1", "/set-up", "/api/today", "/api/batches", "/api/crops", "/api/export",
            "/api/calendar.ics", "/api/nothing", "/api/batches/T1/review.html", "/openapi/v1.json"])
        {
            using var answer = await rig.Call("GET", path, null, ("Accept-Encoding", "br, gzip"));
            Assert.True(answer.Content.Headers.ContentEncoding.SequenceEqual(["br"]), $"{path}: {answer.Content.Headers}");
        }
    }
}
