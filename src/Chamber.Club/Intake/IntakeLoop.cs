using Chamber.Club.Store;
using Microsoft.Extensions.Logging;
using MQTTnet.Exceptions;

namespace Chamber.Club.Intake;

/// <summary>Takes a free slot, receives by it for as long as it holds, and begins again: with the next process that ends, or the
/// database or the broker that comes back.</summary>
public sealed partial class IntakeLoop(ClubDatabase database, ClubIntake intake, int slots, TimeProvider time, ILogger<IntakeLoop> logger)
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(1);

    public async Task RunAsync(CancellationToken cancel)
    {
        while (!cancel.IsCancellationRequested)
        {
            try
            {
                if (await IntakeSlot.TryTakeAsync(database, slots, cancel) is { } slot)
                {
                    await using (slot)
                    {
                        await intake.RunAsync(slot, cancel);
                    }
                }

                await Task.Delay(Pause, time, cancel);
            }
            catch (OperationCanceledException) when (cancel.IsCancellationRequested)
            {
                return;
            }
            catch (Exception problem) when (problem is StoreException or MqttCommunicationException)
            {
                Waits(logger, problem.Message);
                await Task.Delay(Pause, time, CancellationToken.None);
            }
        }
    }

    [LoggerMessage(LogLevel.Warning, "Receiving waits: {Problem}")]
    private static partial void Waits(ILogger logger, string problem);
}
