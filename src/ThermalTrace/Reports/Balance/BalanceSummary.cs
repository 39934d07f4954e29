using System.Globalization;
using System.Text;

namespace ThermalTrace.Reports.Balance;

/// <summary>What was found on a terminal, and last the lines for airframe.json; plain text without colour.</summary>
public static class BalanceSummary
{
    /// <summary>The text, lines ended by LF.</summary>
    /// <param name="document">What was found.</param>
    /// <param name="width">Columns of the terminal; taken as at least 40 and at most 100.</param>
    public static string Write(BalanceDocument document, int width)
    {
        ArgumentNullException.ThrowIfNull(document);
        int columns = Math.Clamp(width, 40, 100);
        StringBuilder text = new();
        void Say(string paragraph, string hanging = "") => PlainSummary.Paragraph(text, PlainSummary.Together(Words.Tame(paragraph)), columns, hanging);
        Say($"{document.Airframe.Name}: {BalanceSentences.Headline(document)}");
        text.Append('\n');
        foreach (string finding in BalanceSentences.Findings(document))
        {
            Say(finding, "  ");
        }
        text.Append('\n');
        if (document.Weighed is not null)
        {
            Say("Places are aft of the wing root's leading edge.");
        }
        Say($"In brackets, bounds that hold 9 times in 10, as do the errors taken: {string.Join("; ", document.ErrorsTaken)}.");
        Listed("Mind:", document.Cautions);
        Listed("What this could not know:", document.Limits);
        string[] lines = [.. Lines(document.AirframeValues)];
        if (lines.Length > 0)
        {
            text.Append('\n');
            Say($"For airframe.json{(document.AirframeValues.UnballastedMassG is not null ? ", once the mass is sure" : "")}:");
            text.Append(string.Concat(lines.Select(line => $"  {line}\n")));
        }
        return text.ToString();

        void Listed(string head, IReadOnlyList<string> said)
        {
            if (said.Count == 0)
            {
                return;
            }
            text.Append('\n');
            Say(head);
            foreach (string line in said)
            {
                Say("- " + line, "  ");
            }
        }
    }

    /// <summary>As they stand in the file.</summary>
    private static IEnumerable<string> Lines(AirframeValuesEntry values)
    {
        if (values.UnballastedMassG is { } mass)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"\"unballasted_mass_g\": {mass:0.##},");
        }
        if (values.CgMm is { } cg)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"\"cg_mm\": {cg:0.##},");
        }
        if (values.PitchInertiaKgM2 is { } inertia)
        {
            yield return $"\"pitch_inertia_kg_m2\": {Estimate.Number(inertia, BalanceSentences.InertiaDecimals(inertia))},";
        }
    }
}
