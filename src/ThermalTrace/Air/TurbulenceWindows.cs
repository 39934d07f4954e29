using ThermalTrace.Phases;
using ThermalTrace.Tracks;
using ThermalTrace.Units;

namespace ThermalTrace.Air;

/// <summary>What a flight's climbing and sinking was read from; logs alike in it share their sensors' noise.</summary>
/// <param name="StepS">Grid step, s.</param>
/// <param name="Vario">The variometer, else differences of height.</param>
/// <param name="Energy">Kinetic energy is in it, else height stands alone.</param>
internal sealed record TurbulenceSource(double StepS, bool Vario, bool Energy);

/// <summary>One window's power at one frequency beside what each part of the model says of it.</summary>
/// <param name="Power">Seen, m²/s² for each Hz.</param>
/// <param name="Air">Expected of turbulence with ε = 1.</param>
/// <param name="Sensor">Of height or variometer noise with a variance of 1.</param>
/// <param name="Quick">With kinetic energy: of white velocity noise with a variance of 1; without: of what pilots ask for.</param>
/// <param name="Slow">With kinetic energy: of velocity noise that wanders.</param>
/// <param name="FrequencyHz">Hz.</param>
internal readonly record struct Ordinate(double Power, double Air, double Sensor, double Quick, double Slow, double FrequencyHz);

/// <summary>Tapered windows over a flight's glides and their power spectra.</summary>
internal sealed class TurbulenceWindows
{
    private const double WindowS = 9, EdgeS = 2;
    private const double LongestM = 36;          // eddies longer than this are mixed with thermals' edges; common practice, no source
    private const double AlignedS = 0.7;         // rows farther apart cannot bring height and speed onto one clock
    private const double UsualTurnRad = 0.6;     // of heading in a window: turns change sink and speed; common practice, no source
    private const int FewWindows = 24;           // a session with fewer straight ones takes the straightest it has
    private const double SlowestPathShare = 1.6; // of g/V: below, the pilot's own changes of speed rule the height
    private const double BarometerLagS = 0.1;    // common practice, no source

    /// <summary>Where they come from.</summary>
    public required TurbulenceSource Source { get; init; }

    /// <summary>One list for each window.</summary>
    public required IReadOnlyList<Ordinate[]> Windows { get; init; }

    /// <summary>Cuts one flight.</summary>
    public static TurbulenceWindows Of(Flight flight, FlightAir? air, double usualAirspeedMps, double? varioLagS, double straightRad)
    {
        Track track = flight.Track;
        // The slope of positions wanders as turbulence does: squared into energy it would drown it.
        bool energy = air is not null && track.Ground is { VelocityLogged: true } && track.StepS < AlignedS;
        double[] rate = Rates(flight, energy ? air : null, varioLagS);
        double step = track.StepS;
        int length = (int)Math.Round(WindowS / step);
        double[] taper = [.. Enumerable.Range(0, length).Select(i => 0.5 - 0.5 * Math.Cos(2 * Math.PI * (i + 0.5) / length))];
        TurbulenceSource source = new(Math.Round(step, 3), varioLagS is not null, energy);
        List<Ordinate[]> windows = [];
        foreach (int start in Starts(flight))
        {
            if ((air is not null && !(TurnedRad(air, start - flight.First, length, step) <= straightRad))
                || Window(rate.AsSpan(start - flight.First, length), taper) is not { } series)
            {
                continue;
            }
            double speed = usualAirspeedMps, height = 0;
            if (air is not null)
            {
                speed = 0;
                for (int i = start; i < start + length; i++)
                {
                    speed += air.AirspeedMps[i - flight.First] / length;
                }
            }
            for (int i = start; i < start + length; i++)
            {
                height += (track.SmoothAltitudeM[i] - flight.GroundAltitudeM) / length;
            }
            if (speed > 2)
            {
                windows.Add(Spectrum(series, taper, speed, Math.Max(height, 3), source, varioLagS ?? 0));
            }
        }
        return new TurbulenceWindows { Source = source, Windows = windows };
    }

    /// <summary>Every so manieth window.</summary>
    public TurbulenceWindows Thinned(int every) =>
        every == 1 ? this : new() { Source = Source, Windows = [.. Windows.Where((_, i) => i % every == 0)] };

