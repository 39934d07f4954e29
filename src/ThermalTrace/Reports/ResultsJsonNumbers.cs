using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace ThermalTrace.Reports;

/// <summary>Rounds what is written so that files stay small and diffs calm; null stands for what is not a finite number.</summary>
internal sealed class RoundedNumberConverter : JsonConverter<double>
{
    public override bool HandleNull => true;

    public override double Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.TokenType == JsonTokenType.Null ? double.NaN : reader.GetDouble();

    public override void Write(Utf8JsonWriter writer, double value, JsonSerializerOptions options) => Write(writer, value);

    internal static void Write(Utf8JsonWriter writer, double value)
    {
        if (double.IsFinite(value))
        {
            writer.WriteNumberValue(Rounded(value));
        }
        else
        {
            writer.WriteNullValue();
        }
    }

    /// <summary>
    /// To six significant digits, or to thousandths where that is finer: seconds since the start of a day-long log keep
    /// their milliseconds.
    /// </summary>
    internal static double Rounded(double value)
    {
        double rounded = Math.Abs(value) >= 1000
            ? Math.Round(value, 3)
            : double.Parse(value.ToString("G6", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return rounded == 0 ? 0 : rounded; // a negative zero would read as a sign that means something
    }
}

/// <summary>A value and its bounds are null together.</summary>
internal sealed class IntervalConverter : JsonConverter<Interval>
{
    public override Interval Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        if (reader.TokenType != JsonTokenType.StartObject)
        {
            throw new JsonException("an object with value, low and high was expected");
        }

        double? value = null, low = null, high = null;
        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            string? name = reader.GetString();
            reader.Read();
            switch (name)
            {
                case "value": value = Number(ref reader); break;
                case "low": low = Number(ref reader); break;
                case "high": high = Number(ref reader); break;
                default: reader.TrySkip(); break; // Skip refuses while more of the stream is to come, though this value is all here
            }
        }

        return new Interval(value, low, high);
    }

    public override void Write(Utf8JsonWriter writer, Interval value, JsonSerializerOptions options)
    {
        bool known = value is { Value: { } v, Low: { } l, High: { } h } && double.IsFinite(v) && double.IsFinite(l) && double.IsFinite(h);
        writer.WriteStartObject();
        Member(writer, "value", known ? value.Value : null);
        Member(writer, "low", known ? value.Low : null);
        Member(writer, "high", known ? value.High : null);
        writer.WriteEndObject();
    }

    private static double? Number(ref Utf8JsonReader reader) => reader.TokenType switch
    {
        JsonTokenType.Null => null,
        JsonTokenType.Number => reader.GetDouble(),
        _ => throw new JsonException("a number or null was expected"),
    };

    private static void Member(Utf8JsonWriter writer, string name, double? number)
    {
        writer.WritePropertyName(name);
        RoundedNumberConverter.Write(writer, number ?? double.NaN);
    }
}
