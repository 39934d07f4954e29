using Microsoft.AspNetCore.Http;

namespace ThermalTrace.Pages.Serving;

/// <summary>Looks at every request before anything else does: meant for this machine, sent by these pages, from a browser that was let in.</summary>
internal sealed class Doorkeeper(Admission admission, int port)
{
    /// <summary>Where a browser comes in: <c>/open?word=…</c>.</summary>
    public const string OpenPath = "/open";

    // Nothing is fetched from elsewhere, no script but the program's own files; attributes of style carry places only, as the framework sets them.
    private const string PagesPolicy = "default-src 'none'; script-src 'self'; style-src-elem 'self'; style-src-attr 'unsafe-inline'; img-src 'self' data:; font-src data:; "
        + "connect-src 'self'; frame-src 'self'; form-action 'self'; base-uri 'self'; frame-ancestors 'self'";

    /// <summary>For pages that are a file of their own and carry a policy in their head: the header only says who may frame them.</summary>
    public const string SheetsPolicy = "frame-ancestors 'self'";

    private readonly string[] _hosts = [$"127.0.0.1:{port}", $"localhost:{port}"];

    /// <summary>A cookie belongs to a machine and not to a port: two programs side by side must not take each other's.</summary>
    public string CookieName { get; } = $"thermaltrace-{port}";

    /// <summary>Lets the request through to <paramref name="next"/>, or answers it.</summary>
    public async Task InvokeAsync(HttpContext context, RequestDelegate next)
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(next);
        HttpRequest request = context.Request;
        IHeaderDictionary headers = context.Response.Headers;
        headers.ContentSecurityPolicy = PagesPolicy;
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Cross-Origin-Embedder-Policy"] = "require-corp";
        headers["Permissions-Policy"] = "camera=(), microphone=(), geolocation=(), payment=(), usb=()";
        headers.CacheControl = "no-store";
        string host = request.Host.Value ?? "";
        if (!_hosts.Contains(host, StringComparer.OrdinalIgnoreCase))
        {
            // A name that was made to lead here is not this program's, whoever owns it.
            await Refuse(context, StatusCodes.Status421MisdirectedRequest, "These pages are on this machine alone.");
            return;
        }
        string own = $"http://{host}";
        if (request.Headers.Origin is { Count: > 0 } origin && (origin.Count > 1 || !own.Equals(origin[0], StringComparison.OrdinalIgnoreCase)))
        {
            await Refuse(context, StatusCodes.Status403Forbidden, "Another site may not ask here.");
            return;
        }
        if (request.Headers["Sec-Fetch-Site"] is { Count: > 0 } site && site.Any(s => s is not ("same-origin" or "none")))
        {
            await Refuse(context, StatusCodes.Status403Forbidden, "Another site may not ask here.");
            return;
        }
        if (request.Path == OpenPath && HttpMethods.IsGet(request.Method))
        {
            await Open(context);
            return;
        }
        if (!admission.Knows(request.Cookies[CookieName]))
        {
            await Refuse(context, StatusCodes.Status403Forbidden,
                "This browser was not let in. Open the address that the terminal shows; each works once, and the Enter key there shows a new one.");
            return;
        }
        await next(context);
    }

    private async Task Open(HttpContext context)
    {
        if (admission.Accept(context.Request.Query["word"]) is { } cookie)
        {
            context.Response.Cookies.Append(CookieName, cookie, new CookieOptions { HttpOnly = true, SameSite = SameSiteMode.Strict, Path = "/", IsEssential = true });
            context.Response.Redirect("/");
        }
        else if (admission.Knows(context.Request.Cookies[CookieName]))
        {
            // The same browser, by its back key or its history.
            context.Response.Redirect("/");
        }
        else
        {
            await Refuse(context, StatusCodes.Status403Forbidden, "This address was used already, or is of an earlier run. The Enter key in the terminal shows a new one.");
        }
    }

    private static Task Refuse(HttpContext context, int status, string why)
    {
        context.Response.StatusCode = status;
        context.Response.ContentType = "text/plain; charset=utf-8";
        return context.Response.WriteAsync(why + "\n");
    }
}
