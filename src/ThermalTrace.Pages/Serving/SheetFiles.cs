using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using ThermalTrace.Pages.Desk;
using ThermalTrace.Reports;
using ThermalTrace.Units;

namespace ThermalTrace.Pages.Serving;

/// <summary>The sheets to print, each a page of its own: <c>/card.html</c>, <c>/plan.html</c>, <c>/pieces.html</c>, <c>/stick.html</c>, the question in the address.</summary>
internal static class SheetFiles
{
    /// <summary>Adds one address for each.</summary>
    public static void Map(IEndpointRouteBuilder routes)
    {
        foreach (string kind in Sheet.Kinds)
        {
            routes.MapGet($"/{kind}.html", (HttpContext context, SeasonDesk season) => Answer(kind, context, season));
        }
    }

    private static async Task<IResult> Answer(string kind, HttpContext context, SeasonDesk season)
    {
        TypedForm form = new(name => [.. context.Request.Query[name].OfType<string>()]);
        try
        {
            byte[] bytes = await season.SheetAsync(kind, form, kind + context.Request.QueryString.Value, context.RequestAborted);
            // The sheet says itself what it may load; its scripts are none of the pages'.
            context.Response.Headers.ContentSecurityPolicy = Doorkeeper.SheetsPolicy;
            return Results.Bytes(bytes, "text/html; charset=utf-8");
        }
        catch (WrongUsageException wrong)
        {
            return Complaint(kind, OptionNames.AsFields(wrong.Message), StatusCodes.Status400BadRequest);
        }
        catch (UnusableInputException unusable)
        {
            return Complaint(kind, OptionNames.AsFields(unusable.Message), StatusCodes.Status422UnprocessableEntity);
        }
        catch (OperationCanceledException)
        {
            return Complaint(kind, "Cancelled; load the page again to have it made.", StatusCodes.Status503ServiceUnavailable);
        }
    }

    private static IResult Complaint(string kind, string sentence, int status)
    {
        string text = System.Text.Encodings.Web.HtmlEncoder.Default.Encode(sentence);
        return Results.Text($"""
            <!DOCTYPE html>
            <html lang="en">
            <head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="light dark"><title>No {kind}</title>
            <link rel="stylesheet" href="/assets/report.css"><link rel="stylesheet" href="/assets/base.css"></head>
            <body><main class="page"><p class="complaint">{text}</p></main></body>
            </html>

            """, "text/html; charset=utf-8", Encoding.UTF8, status);
    }
}
