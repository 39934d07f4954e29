namespace ThermalTrace.Sessions;

/// <summary>Finds what a person probably meant to write.</summary>
internal static class NearestName
{
    /// <summary>
    /// A hint to put behind a complaint about a name: the nearest known one, or all of them where none is near.
    /// Starts with "; " or is empty where nothing is known.
    /// </summary>
    public static string Hint(string found, IReadOnlyCollection<string> known)
    {
        if (known.Count == 0)
        {
            return "";
        }
        (string Name, int Distance) best = known
            .Select(name => (Name: name, Distance: Distance(found.ToLowerInvariant(), name.ToLowerInvariant())))
            .MinBy(candidate => candidate.Distance);
        return best.Distance <= Math.Max(2, best.Name.Length / 2)
            ? $"; did you mean \"{best.Name}\"?"
            : $"; the nearest known is \"{best.Name}\", known are: {string.Join(", ", known.Take(30))}";
    }

    /// <summary>Levenshtein's distance: fewest single-character insertions, deletions and replacements (Levenshtein 1966).</summary>
    private static int Distance(string a, string b)
    {
        // A hostile name of a million characters must not cost a million rows.
        const int longest = 100;
        ReadOnlySpan<char> first = a.AsSpan(0, Math.Min(a.Length, longest)), second = b.AsSpan(0, Math.Min(b.Length, longest));
        int[] previous = new int[second.Length + 1], current = new int[second.Length + 1];
        for (int j = 0; j <= second.Length; j++)
        {
            previous[j] = j;
        }
        for (int i = 1; i <= first.Length; i++)
        {
            current[0] = i;
            for (int j = 1; j <= second.Length; j++)
            {
                int replace = previous[j - 1] + (first[i - 1] == second[j - 1] ? 0 : 1);
                current[j] = Math.Min(replace, Math.Min(previous[j], current[j - 1]) + 1);
            }
            (previous, current) = (current, previous);
        }
        return previous[second.Length];
    }
}
