using System.Text.RegularExpressions;

namespace ThermalTrace.Reports;

/// <summary>Sentences that name an option of the command line, said in a page, where the field of that name is meant.</summary>
public static partial class OptionNames
{
    /// <summary>"--wind-height 0.5m is outside …" becomes "Wind height 0.5m is outside …"; a command that is quoted to be typed stays, and so does the option that pages are started with.</summary>
    public static string AsFields(string sentence)
    {
        ArgumentNullException.ThrowIfNull(sentence);
        return Option().Replace(sentence, found => !found.Groups[1].Success ? found.Value
            : StartsSentence(sentence, found.Index) ? Words.Capital(found.Groups[1].Value.Replace('-', ' '))
            : found.Groups[1].Value.Replace('-', ' '));
    }

    private static bool StartsSentence(string sentence, int at) => at == 0 || (at > 1 && sentence[at - 1] == ' ' && sentence[at - 2] == '.');

    [GeneratedRegex("\"thermaltrace [^\"]*\"|--logbook FILE|(?<![\\w-])--([a-z]+(?:-[a-z]+)*)")]
    private static partial Regex Option();
}
