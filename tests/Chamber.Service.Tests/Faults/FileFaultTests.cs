using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using Chamber.Storage;
using Chamber.Testing;
using MQTTnet;
using MQTTnet.Protocol;
using NodaTime;

namespace Chamber.Service.Tests.Faults;

/// <summary>
/// The built program with a file of its directory broken between two starts, by tests/cases/faults/files.csv: it is told what is wrong,
/// and danger is told as before. Settings and readings are invented.
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class FileFaultTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly int port = FreePort.Next();

    public static TheoryData<string, string, string> Cases()
    {
        var cases = new TheoryData<string, string, string>();
        foreach (var line in FaultCases.Of("files.csv"))
        {
            cases.Add(line[0], line[1], line[2].Replace(';', ','));
        }

        return cases;
    }

    public void Dispose() => folder.Dispose();

    [Theory]
    [MemberData(nameof(Cases))]
    public async Task A_broken_file_is_told_and_danger_is_told_as_before(string file, string holds, string told)
    {
        WriteHome();
        await using (var first = await Ready())
        {
            first.AskToStop();
            await first.End();
        }

        folder.Write(file, holds);
        await using var service = await Ready();
        if (told.Length > 0)
        {
            await service.Line(told);
        }

        using var client = new MqttClientFactory().CreateMqttClient();
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).Build(),
            TestContext.Current.CancellationToken);
        await client.PublishStringAsync("chamber/soil/reading", """{ "temperature": 55.5 }""", MqttQualityOfServiceLevel.AtLeastOnce,
            cancellationToken: TestContext.Current.CancellationToken);
        await service.Line("Danger: 55.5 °C on mat");
    }

    private async Task<RunningProgram> Ready()
    {
        var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Chamber is ready");
        return service;
    }

    private void WriteHome()
    {
        Certificate("own");
        Certificate("sensors");
        folder.Write("crops.json", """{ "leek": { "band": { "low": "16C", "high": "21C" } } }""");
        folder.Write("chamber.json", $$"""
            { "broker": { "listen": [ { "port": {{port}} }, { "port": {{FreePort.Next()}}, "tls": true },
                { "port": {{FreePort.Next()}}, "certificate": "sensors.pem", "key": "sensors-key.pem" } ] },
              "page": { "port": {{FreePort.Next()}}, "certificate": "own.pem", "key": "own-key.pem" } }
            """);
        using var store = ChamberStore.Open(folder.File("chamber.db"));
        store.Ledger.SetUp.Save(new Spot(new("mat"), SpotKind.HeatMat, LightLevel.Dim, 2));
        store.Ledger.SetUp.Save(new ProbeEntry(new(new("soil"), Measurand.Media, Duration.FromHours(2))));
        store.Ledger.SetUp.Put(new("soil"), new("mat"), Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow()));
    }

    private void Certificate(string name)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var now = TimeProvider.System.GetUtcNow();
        using var made = new CertificateRequest($"CN={name}", key, HashAlgorithmName.SHA256).CreateSelfSigned(now, now.AddDays(1));
        folder.Write($"{name}.pem", made.ExportCertificatePem());
        folder.Write($"{name}-key.pem", key.ExportPkcs8PrivateKeyPem());
    }
}
