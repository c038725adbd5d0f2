using System.Text;
using Microsoft.Playwright;

namespace Chamber.Browser.Tests.Rig;

/// <summary>The first message of a page to the server that says something is held on its way, as on a slow network.</summary>
public sealed class HeldMessage
{
    private readonly TaskCompletionSource held = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly List<Action> waiting = [];
    private bool isHolding;
    private bool isDone;

    private HeldMessage()
    {
    }

    /// <summary>Ends when the message has set out.</summary>
    public Task IsHeld => held.Task;

    /// <param name="page">The page, before it is opened.</param>
    /// <param name="saying">What the message contains.</param>
    /// <param name="alone">Whether later messages overtake it; otherwise they wait behind it.</param>
    public static async Task<HeldMessage> On(IPage page, string saying, bool alone)
    {
        var message = new HeldMessage();
        await page.RouteWebSocketAsync("**/_blazor**", socket =>
        {
            var server = socket.ConnectToServer();
            socket.OnMessage(frame => message.Pass(frame, saying, alone, () =>
            {
                if (frame.Binary is { } bytes)
                {
                    server.Send(bytes);
                }
                else
                {
                    server.Send(frame.Text!);
                }
            }));
        });
        return message;
    }

    /// <summary>The message arrives, and what waits behind it.</summary>
    public void LetGo()
    {
        lock (waiting)
        {
            (isHolding, isDone) = (false, true);
            waiting.ForEach(send => send());
            waiting.Clear();
        }
    }

    private void Pass(IWebSocketFrame frame, string saying, bool alone, Action send)
    {
        lock (waiting)
        {
            var isIt = !isDone && !isHolding && frame.Binary is { } bytes && Encoding.Latin1.GetString(bytes).Contains(saying,
                StringComparison.Ordinal);
            if (isIt || (isHolding && !alone))
            {
                waiting.Add(send);
                isHolding = true;
            }
            else
            {
                send();
            }
        }

        if (isHolding)
        {
            held.TrySetResult();
        }
    }
}
