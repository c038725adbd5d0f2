using Chamber.Testing;

namespace Chamber.Browser.Tests.Rig;

/// <summary>
/// A desktop that shows notices and on which somebody taps each at once: a session bus (Debian's dbus-daemon) with a server of the
/// Desktop Notifications Specification 1.2 (freedesktop.org). The browser shows its notices there, as on any Linux desktop.
/// </summary>
public sealed class Desktop : IAsyncDisposable
{
    // A real desktop's server wants a screen. "default" is the specification's name for a tap on the notice itself.
    private const string Server = """
        import dbus, dbus.service, dbus.mainloop.glib
        from gi.repository import GLib
        dbus.mainloop.glib.DBusGMainLoop(set_as_default=True)
        NAME = "org.freedesktop.Notifications"

        class Server(dbus.service.Object):
            shown = 0

            @dbus.service.method(NAME, out_signature="ssss")
            def GetServerInformation(self):
                return "desktop", "tests", "1", "1.2"

            @dbus.service.method(NAME, out_signature="as")
            def GetCapabilities(self):
                return ["actions", "body"]

            @dbus.service.method(NAME, in_signature="susssasa{sv}i", out_signature="u")
            def Notify(self, program, replaces, icon, title, body, actions, hints, timeout):
                self.shown += 1
                print("shown:", title, "|", " ".join(body.split()), flush=True)
                GLib.idle_add(self.ActionInvoked, dbus.UInt32(self.shown), "default")
                return self.shown

            @dbus.service.method(NAME, in_signature="u")
            def CloseNotification(self, notice):
                self.NotificationClosed(notice, dbus.UInt32(3))

            @dbus.service.signal(NAME, signature="us")
            def ActionInvoked(self, notice, action):
                pass

            @dbus.service.signal(NAME, signature="uu")
            def NotificationClosed(self, notice, reason):
                pass

        bus = dbus.SessionBus()
        name = dbus.service.BusName(NAME, bus)
        server = Server(bus, "/org/freedesktop/Notifications")
        print("ready", flush=True)
        GLib.MainLoop().run()
        """;

    private readonly RunningProgram bus;
    private readonly RunningProgram server;

    private Desktop(RunningProgram bus, RunningProgram server, string address) => (this.bus, this.server, Address) = (bus, server, address);

    /// <summary>Where programs of this desktop find its bus.</summary>
    public string Address { get; }

    public static async Task<Desktop> Start()
    {
        var bus = RunningProgram.Start("dbus-daemon", ["--session", "--nofork", "--nopidfile", "--print-address"]);
        var address = await bus.Line("unix:");
        var server = RunningProgram.Start("/usr/bin/python3", ["-"], Server,
            new Dictionary<string, string?> { ["DBUS_SESSION_BUS_ADDRESS"] = address });
        await server.Line("ready");
        return new(bus, server, address);
    }

    /// <summary>Title and text of the first notice that was shown.</summary>
    public async Task<string> Shown() => (await server.Line("shown: "))["shown: ".Length..];

    public async ValueTask DisposeAsync()
    {
        await server.DisposeAsync();
        await bus.DisposeAsync();
    }
}
