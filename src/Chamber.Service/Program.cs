using System.Runtime.InteropServices;
using System.Text;
using Chamber.Service.Commands;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Workers;

Console.OutputEncoding = Encoding.UTF8;
OwnFiles.CloseToOthers();

// The first Ctrl-C (or a service manager's stop) lets the verb finish tidily, the second ends it at once.
using var stop = new CancellationTokenSource();
using var interrupted = PosixSignalRegistration.Create(PosixSignal.SIGINT, Stop);
using var terminated = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop);
return await CommandLine.Run(args, CommandContext.OfProcess(), stop.Token);

void Stop(PosixSignalContext signal)
{
    if (!stop.IsCancellationRequested)
    {
        signal.Cancel = true;
        StopDeadline.Start(ExitCode.Interrupted);
        stop.Cancel();
    }
}
