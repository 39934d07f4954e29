using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using ThermalTrace.Pages.Components;
using ThermalTrace.Pages.Desk;

namespace ThermalTrace.Pages.Serving;

/// <summary>The pages of one folder, served on this machine alone until disposed.</summary>
public sealed class PagesServer : IAsyncDisposable
{
    // A form's few fields; logs come in small parts through the open connection.
    private const long LargestBody = 1_000_000;
    private static readonly TimeSpan LongestFarewell = TimeSpan.FromSeconds(2);

    private readonly WebApplication _app;
    private readonly FolderDesk _desk;
    private readonly Admission _admission;

    private PagesServer(WebApplication app, FolderDesk desk, Admission admission, int port) => (_app, _desk, _admission, Port) = (app, desk, admission, port);

    /// <summary>The port of 127.0.0.1 that is listened to.</summary>
    public int Port { get; }

    /// <summary>The desk that the pages share.</summary>
    internal FolderDesk Desk => _desk;

    /// <summary>Starts to serve.</summary>
    /// <param name="folder">The session's folder; must be there.</param>
    /// <param name="logbook">The logbook's file as typed; null for its usual place.</param>
    /// <param name="port">0 for any that is free.</param>
    /// <param name="cancel">Ends the starting.</param>
    /// <exception cref="IOException">The port cannot be had.</exception>
    public static async Task<PagesServer> StartAsync(string folder, string? logbook = null, int port = 0, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(folder);
        // Known before anything is served, since cookie and addresses name it.
        int free = port == 0 ? FreePort() : port;
        FolderDesk desk = new(folder, logbook);
        Admission admission = new();
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { EnvironmentName = "Production", ContentRootPath = AppContext.BaseDirectory });
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = LargestBody;
            kestrel.Listen(IPAddress.Loopback, free, listen => listen.Protocols = HttpProtocols.Http1);
        });
        builder.Services.AddRazorComponents().AddInteractiveServerComponents(options =>
        {
            options.DetailedErrors = false;
            options.MaxBufferedUnacknowledgedRenderBatches = 20;
        }).AddHubOptions(hub => hub.MaximumReceiveMessageSize = 256 * 1024);
        builder.Services.AddAntiforgery(options => options.Cookie.Name = $"thermaltrace-form-{free}");
        builder.Services.AddSingleton(desk);
        builder.Services.AddSingleton<FlightDesk>();
        builder.Services.AddSingleton(TimeProvider.System);
        builder.Services.AddSingleton<SeasonDesk>();
        builder.Services.AddSingleton<AnswerDesk>();
        builder.Services.Configure<Microsoft.Extensions.Hosting.HostOptions>(host => host.ShutdownTimeout = LongestFarewell);
        WebApplication app = builder.Build();
        Doorkeeper doorkeeper = new(admission, free);
        app.Use((context, next) => doorkeeper.InvokeAsync(context, next));
        app.UseRouting();
        app.UseAntiforgery();
        ServedFiles.Map(app);
        SheetFiles.Map(app);
        ReportFiles.Map(app);
        app.MapRazorComponents<WholePage>().AddInteractiveServerRenderMode(options => options.ContentSecurityFrameAncestorsPolicy = null);
        try
        {
            await app.StartAsync(cancel);
        }
        catch
        {
            await app.DisposeAsync();
            desk.Dispose();
            throw;
        }
        _ = desk.OpenAsync();
        return new PagesServer(app, desk, admission, free);
    }

    /// <summary>A new address that lets one browser in, once.</summary>
    public Uri Invite() => new($"http://127.0.0.1:{Port}{Doorkeeper.OpenPath}?word={_admission.Invite()}");

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        _desk.Dispose();
        using CancellationTokenSource soon = new(LongestFarewell);
        try
        {
            await _app.StopAsync(soon.Token);
        }
        catch (OperationCanceledException)
        {
            // A page that is still open does not keep the program.
        }
        await _app.DisposeAsync();
    }

    private static int FreePort()
    {
        using System.Net.Sockets.Socket socket = new(System.Net.Sockets.AddressFamily.InterNetwork, System.Net.Sockets.SocketType.Stream, System.Net.Sockets.ProtocolType.Tcp);
        socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        return ((IPEndPoint)socket.LocalEndPoint!).Port;
    }
}
