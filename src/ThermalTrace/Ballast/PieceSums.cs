namespace ThermalTrace.Ballast;

/// <summary>Which masses the kinds from one on can make: a bit for each whole number of units. Length is not looked at.</summary>
internal sealed class PieceSums
{
    private readonly ulong[][] _from;
    private readonly int _most;

    /// <summary>Builds the tables, the last kind's first.</summary>
    /// <param name="kinds">The kinds.</param>
    /// <param name="mostUnits">Heavier sums are left out.</param>
    public PieceSums(IReadOnlyList<PieceKind> kinds, int mostUnits)
    {
        _most = mostUnits;
        _from = new ulong[kinds.Count + 1][];
        ulong[] sums = new ulong[mostUnits / 64 + 1];
        sums[0] = 1;
        _from[kinds.Count] = sums;
        for (int k = kinds.Count - 1; k >= 0; k--)
        {
            sums = (ulong[])sums.Clone();
            // One, two, four … of the kind, then the rest: every number from none to all is a sum of these.
            int left = kinds[k].Count;
            for (int part = 1; left > 0; part = Math.Min(2 * part, left))
            {
                part = Math.Min(part, left);
                AddShifted(sums, (long)part * kinds[k].MassUnits);
                left -= part;
            }
            _from[k] = sums;
        }
    }

    /// <summary>True where the kinds from <paramref name="kind"/> on can make a sum between the two, bounds included.</summary>
    public bool Any(int kind, int low, int high)
    {
        low = Math.Max(low, 0);
        high = Math.Min(high, _most);
        ulong[] sums = _from[kind];
        for (int word = low / 64; low <= high && word <= high / 64; word++)
        {
            ulong bits = sums[word];
            if (word == low / 64)
            {
                bits &= ulong.MaxValue << (low % 64);
            }
            if (word == high / 64)
            {
                bits &= ulong.MaxValue >> (63 - high % 64);
            }
            if (bits != 0)
            {
                return true;
            }
        }
        return false;
    }

    /// <summary>The sums of all kinds between the two, rising.</summary>
    public IEnumerable<int> Between(int low, int high)
    {
        for (int sum = Math.Max(low, 0); sum <= Math.Min(high, _most); sum++)
        {
            ulong word = _from[0][sum / 64];
            if (word == 0)
            {
                sum |= 63;
            }
            else if ((word >> (sum % 64) & 1) != 0)
            {
                yield return sum;
            }
        }
    }

    /// <summary>sums |= sums shifted up by so many bits; from above, so that each word is read before it is written.</summary>
    private void AddShifted(ulong[] sums, long by)
    {
        if (by > _most)
        {
            return;
        }
        int words = (int)(by / 64), bits = (int)(by % 64);
        for (int i = sums.Length - 1; i >= words; i--)
        {
            ulong moved = sums[i - words] << bits;
            if (bits > 0 && i > words)
            {
                moved |= sums[i - words - 1] >> (64 - bits);
            }
            sums[i] |= moved;
        }
    }
}
