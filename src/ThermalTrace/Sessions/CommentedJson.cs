using System.Globalization;
using System.Text;
using System.Text.Json;

namespace ThermalTrace.Sessions;

/// <summary>
/// A JSON value that remembers its line, because a person who edits a file wants to be told where. The framework's
/// documents do not keep positions; its reader does, so this is a thin tree over it.
/// </summary>
/// <param name="Kind">Of the token that began it.</param>
/// <param name="Line">Counted from 1.</param>
/// <param name="Text">A string's or number's text; empty for the others.</param>
/// <param name="Members">An object's members in file order.</param>
/// <param name="Items">An array's items.</param>
internal sealed record CommentedJson(JsonTokenType Kind, int Line, string Text,
    IReadOnlyList<(string Key, int Line, CommentedJson Value)> Members, IReadOnlyList<CommentedJson> Items)
{
    /// <summary>Parses text with comments and trailing commas.</summary>
    /// <exception cref="Units.UnusableInputException">Not JSON; the message has file and line.</exception>
    public static CommentedJson Parse(string text, Complaints complaints)
    {
        byte[] utf8 = Encoding.UTF8.GetBytes(text.TrimStart('\uFEFF'));
        if (string.IsNullOrWhiteSpace(text.TrimStart('\uFEFF')))
        {
            complaints.Fail(0, "is empty; expected a JSON object { … }");
        }
        Utf8JsonReader reader = new(utf8, new JsonReaderOptions
        {
            CommentHandling = JsonCommentHandling.Skip,
            AllowTrailingCommas = true,
            MaxDepth = 16,
        });
        try
        {
            LineCounter lines = new(utf8);
            reader.Read();
            CommentedJson root = Value(ref reader, lines, complaints);
            reader.Read();
            return root;
        }
        catch (JsonException broken)
        {
            int line = (int)(broken.LineNumber ?? 0) + 1;
            complaints.Fail(line, string.Create(CultureInfo.InvariantCulture,
                $"is not JSON at column {(broken.BytePositionInLine ?? 0) + 1}: {Plainly(broken.Message)}"));
            throw;
        }
        catch (InvalidOperationException)
        {
            complaints.Fail(0, "has an escape in a string that is not Unicode text");
            throw;
        }
    }

    private static CommentedJson Value(ref Utf8JsonReader reader, LineCounter lines, Complaints complaints)
    {
        int line = lines.At(reader.TokenStartIndex);
        JsonTokenType kind = reader.TokenType;
        switch (kind)
        {
            case JsonTokenType.StartObject:
                List<(string, int, CommentedJson)> members = [];
                HashSet<string> seen = new(StringComparer.Ordinal);
                while (reader.Read() && reader.TokenType != JsonTokenType.EndObject)
                {
                    string key = reader.GetString()!;
                    int keyLine = lines.At(reader.TokenStartIndex);
                    reader.Read();
                    CommentedJson value = Value(ref reader, lines, complaints);
                    if (!seen.Add(key))
                    {
                        complaints.Add(keyLine, $"the key \"{key}\" stands there twice");
                    }
                    members.Add((key, keyLine, value));
                }
                return new CommentedJson(kind, line, "", members, []);
            case JsonTokenType.StartArray:
                List<CommentedJson> items = [];
                while (reader.Read() && reader.TokenType != JsonTokenType.EndArray)
                {
                    items.Add(Value(ref reader, lines, complaints));
                }
                return new CommentedJson(kind, line, "", [], items);
            case JsonTokenType.String:
                return new CommentedJson(kind, line, reader.GetString()!, [], []);
            default:
                return new CommentedJson(kind, line, Encoding.UTF8.GetString(reader.ValueSpan), [], []);
        }
    }

    /// <summary>What it is, in words for a message.</summary>
    public string Described => Kind switch
    {
        JsonTokenType.String => $"the text \"{Text}\"",
        JsonTokenType.Number => $"the number {Text}",
        JsonTokenType.StartObject => "an object { … }",
        JsonTokenType.StartArray => "a list [ … ]",
        JsonTokenType.Null => "null",
        _ => Text,
    };

    /// <summary>The framework appends the position, which the message already has.</summary>
    private static string Plainly(string message)
    {
        int position = message.IndexOf(" LineNumber:", StringComparison.Ordinal);
        return position < 0 ? message : message[..position];
    }

    /// <summary>Counts lines up to a byte, going forward only.</summary>
    private sealed class LineCounter(byte[] utf8)
    {
        private int _line = 1;
        private int _seen;

        public int At(long position)
        {
            for (; _seen < position; _seen++)
            {
                if (utf8[_seen] == (byte)'\n')
                {
                    _line++;
                }
            }
            return _line;
        }
    }
}
