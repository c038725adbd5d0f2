using System.Globalization;
using System.Net;
using System.Text;
using Chamber.Service.Tests.Web.Api;
using Chamber.Testing;

namespace Chamber.Service.Tests.Fuzz;

/// <summary>Bad bodies and addresses to the API and to the sign-in of the running program, by seed (tests/cases/fuzz/api.txt): a refusal of
/// its own, and never a fault of the service. A tenth of CHAMBER_FUZZ, since each is a request.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class ApiFuzzTests
{
    private static readonly int Inputs =
        int.Parse(Environment.GetEnvironmentVariable("CHAMBER_FUZZ") ?? "10000", CultureInfo.InvariantCulture) / 10;

    [Fact]
    public async Task A_bad_body_or_address_is_refused_and_is_no_fault()
    {
        await using var rig = await ApiRig.Start();
        var mutation = new Mutation("api.txt");
        await Parallel.ForAsync(0, Inputs, new ParallelOptions { MaxDegreeOfParallelism = 4 }, async (seed, cancel) =>
        {
            var words = Encoding.UTF8.GetString(mutation.Of(seed)).Split(' ', 3);
            var method = words[0] is "GET" or "DELETE" or "PUT" ? words[0] : "POST";
            if (words.Length < 3 || !Uri.TryCreate(rig.Address, words[1], out var address) || address.Authority != rig.Address.Authority)
            {
                return;
            }

            using var answer = await rig.Call(method, address.PathAndQuery, method == "GET" ? null : words[2]);
            Assert.True(answer.StatusCode < HttpStatusCode.InternalServerError,
                $"seed {seed}: {method} {address.PathAndQuery} {words[2]} -> {(int)answer.StatusCode}");
        });
        using var page = await rig.Call("GET", "/api/home");
        Assert.Equal(HttpStatusCode.OK, page.StatusCode);
    }
}
