using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Unicode;

namespace ThermalTrace.Reports.Page;

/// <summary>Markup that is safe to put into a page as it stands.</summary>
internal readonly record struct Html(string Source)
{
    public static readonly Html Empty = new("");

    /// <summary>Markup from an interpolated string: its literal text is trusted, every hole is escaped unless it is markup already.</summary>
    public static Html Of(Markup markup) => new(markup.ToString());

    public static Html Join(IEnumerable<Html> parts) => new(string.Concat(parts.Select(p => p.Source)));

    /// <summary>Words that came from outside: kept from acting on the direction of the text around them.</summary>
    public static Html Foreign(string? text) => Of($"<bdi>{Words.Tame(text ?? "")}</bdi>");

    public override string ToString() => Source;
}

/// <summary>Builds <see cref="Html"/>; numbers must be formatted before they come here, so that none slips in unrounded.</summary>
[InterpolatedStringHandler]
internal readonly struct Markup(int literalLength, int formattedCount)
{
    private static readonly HtmlEncoder Encoder = HtmlEncoder.Create(UnicodeRanges.All);

    private readonly StringBuilder text = new(literalLength + 16 * formattedCount);

    public void AppendLiteral(string trusted) => text.Append(trusted);

    public void AppendFormatted(string? untrusted) => text.Append(Escape(untrusted ?? ""));

    public void AppendFormatted(Html markup) => text.Append(markup.Source);

    public void AppendFormatted(int number) => text.Append(number.ToString(CultureInfo.InvariantCulture));

    public override string ToString() => text.ToString();

    /// <summary>Text that means itself between tags and between double quotes.</summary>
    public static string Escape(string text) => Encoder.Encode(text);
}
