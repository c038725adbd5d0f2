using System.Collections.Concurrent;
using System.Net;
using System.Text;
using Chamber.Fuzz;
using Chamber.Service.Tests.Web.Api;
using Chamber.Testing;

namespace Chamber.Service.Tests.Fuzz;

/// <summary>Bad bodies and addresses to the API and to the sign-in of the running program, by seed (tests/cases/fuzz/api.txt): a refusal of
/// its own, and never a fault of the service.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class ApiFuzzTests(ITestOutputHelper output)
{
    // What asks other servers, lets people in so that others must sign in, or fits for long.
    private static readonly string[] Elsewhere =
        ["/api/people", "/api/home-network", "/api/tokens", "/api/guests", "/api/notices", "/api/broker/listen", "/api/trials"];

    [Fact]
    public async Task A_bad_body_or_address_is_refused_and_is_no_fault()
    {
        await using var rig = await ApiRig.Start();
        var mutation = new Mutation("api.txt",
            from call in ApiModuleTests.Calls
            where call.Body is not null && !Elsewhere.Any(start => call.Path.StartsWith(start, StringComparison.Ordinal))
            select $"{call.Method} {call.Path} {call.Body}");
        var answers = new ConcurrentDictionary<HttpStatusCode, int>();
        await Parallel.ForAsync(0, FuzzTests.Inputs, new ParallelOptions { MaxDegreeOfParallelism = 4 }, async (seed, cancel) =>
        {
            var words = Encoding.UTF8.GetString(mutation.Of(seed)).Split(' ', 3);
            var method = words[0] is "GET" or "DELETE" or "PUT" or "PATCH" ? words[0] : "POST";
            if (words.Length < 3 || !Uri.TryCreate(rig.Address, words[1], out var address) || address.Authority != rig.Address.Authority)
            {
                return;
            }

            using var answer = await rig.Call(method, address.AbsoluteUri, method == "GET" ? null : words[2]);
            answers.AddOrUpdate(answer.StatusCode, 1, (_, seen) => seen + 1);
            Assert.True(answer.StatusCode < HttpStatusCode.InternalServerError,
                $"seed {seed}: {method} {address.PathAndQuery} {words[2]} -> {(int)answer.StatusCode}");
        });
        output.WriteLine(string.Join(", ", answers.OrderBy(seen => seen.Key).Select(seen => $"{(int)seen.Key}: {seen.Value}")));
        using var page = await rig.Call("GET", "/api/home");
        Assert.Equal(HttpStatusCode.OK, page.StatusCode);
    }
}