    /// <summary>How much the heading may change in a window of this session, radians.</summary>
    public static double StraightRad(IReadOnlyList<Flight> flights, IReadOnlyList<FlightAir?> air)
    {
        List<double> turns = [];
        for (int k = 0; k < air.Count; k++)
        {
            if (air[k] is { } found)
            {
                double step = flights[k].Track.StepS;
                turns.AddRange(Starts(flights[k]).Select(s => TurnedRad(found, s - flights[k].First, (int)Math.Round(WindowS / step), step)).Where(t => t >= 0));
            }
        }
        turns.Sort();
        return turns.Count == 0 ? UsualTurnRad : Math.Max(UsualTurnRad, turns[Math.Min(FewWindows, turns.Count) - 1]);
    }

    /// <summary>First grid points of half overlapping windows, spread over the whole of each glide.</summary>
    private static IEnumerable<int> Starts(Flight flight)
    {
        double step = flight.Track.StepS;
        int length = (int)Math.Round(WindowS / step), hop = Math.Max(1, length / 2), edge = (int)Math.Round(EdgeS / step);
        foreach (Segment segment in flight.Segments.Where(s => s.Kind == PhaseKind.Glide))
        {
            int first = segment.First + edge, last = segment.End - edge - length;
            int count = last < first ? 0 : 1 + (last - first) / hop;
            for (int n = 0; n < count; n++)
            {
                yield return first + (count > 1 ? (int)((long)n * (last - first) / (count - 1)) : (last - first) / 2);
            }
        }
    }

    /// <summary>
    /// The variometer's own filter, s, from height less its sum over a few seconds, which is the lag times its change; null
    /// where the two do not go together.
    /// </summary>
    public static double? VarioLagS(IEnumerable<Flight> flights)
    {
        double aa = 0, ab = 0, bb = 0, ay = 0, by = 0, yy = 0, a1 = 0, y1 = 0, n = 0;
        foreach (Flight flight in flights)
        {
            if (flight.Track.VarioMps is not { } vario)
            {
                continue;
            }
            double step = flight.Track.StepS;
            int span = (int)Math.Ceiling(3 / step);
            foreach (Segment segment in flight.Segments.Where(s => s.Kind is PhaseKind.Glide or PhaseKind.Climb))
            {
                double[] sum = new double[Math.Max(segment.End - segment.First, 1)];
                for (int i = 1; i < sum.Length; i++)
                {
                    sum[i] = sum[i - 1] + 0.5 * step * (vario[segment.First + i] + vario[segment.First + i - 1]);
                    if (i >= span)
                    {
                        double a = sum[i] - sum[i - span], b = vario[segment.First + i] - vario[segment.First + i - span];
                        double y = flight.Track.AltitudeM[segment.First + i] - flight.Track.AltitudeM[segment.First + i - span];
                        if (double.IsNaN(a + b + y))
                        {
                            if (double.IsNaN(sum[i]))
                            {
                                sum[i] = 0; // begin anew behind a gap; spans across it stay out through the missing height
                            }
                            continue;
                        }
                        (aa, ab, bb, ay, by, yy, a1, y1, n) = (aa + a * a, ab + a * b, bb + b * b, ay + a * y, by + b * y, yy + y * y, a1 + a, y1 + y, n + 1);
                    }
                }
            }
        }
        double determinant = aa * bb - ab * ab;
        if (!(n > 100) || !(determinant > 1e-9 * aa * bb))
        {
            return null;
        }
        double gain = (bb * ay - ab * by) / determinant, lag = (aa * by - ab * ay) / determinant;
        double left = (yy - gain * ay - lag * by) / yy;
        return gain is > 0.85 and < 1.15 && left < 0.15 && lag / gain is > -0.3 and < 3 ? Math.Max(lag / gain, 0) : null;
    }

    /// <summary>Rate of energy height (or height) at every grid point, m/s; kinetic energy passes the same lag as the variometer.</summary>
    private static double[] Rates(Flight flight, FlightAir? air, double? varioLagS)
    {
        Track track = flight.Track;
        double step = track.StepS, keep = varioLagS is > 0 ? Math.Exp(-step / varioLagS.Value) : 0;
        double[] rate = new double[flight.End - flight.First];
        Array.Fill(rate, double.NaN);
        double before = double.NaN, lagged = 0;
        for (int k = 1; k < rate.Length; k++)
        {
            int i = flight.First + k;
            double kinetic = 0;
            if (air is not null)
            {
                double energy = Square(air.InertialSpeedMps[k]) / (2 * PhysicalConstants.StandardGravityMps2);
                double slope = (energy - before) / step;
                before = energy;
                lagged = double.IsNaN(slope) ? double.NaN : double.IsNaN(lagged) ? slope : keep * lagged + (1 - keep) * slope;
                kinetic = lagged;
            }
            rate[k] = (varioLagS is not null ? track.VarioMps![i] : (track.AltitudeM[i] - track.AltitudeM[i - 1]) / step) + kinetic;
        }
        return rate;
    }

