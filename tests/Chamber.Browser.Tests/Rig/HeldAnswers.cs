using System.Text;
using System.Threading.Channels;
using Chamber.Testing;
using Microsoft.Playwright;

namespace Chamber.Browser.Tests.Rig;

/// <summary>What the server has the page show is held on its way, as on a slow network.</summary>
public sealed class HeldAnswers
{
    private readonly Channel<bool> arrived = Channel.CreateUnbounded<bool>();
    private readonly Queue<(bool IsShown, Action Send)> waiting = [];
    private bool isHolding;

    private HeldAnswers()
    {
    }

    /// <param name="page">The page, before it is opened.</param>
    public static async Task<HeldAnswers> On(IPage page)
    {
        var answers = new HeldAnswers();
        await page.RouteWebSocketAsync("**/_blazor**", socket => socket.ConnectToServer().OnMessage(frame =>
        {
            var isShown = frame.Binary is { } bytes && Encoding.Latin1.GetString(bytes).Contains("RenderBatch", StringComparison.Ordinal);
            answers.Pass(isShown, () =>
            {
                if (frame.Binary is { } binary)
                {
                    socket.Send(binary);
                }
                else
                {
                    socket.Send(frame.Text!);
                }
            });
        }));
        return answers;
    }

    public void Hold()
    {
        lock (waiting)
        {
            isHolding = true;
        }
    }

    /// <summary>Ends when so many more changes of the page are held.</summary>
    public async Task Holds(int changes)
    {
        for (var change = 0; change < changes; change++)
        {
            await Wait.For("a change of the page is held", arrived.Reader.ReadAsync().AsTask());
        }
    }

    /// <summary>The first change arrives; those after it go on waiting.</summary>
    public void LetOneGo()
    {
        lock (waiting)
        {
            for (var isLast = false; !isLast && waiting.TryDequeue(out var answer); isLast = answer.IsShown)
            {
                answer.Send();
            }
        }
    }

    public void LetGo()
    {
        lock (waiting)
        {
            isHolding = false;
            while (waiting.TryDequeue(out var answer))
            {
                answer.Send();
            }
        }
    }

    private void Pass(bool isShown, Action send)
    {
        lock (waiting)
        {
            if (!isHolding)
            {
                send();
                return;
            }

            waiting.Enqueue((isShown, send));
        }

        if (isShown)
        {
            arrived.Writer.TryWrite(true);
        }
    }
}
