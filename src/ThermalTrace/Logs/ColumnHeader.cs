namespace ThermalTrace.Logs;

/// <summary>What a column's header says.</summary>
/// <param name="Text">The header as the file has it.</param>
/// <param name="Meanings">What it may measure, best first; empty where not understood.</param>
/// <param name="UnitText">The unit's name as found; empty where there is none.</param>
internal sealed record ColumnHeader(string Text, IReadOnlyList<HeaderMeaning> Meanings, string UnitText)
{
    private const string Opening = "[({<", Closing = "])}>";

    /// <summary>Brackets that hold a remark, not a unit.</summary>
    private static readonly HashSet<string> Remarks = new(StringComparer.OrdinalIgnoreCase)
    {
        "utc", "gmt", "local", "iso", "iso8601", "iso 8601", "gps", "gnss", "baro", "barometric", "msl", "amsl", "asl", "agl", "rel", "abs", "raw", "std",
        "qnh", "qne", "qfe", "wgs84", "wgs-84", "true", "mag", "avg", "filt", "filtered", "est", "calc", "int", "log", "text", "float", "double", "iso2533",
        "launch", "takeoff", "1013.25", "n", "e", "up", "+n", "+e", "lat lon", "lat,lon", "lat, lon", "lat/lon", "lat-lon", "24h", "wgs", "horizontal", "vertical",
    };

    /// <summary>Reads a header; a unit from a units row wins over silence and nothing else.</summary>
    public static ColumnHeader Read(string text, string unitsRow = "")
    {
        ColumnHeader header = Read(text.Trim());
        string unit = unitsRow.Trim().Trim('[', ']', '(', ')', '{', '}', '<', '>').Trim();
        return header.UnitText.Length > 0 || unit.Length == 0 || IsRemark(unit) ? header : header with { UnitText = unit };
    }

    private static ColumnHeader Read(string text)
    {
        (string name, string inside) = SplitBrackets(text);
        if (inside.Length > 0)
        {
            HeaderMeaning[] outside = HeaderWords.Find(name);
            if (IsRemark(inside) || UnitWords.All(inside).Length == 0 && HeaderWords.Find(name + " " + inside).Length > 0)
            {
                HeaderMeaning[] both = HeaderWords.Find(name + " " + inside);
                return new ColumnHeader(text, both.Length > 0 ? both : outside, "");
            }
            if (outside.Length == 0)
            {
                outside = [.. ReadBare(name).Meanings];
            }
            return new ColumnHeader(text, outside, inside);
        }
        return ReadBare(text);
    }

    /// <summary>A name without brackets: the unit may follow a comma, slash, colon or <c>in</c>, or be its last words.</summary>
    private static ColumnHeader ReadBare(string text)
    {
        HeaderMeaning[] whole = HeaderWords.Find(text);
        foreach (string separator in (string[])[",", "/", ":", " in ", "|", ";"])
        {
            int at = text.IndexOf(separator, 1 <= text.Length ? 1 : 0, StringComparison.OrdinalIgnoreCase);
            if (at > 0 && at + separator.Length < text.Length)
            {
                string unit = text[(at + separator.Length)..].Trim();
                HeaderMeaning[] left = HeaderWords.Find(text[..at]);
                if (left.Length > 0 && Array.Exists(left, m => Quantities.FindUnit(unit, m.Quantity) is not null))
                {
                    return new ColumnHeader(text, left, unit);
                }
            }
        }
        if (whole.Length > 0 && whole[0].Rank == 0)
        {
            return new ColumnHeader(text, whole, "");
        }
        List<string> tokens = HeaderWords.Tokens(text);
        for (int tail = Math.Min(4, tokens.Count - 1); tail >= 1; tail--)
        {
            string name = string.Join(' ', tokens[..^tail]);
            string[] end = [.. tokens[^tail..]];
            HeaderMeaning[] left = HeaderWords.Find(name);
            if (left.Length == 0)
            {
                continue;
            }
            foreach (string unit in (string[])[string.Concat(end), string.Join('/', end), string.Join("", end[..^1]) + "/" + end[^1]])
            {
                if (Array.Exists(left, m => Quantities.FindUnit(unit, m.Quantity) is not null && m.Quantity is not (Quantity.Camber or Quantity.Date or Quantity.Clock or Quantity.Motor)
                    || m.Quantity == Quantity.Motor && UnitWords.Find(unit, Dimension.Fraction) is not null))
                {
                    return new ColumnHeader(text, left, unit);
                }
            }
        }
        if (whole.Length > 0)
        {
            return new ColumnHeader(text, whole, "");
        }
        string key = string.Concat(tokens);
        for (int tail = Math.Min(4, key.Length - 1); tail >= 1; tail--)
        {
            HeaderMeaning[] left = HeaderWords.Find(key[..^tail]);
            string unit = key[^tail..];
            if (Array.Exists(left, m => m.Quantity is not (Quantity.Camber or Quantity.Date or Quantity.Clock or Quantity.Motor) && Quantities.FindUnit(unit, m.Quantity) is not null))
            {
                return new ColumnHeader(text, left, unit);
            }
        }
        return new ColumnHeader(text, [], "");
    }

    private static (string Name, string Inside) SplitBrackets(string text)
    {
        int close = text.LastIndexOfAny([']', ')', '}', '>']);
        if (close <= 0)
        {
            return (text, "");
        }
        int open = text.LastIndexOf(Opening[Closing.IndexOf(text[close], StringComparison.Ordinal)], close);
        if (open < 0)
        {
            return (text, "");
        }
        string name = (text[..open] + " " + text[(close + 1)..]).Trim();
        return (name, text[(open + 1)..close].Trim());
    }

    /// <summary>True for remarks and for format hints such as <c>hh:mm:ss</c>.</summary>
    private static bool IsRemark(string inside) =>
        Remarks.Contains(inside)
        || inside.Length >= 4 && UnitWords.All(inside).Length == 0
           && inside.All(c => "hmsydfHMSYDFTZ:.-/ °'\"+,".Contains(c, StringComparison.Ordinal))
           && (inside.Contains("hh", StringComparison.OrdinalIgnoreCase) || inside.Contains("mm", StringComparison.OrdinalIgnoreCase)
               || inside.Contains("yy", StringComparison.OrdinalIgnoreCase) || inside.Contains("dd", StringComparison.OrdinalIgnoreCase));
}
