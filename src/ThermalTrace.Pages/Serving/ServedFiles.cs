using System.Reflection;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace ThermalTrace.Pages.Serving;

/// <summary>The files that pages are made with; all stand in the assembly, so that no path leads to the disk.</summary>
internal static class ServedFiles
{
    private static readonly Assembly Own = typeof(ServedFiles).Assembly;

    /// <summary>Adds one address for each.</summary>
    public static void Map(IEndpointRouteBuilder routes)
    {
        foreach (string name in Own.GetManifestResourceNames().Where(n => n.StartsWith("ThermalTrace.Pages.Assets.", StringComparison.Ordinal)))
        {
            string file = name["ThermalTrace.Pages.Assets.".Length..];
            Map(routes, file == "blazor.web.js" ? "/_framework/blazor.web.js" : "/assets/" + file, Bytes(name), TypeOf(file));
        }
        Map(routes, "/assets/report.css", System.Text.Encoding.UTF8.GetBytes(Reports.PageStyle.Text()), TypeOf("report.css"));
    }

    private static void Map(IEndpointRouteBuilder routes, string address, byte[] bytes, string type) =>
        routes.MapGet(address, () => Results.Bytes(bytes, type));

    private static byte[] Bytes(string name)
    {
        using Stream stream = Own.GetManifestResourceStream(name)!;
        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    private static string TypeOf(string file) => Path.GetExtension(file) switch
    {
        ".css" => "text/css; charset=utf-8",
        ".js" => "text/javascript; charset=utf-8",
        ".svg" => "image/svg+xml",
        _ => "application/octet-stream",
    };
}
