using System.Net;
using System.Net.Sockets;
using System.Text;
using Microsoft.Playwright;
using ThermalTrace.Pages.Serving;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Pages;

/// <summary>Who is let in, and what is refused: every attack is tried on the served pages themselves.</summary>
[Collection(ChromiumTests.Name)]
public sealed class DoorTests(Chromium chromium)
{
    [Fact]
    public async Task Address_LetsOneBrowserIn_Once()
    {
        await using Served served = await Served.Start();
        Uri address = served.Server.Invite();
        (HttpStatusCode status, string cookie) = await served.Open(address);
        Assert.Equal(HttpStatusCode.Redirect, status);
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Equal(HttpStatusCode.OK, (await served.Get("/", cookie: cookie.Split(';')[0])).Status);
        Assert.Equal(HttpStatusCode.Forbidden, (await served.Open(address)).Status);
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/flights")]
    [InlineData("/report.html")]
    [InlineData("/assets/base.css")]
    [InlineData("/_framework/blazor.web.js")]
    [InlineData("/_blazor/negotiate")]
    [InlineData("/open")]
    [InlineData("/open?word=")]
    [InlineData("/open?word=0000000000000000000000000000000000000000000000000000000000000000")]
    public async Task Request_WithoutTheCookie_IsRefused(string path)
    {
        await using Served served = await Served.Start();
        served.Server.Invite();
        Answered answer = await served.Get(path);
        Assert.Equal(HttpStatusCode.Forbidden, answer.Status);
        Assert.DoesNotContain(Path.GetFileName(served.Files.Root), answer.Body, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Forbidden, (await served.Get(path, cookie: $"thermaltrace-{served.Server.Port}=guessed")).Status);
    }

    [Theory]
    [InlineData("pages.example")]
    [InlineData("127.0.0.1.example")]
    [InlineData("127.0.0.1")]
    [InlineData("127.0.0.1:1")]
    [InlineData("localhost")]
    [InlineData("[::1]:{0}")]
    [InlineData("0.0.0.0:{0}")]
    [InlineData("user@127.0.0.1:{0}")]
    public async Task Host_ThatIsNotThisServers_IsRefused(string host)
    {
        await using Served served = await Served.Start();
        string cookie = await served.LetIn();
        Answered answer = await served.Get("/", cookie, host: host.Replace("{0}", $"{served.Server.Port}", StringComparison.Ordinal));
        Assert.True(answer.Status is HttpStatusCode.MisdirectedRequest or HttpStatusCode.BadRequest, $"{answer.Status}");
        // An invitation is not used up by a name that was made to lead here.
        Uri address = served.Server.Invite();
        Assert.NotEqual(HttpStatusCode.Redirect, (await served.Get(address.PathAndQuery, host: "pages.example")).Status);
        Assert.Equal(HttpStatusCode.Redirect, (await served.Get(address.PathAndQuery)).Status);
    }

    [Theory]
    [InlineData("Origin", "http://pages.example")]
    [InlineData("Origin", "http://127.0.0.1:1")]
    [InlineData("Origin", "null")]
    [InlineData("Sec-Fetch-Site", "cross-site")]
    [InlineData("Sec-Fetch-Site", "same-site")]
    public async Task Request_OfAnotherSite_IsRefused_EvenWithTheCookie(string header, string value)
    {
        await using Served served = await Served.Start();
        string cookie = await served.LetIn();
        foreach (string path in (string[])["/", "/_blazor/negotiate?negotiateVersion=1"])
        {
            Assert.Equal(HttpStatusCode.Forbidden, (await served.Get(path, cookie, (header, value))).Status);
        }
    }

    [Theory]
    [InlineData("/../secret.txt")]
    [InlineData("/..%2fsecret.txt")]
    [InlineData("/%2e%2e/secret.txt")]
    [InlineData("/assets/../../secret.txt")]
    [InlineData("/assets/..%5c..%5csecret.txt")]
    [InlineData("/assets/%2e%2e%2f%2e%2e%2fsecret.txt")]
    [InlineData("/session/airframe.json")]
    [InlineData("/airframe.json")]
    [InlineData("/_framework/../airframe.json")]
    [InlineData("//etc/passwd")]
    [InlineData("/etc/passwd")]
    public async Task Path_LeadsToNoFileOfTheDisk(string path)
    {
        await using Served served = await Served.Start();
        File.WriteAllText(Path.Combine(served.Files.Root, "secret.txt"), "a secret");
        Answered answer = await served.Get(path, await served.LetIn());
        Assert.True(answer.Status is HttpStatusCode.NotFound or HttpStatusCode.BadRequest or HttpStatusCode.OK, $"{answer.Status}");
        Assert.DoesNotContain("a secret", answer.Body, StringComparison.Ordinal);
        Assert.DoesNotContain("unballasted_mass_g\": 262", answer.Body, StringComparison.Ordinal);
        Assert.DoesNotContain("root:", answer.Body, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/_blazor/negotiate?negotiateVersion=1")]
    [InlineData("/")]
    public async Task Body_OfThreeGigabytes_IsRefusedBeforeItIsRead(string path)
    {
        await using Served served = await Served.Start();
        string cookie = await served.LetIn();
        const long size = 3_000_000_000;
        using TcpClient client = new();
        await client.ConnectAsync(IPAddress.Loopback, served.Server.Port);
        await using NetworkStream stream = client.GetStream();
        await stream.WriteAsync(Encoding.ASCII.GetBytes($"POST {path} HTTP/1.1\r\nHost: 127.0.0.1:{served.Server.Port}\r\nCookie: {cookie}\r\nContent-Type: text/plain\r\nContent-Length: {size}\r\n\r\n"));
        long sent = 0;
        byte[] part = new byte[1_000_000];
        try
        {
            // A server that reads on would take all of it.
            while (sent < 200_000_000 && !stream.DataAvailable)
            {
                await stream.WriteAsync(part);
                sent += part.Length;
            }
        }
        catch (IOException)
        {
            // The door was shut while we were talking, which is as good an answer.
        }
        Assert.True(sent < 100_000_000, $"{sent} bytes were taken");
    }

    [Fact]
    public async Task Server_ListensOnLoopbackAlone()
    {
        await using Served served = await Served.Start();
        IPAddress[] others = [.. System.Net.NetworkInformation.NetworkInterface.GetAllNetworkInterfaces().SelectMany(n => n.GetIPProperties().UnicastAddresses)
            .Select(a => a.Address).Where(a => a.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(a))];
        Assert.DoesNotContain(System.Net.NetworkInformation.IPGlobalProperties.GetIPGlobalProperties().GetActiveTcpListeners(),
            l => l.Port == served.Server.Port && !IPAddress.IsLoopback(l.Address));
        foreach (IPAddress other in others)
        {
            using TcpClient client = new();
            await Assert.ThrowsAnyAsync<SocketException>(() => client.ConnectAsync(other, served.Server.Port));
        }
    }

    [Fact]
    public async Task Policy_AllowsNoInlineScript_AndNothingFromElsewhere()
    {
        await using Served served = await Served.Start();
        Answered answer = await served.Get("/", await served.LetIn());
        Assert.Contains("Content-Security-Policy: default-src 'none'; script-src 'self';", answer.Head, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe-eval", answer.Head, StringComparison.Ordinal);
        Assert.DoesNotContain("Access-Control-Allow", answer.Head, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("X-Content-Type-Options: nosniff", answer.Head, StringComparison.Ordinal);
        Assert.Single(answer.Head.Split('\n'), l => l.StartsWith("Content-Security-Policy:", StringComparison.OrdinalIgnoreCase));
    }

    [ChromiumFact]
    public async Task Pages_InABrowser_BreakNoRuleOfTheirOwn()
    {
        await using OpenPages pages = await OpenPages.Of(chromium, TempFolder.WithQuietSession());
        foreach (string address in (string[])["", "flights", "answer", "season"])
        {
            await pages.Show(address);
        }
        Assert.Empty(pages.Complaints);
    }

    [ChromiumFact]
    public async Task AnotherSite_InTheSameBrowser_CanNeitherReadNorFrameThePages()
    {
        await using OpenPages pages = await OpenPages.Of(chromium, TempFolder.WithQuietSession());
        await using Served other = await Served.Start();
        // The other program's pages stand for any other site: same machine, another port.
        IPage page = await pages.Page.Context.NewPageAsync();
        await page.GotoAsync(other.Server.Invite().AbsoluteUri);
        string read = await page.EvaluateAsync<string>($$"""
            () => fetch("http://127.0.0.1:{{pages.Server.Port}}/", { credentials: "include" }).then(r => r.text(), e => "refused")
            """);
        Assert.Equal("refused", read);
    }

    /// <summary>An answer as it came over the wire.</summary>
    private sealed record Answered(HttpStatusCode Status, string Head, string Body);

    /// <summary>Pages served without a browser; requests are written by hand, since a client would mend the bad ones.</summary>
    private sealed class Served : IAsyncDisposable
    {
        private Served(TempFolder files, PagesServer server) => (Files, Server) = (files, server);

        public TempFolder Files { get; }

        public PagesServer Server { get; }

        public static async Task<Served> Start()
        {
            TempFolder files = TempFolder.WithQuietSession();
            return new Served(files, await PagesServer.StartAsync(files.Session, Path.Combine(files.Root, "logbook.sqlite")));
        }

        public async Task<string> LetIn() => (await Open(Server.Invite())).Cookie.Split(';')[0];

        public async Task<(HttpStatusCode Status, string Cookie)> Open(Uri address)
        {
            Answered answer = await Get(address.PathAndQuery);
            string? line = answer.Head.Split("\r\n").FirstOrDefault(l => l.StartsWith("Set-Cookie:", StringComparison.OrdinalIgnoreCase));
            return (answer.Status, line?["Set-Cookie:".Length..].Trim() ?? "");
        }

        public async Task<Answered> Get(string path, string? cookie = null, (string Name, string Value)? header = null, string? host = null)
        {
            using TcpClient client = new();
            await client.ConnectAsync(IPAddress.Loopback, Server.Port);
            await using NetworkStream stream = client.GetStream();
            string more = (cookie is null ? "" : $"Cookie: {cookie}\r\n") + (header is null ? "" : $"{header.Value.Name}: {header.Value.Value}\r\n");
            await stream.WriteAsync(Encoding.ASCII.GetBytes($"GET {path} HTTP/1.1\r\nHost: {host ?? $"127.0.0.1:{Server.Port}"}\r\n{more}Connection: close\r\n\r\n"));
            using StreamReader reader = new(stream);
            string[] parts = (await reader.ReadToEndAsync()).Split("\r\n\r\n", 2);
            return new Answered((HttpStatusCode)int.Parse(parts[0].Split(' ')[1], System.Globalization.CultureInfo.InvariantCulture), parts[0], parts[^1]);
        }

        public async ValueTask DisposeAsync()
        {
            await Server.DisposeAsync();
            Files.Dispose();
        }
    }
}
