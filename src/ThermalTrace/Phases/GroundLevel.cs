using ThermalTrace.Tracks;

namespace ThermalTrace.Phases;

/// <summary>Where the ground is under a track: levels at which the model stood still, joined by straight lines in time.</summary>
internal static class GroundLevel
{
    private const double QuietS = 4;          // long enough that a hovering model would have moved
    private const double NeighbourhoodS = 1200;
    private const double HighestStepM = 12;   // a landing may lie this much above the launch point
    private const double SureStepM = 3, LongQuietS = 15; // higher than this only what is quiet for long stands

    /// <summary>Altitude of the ground at every grid point, m, on the track's scale.</summary>
    public static double[] Find(Track track)
    {
        int count = track.Count;
        int half = Math.Max(1, (int)Math.Round(QuietS / 2 / track.StepS));
        double range = Math.Clamp(5 * track.AltitudeNoiseM, 0.8, 2.0);
        List<(int Index, double Altitude)> quiet = [];
        for (int i = half; i < count - half; i += half)
        {
            double low = double.PositiveInfinity, high = double.NegativeInfinity, fastest = 0;
            for (int k = i - half; k <= i + half; k++)
            {
                low = Math.Min(low, track.SmoothAltitudeM[k]);
                high = Math.Max(high, track.SmoothAltitudeM[k]);
                if (track.Ground is { } ground)
                {
                    fastest = Math.Max(fastest, Math.Sqrt(ground.EastMps[k] * ground.EastMps[k] + ground.NorthMps[k] * ground.NorthMps[k]));
                }
            }
            if (high - low < range && fastest < 1.5)
            {
                quiet.Add((i, 0.5 * (low + high)));
            }
        }
        // A model that hovers into the wind in weak lift is quiet too, but high above where it stood before or after.
        List<(int Index, double Altitude)> standing = [];
        for (int q = 0; q < quiet.Count; q++)
        {
            (int index, double altitude) = quiet[q];
            double lowest = altitude;
            int from = Math.Max(0, index - (int)(NeighbourhoodS / track.StepS));
            int to = Math.Min(count - 1, index + (int)(NeighbourhoodS / track.StepS));
            for (int k = from; k <= to; k += half)
            {
                lowest = Math.Min(lowest, track.SmoothAltitudeM[k]);
            }
            int first = q, last = q;
            while (first > 0 && quiet[first].Index - quiet[first - 1].Index == half && (quiet[q].Index - quiet[first].Index) * track.StepS < LongQuietS)
            {
                first--;
            }
            while (last + 1 < quiet.Count && quiet[last + 1].Index - quiet[last].Index == half && (quiet[last].Index - quiet[q].Index) * track.StepS < LongQuietS)
            {
                last++;
            }
            bool isLong = (quiet[last].Index - quiet[first].Index) * track.StepS + QuietS >= LongQuietS;
            if (altitude - lowest < (isLong ? HighestStepM : SureStepM))
            {
                standing.Add((index, altitude));
            }
        }
        double[] level = new double[count];
        if (standing.Count == 0)
        {
            Array.Fill(level, track.SmoothAltitudeM.Min());
            return level;
        }
        int next = 0;
        for (int i = 0; i < count; i++)
        {
            while (next < standing.Count && standing[next].Index < i)
            {
                next++;
            }
            if (next == 0 || next == standing.Count)
            {
                level[i] = standing[Math.Min(next, standing.Count - 1)].Altitude;
                continue;
            }
            (int a, double la) = standing[next - 1];
            (int b, double lb) = standing[next];
            level[i] = la + (lb - la) * (i - a) / (b - a);
        }
        return level;
    }
}
