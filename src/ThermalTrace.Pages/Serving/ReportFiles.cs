using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using ThermalTrace.Pages.Desk;
using ThermalTrace.Reports;

namespace ThermalTrace.Pages.Serving;

/// <summary>The last debrief's documents, as the command writes them: made from what is in memory, not read from the disk.</summary>
internal static class ReportFiles
{
    /// <summary>Adds their addresses.</summary>
    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapGet("/" + DebriefJob.ReportName, (HttpContext context, FolderDesk desk) =>
        {
            if (desk.Debrief is not { } debrief)
            {
                return None();
            }
            // The report's own head allows it no script at all.
            context.Response.Headers.ContentSecurityPolicy = Doorkeeper.SheetsPolicy;
            StringBuilder text = new();
            using StringWriter writer = new(text) { NewLine = "\n" };
            ReportHtml.Write(writer, debrief.Result.Document, debrief.Contents);
            return Results.Text(text.ToString(), "text/html; charset=utf-8", Encoding.UTF8);
        });
        routes.MapGet("/" + DebriefJob.ResultsName, (FolderDesk desk) =>
        {
            if (desk.Debrief is not { } debrief)
            {
                return None();
            }
            using MemoryStream bytes = new();
            ResultsJson.Write(bytes, debrief.Result.Document);
            return Results.Bytes(bytes.ToArray(), "application/json");
        });
    }

    private static IResult None() => Results.Text("There is no debrief yet; the page Answer makes one.\n", "text/plain; charset=utf-8", Encoding.UTF8, StatusCodes.Status404NotFound);
}