    /// <summary>Less its straight line, tapered; null where something is missing.</summary>
    private static double[]? Window(ReadOnlySpan<double> rate, double[] taper)
    {
        int n = rate.Length;
        double mean = 0, slope = 0, square = 0, middle = 0.5 * (n - 1);
        for (int i = 0; i < n; i++)
        {
            if (double.IsNaN(rate[i]))
            {
                return null;
            }
            mean += rate[i] / n;
            slope += (i - middle) * rate[i];
            square += (i - middle) * (i - middle);
        }
        double[] series = new double[n];
        for (int i = 0; i < n; i++)
        {
            series[i] = taper[i] * (rate[i] - mean - slope / square * (i - middle));
        }
        return series;
    }

    /// <summary>All that the heading changes from second to second.</summary>
    private static double TurnedRad(FlightAir air, int start, int length, double step)
    {
        int second = Math.Max(1, (int)Math.Round(1 / step));
        double sum = 0;
        for (int i = start + second; i < start + length; i += second)
        {
            sum += Math.Abs(Math.IEEERemainder(air.HeadingRad[i] - air.HeadingRad[i - second], 2 * Math.PI));
        }
        return sum;
    }

    private static Ordinate[] Spectrum(double[] series, double[] taper, double speed, double height, TurbulenceSource source, double varioLagS)
    {
        int n = series.Length;
        double step = source.StepS, bin = 1 / (n * step), taperPower = taper.Sum(w => w * w);
        double lowest = speed / LongestM;
        if (!source.Energy)
        {
            lowest = Math.Max(lowest, SlowestPathShare * PhysicalConstants.StandardGravityMps2 / (2 * Math.PI * speed));
        }
        List<Ordinate> ordinates = [];
        int from = Math.Max(2, (int)Math.Ceiling(lowest / bin));
        for (int j = from; 2 * j < n; j++)
        {
            (double sin, double cos) = Math.SinCos(2 * Math.PI * j / n);
            double re = 0, im = 0, c = 1, s = 0;
            for (int i = 0; i < n; i++)
            {
                re += series[i] * c;
                im += series[i] * s;
                (c, s) = (c * cos - s * sin, c * sin + s * cos);
            }
            double Expected(double frequency) => AirPower(frequency, speed, height, source, varioLagS);
            double f = j * bin;
            // The taper lets a sixth in from either neighbour.
            double air = (4 * Expected(f) + Expected(f - bin) + Expected(f + bin)) / 6;
            double lag = source.Vario ? TurbulenceSpectrum.Lagged(f, varioLagS) : 1;
            double slope = lag * 4 * Square(Math.Sin(Math.PI * f * step)) / (step * step);
            double omega2 = Square(2 * Math.PI * f), kinetic = Square(speed / PhysicalConstants.StandardGravityMps2);
            (double quick, double slow) = source.Energy
                ? (slope * 2 * step * kinetic, slope / omega2 * kinetic)
                : (slope / Square(omega2) * speed * speed * TurbulenceSpectrum.GustClimb(f, speed), 0.0);
            ordinates.Add(new Ordinate(2 * step * (re * re + im * im) / taperPower, air, source.Vario ? 2 * step : slope * 2 * step, quick, slow, f));
        }
        return [.. ordinates];
    }

    /// <summary>The air's part as the sensor and the rows show it, what folds back from above half the row rate included.</summary>
    private static double AirPower(double frequencyHz, double speed, double height, TurbulenceSource source, double varioLagS)
    {
        double sum = 0;
        for (int fold = -1; fold <= 1; fold++)
        {
            double f = Math.Abs(frequencyHz + fold / source.StepS);
            double power = TurbulenceSpectrum.Vertical(f, speed, height);
            if (!source.Energy)
            {
                power += TurbulenceSpectrum.Along(f, speed) * TurbulenceSpectrum.GustClimb(f, speed);
            }
            double x = Math.PI * f * source.StepS;
            double seen = source.Vario ? TurbulenceSpectrum.Lagged(f, varioLagS) : Square(Math.Sin(x) / x);
            sum += power * seen * TurbulenceSpectrum.Lagged(f, BarometerLagS);
        }
        return sum;
    }

    private static double Square(double x) => x * x;
}
