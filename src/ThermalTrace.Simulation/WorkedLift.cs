namespace ThermalTrace.Simulation;

/// <summary>
/// A pilot on the way home or above his ceiling may go round and round in lift without having meant to. Whoever watches
/// sees lift worked, turning in one place; so the truth calls it a climb, whatever the pilot had in mind.
/// </summary>
internal static class WorkedLift
{
    private const double TurnedRad = 3 * Math.PI; // a turn and a half, either way
    private const double LongestS = 18; // slower are legs with a turn at each end
    private const double PlaceShare = 0.35;       // of the path through the air that is left as distance

    /// <summary>Turns glides of that kind into climbs; nothing else changes.</summary>
    public static void Relabel(List<Moment> moments)
    {
        int count = moments.Count;
        double[] east = new double[count + 1], north = new double[count + 1], path = new double[count + 1], turned = new double[count + 1];
        double heading = double.NaN;
        for (int i = 0; i < count; i++)
        {
            Moment m = moments[i];
            double airEast = m.GroundEastMps - m.Air.EastMps, airNorth = m.GroundNorthMps - m.Air.NorthMps;
            double now = Math.Atan2(airEast, airNorth);
            east[i + 1] = east[i] + airEast * Glider.StepS;
            north[i + 1] = north[i] + airNorth * Glider.StepS;
            path[i + 1] = path[i] + double.Hypot(airEast, airNorth) * Glider.StepS;
            turned[i + 1] = turned[i] + (m.Phase == Phase.Glide && !double.IsNaN(heading) ? Math.Abs(Steering.Wrap(now - heading)) : 0);
            heading = now;
        }
        int from = 0, marked = 0, glideSince = 0;
        for (int to = 0; to < count; to++)
        {
            glideSince = moments[to].Phase == Phase.Glide || to < marked ? glideSince : to + 1;
            from = Math.Max(from, glideSince);
            while (from < to && turned[to + 1] - turned[from + 1] >= TurnedRad)
            {
                from++;
            }
            bool round = turned[to + 1] - turned[from] >= TurnedRad && (to - from) * Glider.StepS <= LongestS;
            bool here = double.Hypot(east[to + 1] - east[from], north[to + 1] - north[from]) < PlaceShare * (path[to + 1] - path[from]);
            if (!(round && here && moments[to].HeightM > moments[from].HeightM))
            {
                continue;
            }
            for (int i = Math.Max(from, marked); i <= to; i++)
            {
                moments[i] = moments[i] with { Phase = Phase.Climb };
            }
            marked = to + 1;
        }
    }
}
