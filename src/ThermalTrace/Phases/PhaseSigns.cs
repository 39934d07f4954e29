using ThermalTrace.Tracks;
using ThermalTrace.Units;

namespace ThermalTrace.Phases;

/// <summary>What one step of a track shows. NaN is not known.</summary>
/// <param name="LiftMps">Vertical speed of the air about the model: rate of energy height, less what this airframe loses at this airspeed and turn rate.</param>
/// <param name="CircleLiftMps">The same, mean over the circle that is being flown, or over as much of it as turns the same way.</param>
/// <param name="Turns">Full turns of the stretch that turns the same way without a stop; 0 in straight flight.</param>
/// <param name="VerticalMps">Rate of change of height, up is positive.</param>
/// <param name="TurnRadps">Turn rate through the air, clockwise is positive.</param>
/// <param name="SpeedMps">Over the ground.</param>
/// <param name="HeightM">Above the ground.</param>
/// <param name="Motor">1 running, 0 off, NaN without a motor channel.</param>
internal readonly record struct PhaseSigns(double LiftMps, double CircleLiftMps, double Turns, double VerticalMps, double TurnRadps, double SpeedMps,
    double HeightM, double Motor);

/// <summary>The signs of a track, step by step, and what is usual on it.</summary>
/// <param name="Steps">The signs.</param>
/// <param name="Stride">Grid points to a step.</param>
/// <param name="UsualAirspeedMps">Median in the air; NaN without position.</param>
/// <param name="LiftSpreadMps">How far the lift of straight glides scatters about none.</param>
internal sealed record TrackSigns(PhaseSigns[] Steps, int Stride, double UsualAirspeedMps, double LiftSpreadMps)
{
    private const double LookStepS = 0.4;    // no phase begins or ends more sharply
    private const double HalfDifferenceS = 0.8;
    private const double BlindCircleS = 8;   // without position: lift that lasts less is not worked

    /// <summary>Reads them.</summary>
    /// <param name="track">The track.</param>
    /// <param name="groundLevel">Altitude of the ground at every grid point, m.</param>
    public static TrackSigns Of(Track track, double[] groundLevel)
    {
        int count = track.Count;
        bool[] airborne = new bool[count];
        double[] heightM = new double[count];
        for (int i = 0; i < count; i++)
        {
            heightM[i] = track.SmoothAltitudeM[i] - groundLevel[i];
            airborne[i] = heightM[i] > 4 && Math.Abs(track.VerticalSpeedMps[i]) < 3.5;
        }
        double[] energyMps = (double[])track.VerticalSpeedMps.Clone();
        double[] turn = new double[count], airspeed = new double[count];
        Array.Fill(turn, double.NaN);
        Array.Fill(airspeed, double.NaN);
        if (track.Ground is { } ground)
        {
            MotionThroughAir(track, ground, heightM, airborne, energyMps, turn, airspeed);
        }
        RoughPolar polar = RoughPolar.Fit(energyMps, turn, airspeed, airborne, heightM, track.StepS);
        Habits habits = Habits.Usual(polar.UsualAirspeedMps, null);
        double[] lift = new double[count];
        for (int i = 0; i < count; i++)
        {
            lift[i] = energyMps[i] + polar.SinkMps(airspeed[i], turn[i]);
        }
        (double[] circleLift, double[] turns) = OverTheCircle(lift, turn, habits, track.StepS);

        // A setting in per cent, a speed in rpm or a current: running is anything clearly above the least the channel shows.
        double running = track.Motor is null ? double.NaN : 0.05 * Math.Max(1e-9, track.Motor.Where(m => !double.IsNaN(m)).DefaultIfEmpty(0).Max());
        int stride = Math.Max(1, (int)Math.Round(LookStepS / track.StepS));
        PhaseSigns[] steps = new PhaseSigns[(count + stride - 1) / stride];
        for (int t = 0; t < steps.Length; t++)
        {
            int i = Math.Min(t * stride, count - 1);
            double speed = track.Ground is { } g ? double.Hypot(g.EastMps[i], g.NorthMps[i]) : double.NaN;
            double motor = track.Motor is null || double.IsNaN(track.Motor[i]) ? double.NaN : track.Motor[i] > running ? 1 : 0;
            steps[t] = new PhaseSigns(lift[i], circleLift[i], turns[i], track.VerticalSpeedMps[i], turn[i], speed, heightM[i], motor);
        }
        return new TrackSigns(steps, stride, polar.UsualAirspeedMps, polar.SpreadMps);
    }

