using System.Text.Json;
using System.Text.Json.Serialization;

namespace ThermalTrace.Learning;

/// <summary>Writes numbers in full: what later estimation adds up must not be rounded on the way.</summary>
internal sealed class ExactNumbersConverter : JsonConverter<IReadOnlyList<double>>
{
    public override IReadOnlyList<double> Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        if (reader.TokenType != JsonTokenType.StartArray)
        {
            throw new JsonException("a list of numbers was expected");
        }

        var numbers = new List<double>();
        while (reader.Read() && reader.TokenType != JsonTokenType.EndArray)
        {
            numbers.Add(reader.TokenType == JsonTokenType.Number ? reader.GetDouble() : throw new JsonException("a number was expected"));
        }

        return numbers;
    }

    public override void Write(Utf8JsonWriter writer, IReadOnlyList<double> value, JsonSerializerOptions options)
    {
        writer.WriteStartArray();
        foreach (double number in value)
        {
            writer.WriteNumberValue(number);
        }

        writer.WriteEndArray();
    }
}
