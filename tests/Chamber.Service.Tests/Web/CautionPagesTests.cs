using System.Net;
using System.Text;
using System.Text.Json;
using Chamber.Core.Cautions;
using Chamber.Core.Crops;
using Chamber.Testing;

namespace Chamber.Service.Tests.Web;

/// <summary>The cautions on the page and in the API, as the built program serves them: the same words as on the other channels.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class CautionPagesTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly int port = FreePort.Next();
    private readonly HttpClient http = new();

    public void Dispose()
    {
        http.Dispose();
        folder.Dispose();
    }

    [Fact]
    public async Task Page_and_API_show_cautions_of_mat_danger_treated_lot_and_poison()
    {
        folder.Write("chamber.json", $$"""{ "broker": { "listen": [{ "port": {{FreePort.Next()}} }] }, "page": { "port": {{port}} } }""");
        await Do("spot", "add", "mat", "--kind", "heat-mat");
        await Do("lot", "add", "pea-1", "--crop", "sweet-pea", "--seeds", "40", "--treated");
        await Do("sow", "sweet-pea", "--seeds", "9", "--spot", "mat", "--lot", "pea-1", "--name", "S1", "--when", "yesterday");
        await Do("read", "mat", "55C", "--sure");
        await using var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Danger: 55.0 °C on mat");
        await service.Line("Chamber is ready");
        var (mat, treated, poison) = (CautionBook.HeatMat, CautionBook.TreatedSeed,
            PoisonCaution.Of(CropCatalog.Shipped.Require("sweet-pea")).Single());

        await Shows("/", CautionBook.Fire.Full, mat.Full, CautionText.Deference);
        await Shows("/spots/mat", $"Caution: {mat.Line}", mat.Full, CautionBook.Fire.Full);
        await Shows("/spots", $"Caution: {mat.Line}");
        await Shows("/seeds/sow?lot=pea-1&spot=mat", $"Caution: {treated.Full}", $"Caution: {poison.Full}", $"Caution: {mat.Full}",
            "sow it as it is");
        await Shows("/seeds/lots/pea-1", $"Caution: {treated.Full}", $"Caution: {poison.Line}", $"Caution: {poison.Full}",
            "in damp mix, with gloves");
        await Shows("/seeds", $"Caution: {treated.Line}", $"Caution: {poison.Line}");
        await Shows("/batches/S1", $"Caution: {treated.Line}", $"Caution: {poison.Line}");
        await Shows("/cautions", [.. CautionBook.All.Append(poison).Select(caution => caution.Full)]);

        Assert.Contains(mat.Full, (await Api("spots/mat")).GetProperty("caution").GetString(), StringComparison.Ordinal);
        var alert = (await Api("alerts"))[0];
        Assert.Contains(CautionBook.Fire.Full, alert.GetProperty("caution").GetString(), StringComparison.Ordinal);
        Assert.Contains(mat.Line, alert.GetProperty("cautionLine").GetString(), StringComparison.Ordinal);
        Assert.Equal(["fire", "heat-mat"], alert.GetProperty("cautions").EnumerateArray().Select(name => name.GetString()!).Take(2));
        Assert.Contains(treated.Full, (await Api("lots/pea-1")).GetProperty("cautions").EnumerateArray().Select(text => text.GetString()));
        Assert.Equal(poison.Full, (await Api("cautions/crop-sweet-pea")).GetProperty("full").GetString());
        Assert.Equal("seed and pods are poisonous", (await Api("crops/sweet-pea")).GetProperty("hazards")[0]
            .GetProperty("words").GetString());
        using var sown = await http.PostAsync($"http://127.0.0.1:{port}/api/batches",
            new StringContent("""{ "crop": "sweet-pea", "seeds": 5, "spot": "mat", "lot": "pea-1" }""", Encoding.UTF8, "application/json"),
            TestContext.Current.CancellationToken);
        var cautions = JsonDocument.Parse(
            await sown.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)).RootElement.GetProperty("cautions");
        Assert.Equal(["treated-seed", "crop-sweet-pea", "heat-mat"],
            cautions.EnumerateArray().Select(caution => caution.GetProperty("name").GetString()!).Take(3));
    }

    private async Task Shows(string path, params string[] texts)
    {
        var page = WebUtility.HtmlDecode(
            await http.GetStringAsync($"http://127.0.0.1:{port}{path}", TestContext.Current.CancellationToken));
        Assert.All(texts, text => Assert.Contains(text, page, StringComparison.Ordinal));
    }

    private async Task<JsonElement> Api(string path) =>
        JsonDocument.Parse(
            await http.GetStringAsync($"http://127.0.0.1:{port}/api/{path}", TestContext.Current.CancellationToken)).RootElement;

    private async Task Do(params string[] arguments)
    {
        var result = await ChamberProcess.Run([.. arguments, "--data", folder.Path]);
        Assert.True(result.ExitCode == 0, result.Errors);
    }
}
