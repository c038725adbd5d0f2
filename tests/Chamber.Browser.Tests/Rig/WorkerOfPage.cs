using System.Text.Json;
using Chamber.Testing;
using Microsoft.Playwright;

namespace Chamber.Browser.Tests.Rig;

/// <summary>A service worker, by the developer tools of the browser (Chrome DevTools Protocol, domain ServiceWorker).</summary>
public sealed class WorkerOfPage
{
    private readonly ICDPSession tools;
    private readonly string origin;
    private readonly string registration;

    private WorkerOfPage(ICDPSession tools, string origin, string registration) =>
        (this.tools, this.origin, this.registration) = (tools, origin, registration);

    public static async Task<WorkerOfPage> Find(ICDPSession tools, string origin)
    {
        var found = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        tools.Event("ServiceWorker.workerVersionUpdated").OnEvent += (_, told) =>
        {
            foreach (var version in told!.Value.GetProperty("versions").EnumerateArray()
                .Where(version => version.GetProperty("status").GetString() == "activated" && version.GetProperty("scriptURL")
                .GetString()!.StartsWith(origin, StringComparison.Ordinal)))
            {
                found.TrySetResult(version.GetProperty("registrationId").GetString()!);
            }
        };
        await tools.SendAsync("ServiceWorker.enable");
        return new(tools, origin, await Wait.For("the worker of the page", found.Task));
    }

    /// <summary>Hands over a message as the push service of the browser's maker would.</summary>
    public Task<JsonElement?> Push(string data) =>
        tools.SendAsync("ServiceWorker.deliverPushMessage",
            new Dictionary<string, object> { ["origin"] = origin, ["registrationId"] = registration, ["data"] = data });
}