    /// <summary>Fills energy rate, turn rate and airspeed from motion less a rough wind, each from differences over about 1.6 s.</summary>
    private static void MotionThroughAir(Track track, GroundMotion ground, double[] heightM, bool[] airborne, double[] energyMps, double[] turn, double[] airspeed)
    {
        (double[] windEast, double[] windNorth) = RoughWind.Find(ground, heightM, airborne, track.StepS);
        int half = Math.Max(1, (int)Math.Round(HalfDifferenceS / track.StepS));
        double over = 2 * half * track.StepS;
        for (int i = half; i < track.Count - half; i++)
        {
            double x0 = ground.EastMps[i - half] - windEast[i - half], y0 = ground.NorthMps[i - half] - windNorth[i - half];
            double x1 = ground.EastMps[i + half] - windEast[i + half], y1 = ground.NorthMps[i + half] - windNorth[i + half];
            double v0 = Math.Sqrt(x0 * x0 + y0 * y0), v1 = Math.Sqrt(x1 * x1 + y1 * y1);
            if (airborne[i])
            {
                airspeed[i] = 0.5 * (v0 + v1);
                energyMps[i] += Math.Clamp((v1 * v1 - v0 * v0) / (2 * PhysicalConstants.StandardGravityMps2 * over), -3, 3);
            }
            if (Math.Min(v0, v1) > 2 && ground.VarianceM2ps2[i] < 4)
            {
                turn[i] = Math.Atan2(x1 * y0 - y1 * x0, x0 * x1 + y0 * y1) / over;
            }
        }
    }

    /// <summary>
    /// Half a circle sinks where the other half rises, so lift is judged by the circle: the mean over half a circle either
    /// way, as far as the model turns the same way without a stop. Straight flight keeps a second either way.
    /// </summary>
    private static (double[] LiftMps, double[] Turns) OverTheCircle(double[] lift, double[] turn, Habits habits, double stepS)
    {
        int count = lift.Length;
        double[] sum = new double[count + 1];
        for (int i = 0; i < count; i++)
        {
            sum[i + 1] = sum[i] + lift[i];
        }
        int reach = Math.Max(1, (int)Math.Round(Math.PI / habits.CircleRadps / stepS));
        int shortest = Math.Max(1, (int)Math.Round(1 / stepS)), blind = Math.Max(1, (int)Math.Round(BlindCircleS / 2 / stepS));
        int[] way = new int[count];
        for (int i = 0; i < count; i++)
        {
            way[i] = double.IsNaN(turn[i]) ? 2 : turn[i] > 0.3 * habits.TurnRadps ? 1 : turn[i] < -0.3 * habits.TurnRadps ? -1 : 0;
        }
        double[] result = new double[count], turns = new double[count];
        for (int first = 0; first < count;)
        {
            int end = first + 1, still = 0;
            // A moment's straightening within a circle, to move it over, does not end it.
            for (int k = first + 1; k < count && way[first] != 0 && still <= 2 * shortest; k++)
            {
                still = way[k] == way[first] ? 0 : still + 1;
                end = still == 0 ? k + 1 : way[k] == -way[first] || way[k] == 2 ? int.MaxValue : end;
                if (end == int.MaxValue)
                {
                    end = k - still + 1;
                    break;
                }
            }
            double angle = 0;
            for (int i = first; i < end && Math.Abs(way[first]) == 1; i++)
            {
                angle += double.IsNaN(turn[i]) ? 0 : turn[i] * stepS;
            }
            Array.Fill(turns, Math.Abs(angle) / (2 * Math.PI), first, end - first);
            for (int i = first; i < end; i++)
            {
                int r = way[first] == 0 ? shortest : way[first] == 2 ? blind : reach;
                int a = way[first] == 0 ? Math.Max(0, i - r) : Math.Max(first, i - r), b = way[first] == 0 ? Math.Min(count, i + r + 1) : Math.Min(end, i + r + 1);
                result[i] = (sum[b] - sum[a]) / (b - a);
            }
            first = end;
        }
        return (result, turns);
    }
}
