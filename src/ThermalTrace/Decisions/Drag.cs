using ThermalTrace.Air;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;

namespace ThermalTrace.Decisions;

/// <summary>The session's drag: what was predicted, what was measured, and the means to turn either into curves.</summary>
/// <param name="Prediction">From geometry.</param>
/// <param name="Maker">Curves for the session's options.</param>
/// <param name="Options">Every mass that can be fitted or was flown, rising by ballast; the index is that of the ballast's departure.</param>
/// <param name="Flights">The flights behind the fit, with their index among the session's flights.</param>
/// <param name="Estimate">The fit; null where no flight had airspeed.</param>
/// <param name="Draws">Posterior draws, or the prediction's own tuned by trimmed sink.</param>
/// <param name="Cambers">Names of the camber settings; the first is the reference.</param>
internal sealed record Drag(Prediction Prediction, CurveMaker Maker, IReadOnlyList<Option> Options,
    IReadOnlyList<(int Index, GlideFlight Flight)> Flights, PolarEstimate? Estimate, double[][] Draws, IReadOnlyList<string> Cambers)
{
    // Gusts shorter than a glider needs to follow them: five seconds of flight at the speeds of models.
    private const double GustReachM = 35;

    // Airspeed is ground speed less a wind that is known best where the model circles: by what all glides of a session may be
    // off in common, the second as a share of the wind. From simulations: docs/calibration.md.
    private const double AboveG = 1e-6; // rounding of a sum; a limit is a limit
    private const double AirspeedSpreadMps = 0.06, AirspeedSpreadShare = 0.025;

    /// <summary>Coefficients at the middle of the posterior.</summary>
    public double[] Central
    {
        get
        {
            double[] mean = new double[Maker.Terms.Count];
            foreach (double[] draw in Draws)
            {
                for (int j = 0; j < mean.Length; j++)
                {
                    mean[j] += draw[j] / Draws.Length;
                }
            }
            return Estimate?.Mean.ToArray() ?? mean;
        }
    }

    /// <summary>Fits the session.</summary>
    public static Drag Fit(IReadOnlyList<FlownFlight> flights, Airframe airframe, Prediction prediction, int seed, CancellationToken cancel)
    {
        IReadOnlyList<Option> options = OptionsOf(flights, airframe);
        IReadOnlyList<string> cambers = CambersOf(flights);
        DragTerms terms = new(prediction, options.Count, cambers.Count, RoughLiftMps(flights), AirspeedSpread(flights));
        CurveMaker maker = new(terms, prediction.Planform, cambers.Count);
        double[] known = [.. flights.Where(f => f.Turbulence.IsKnown).Select(f => f.Turbulence.Edr).Order()];
        double middle = known.Length > 0 ? known[known.Length / 2] : 0.1;
        List<(int, GlideFlight)> glides = [];
        for (int i = 0; i < flights.Count; i++)
        {
            FlownFlight f = flights[i];
            if (f.Air is { } air && f.Counts)
            {
                double edr = f.Turbulence.IsKnown ? f.Turbulence.Edr : middle;
                glides.Add((i, new GlideFlight(air, f.Load.FlyingMassG!.Value / 1000, IndexOf(options, f.Load.BallastG!.Value), CamberAt(f, cambers),
                    0.5 * TurbulenceEstimator.LongitudinalM2ps2(edr, GustReachM), Math.Clamp(edr / middle, 0.5, 2))));
            }
        }
        PolarEstimate? estimate = glides.Count == 0 ? null : PolarFit.Fit([.. glides.Select(g => g.Item2)], terms, prediction.Planform, seed, cancel);
        double[][] draws = estimate?.Draws ?? TrimmedSink.Draw(terms, maker, Trimmed(flights, options), seed);
        return new Drag(prediction, maker, options, estimate is null ? [] : glides, estimate, draws, cambers);
    }

    /// <summary>Time-weighted climb with half a metre per second on top for the sink of circling; 0 without climbs.</summary>
    private static double RoughLiftMps(IReadOnlyList<FlownFlight> flights)
    {
        FlownClimb[] climbs = [.. flights.SelectMany(f => f.Climbs)];
        return climbs.Length == 0 ? 0 : Math.Max(0, climbs.Sum(c => (c.ClimbMps + 0.5) * c.Seconds) / climbs.Sum(c => c.Seconds));
    }

    /// <summary>By what all airspeeds of a session, and all its winds, may be off in common: one standard deviation, m/s.</summary>
    public static double AirspeedSpread(IReadOnlyList<FlownFlight> flights)
    {
        double wind = flights.Where(f => f.Air is not null).Select(f => f.Air!.Wind.SpeedMps).DefaultIfEmpty(0).Average();
        return AirspeedSpread(wind);
    }

    /// <summary>The same for a mean wind, m/s.</summary>
    public static double AirspeedSpread(double windMps) =>
        Math.Sqrt(AirspeedSpreadMps * AirspeedSpreadMps + AirspeedSpreadShare * AirspeedSpreadShare * windMps * windMps);

    /// <summary>Nothing but the prediction, drawn from its own spread.</summary>
    public static Drag Predicted(Airframe airframe, int seed, int draws)
    {
        Prediction prediction = Prediction.For(airframe);
        IReadOnlyList<Option> options = OptionsOf([], airframe);
        DragTerms terms = new(prediction, options.Count, 0, 0, AirspeedSpreadMps);
        return new Drag(prediction, new CurveMaker(terms, prediction.Planform, 0), options, [], null, terms.DrawPrior(new System.Random(seed), draws), []);
    }

    /// <summary>Index of the option with a ballast.</summary>
    public static int IndexOf(IReadOnlyList<Option> options, double ballastG)
    {
        int index = options.ToList().FindIndex(o => Math.Abs(o.BallastG - ballastG) < 0.05);
        return index >= 0 ? index : throw new ArgumentException($"no option carries {ballastG} g", nameof(ballastG));
    }

    private static IReadOnlyList<Option> OptionsOf(IReadOnlyList<FlownFlight> flights, Airframe airframe)
    {
        IEnumerable<double> flown = flights.Where(f => f.Counts).Select(f => f.Load.BallastG!.Value);
        List<double> masses = [];
        foreach (double ballast in airframe.BallastOptionsG.Concat(flown).Append(0).Order())
        {
            bool bareOnly = ballast == 0 && !airframe.BallastOptionsG.Contains(0) && !flown.Contains(0);
            if (!bareOnly && !masses.Any(m => Math.Abs(m - ballast) < 0.05))
            {
                masses.Add(ballast);
            }
        }
        if (masses.Count == 0)
        {
            masses.Add(0);
        }
        return [.. masses.Select((ballast, k) =>
        {
            double[] weighed = [.. flights.Where(f => f.Counts && Math.Abs(f.Load.BallastG!.Value - ballast) < 0.05).Select(f => f.Load.FlyingMassG!.Value)];
            double mass = weighed.Length > 0 ? weighed.Average() : airframe.UnballastedMassG + ballast;
            return new Option(ballast, mass / 1000, k, !(mass > (airframe.MaxFlyingMassG ?? double.PositiveInfinity) + AboveG));
        })];
    }

    private static IReadOnlyList<string> CambersOf(IReadOnlyList<FlownFlight> flights)
    {
        List<(string Name, double Points)> names = [];
        void Add(string name, double points)
        {
            int at = names.FindIndex(n => n.Name == name);
            if (at < 0)
            {
                names.Add((name, points));
            }
            else
            {
                names[at] = (name, names[at].Points + points);
            }
        }
        foreach (FlownFlight f in flights.Where(f => f.Counts && f.Air is not null))
        {
            if (f.Load.Camber is { } noted)
            {
                Add(noted, f.Flight.End - f.Flight.First);
            }
            else if (f.Flight.Track.Camber is { } column)
            {
                for (int i = f.Flight.First; i < f.Flight.End; i++)
                {
                    if (!double.IsNaN(column[i]))
                    {
                        Add(f.Flight.Track.CamberLabels[(int)column[i]], 1);
                    }
                }
            }
        }
        // The setting flown most is the reference: the others are changes from it.
        return names.Count < 2 ? [] : [.. names.OrderByDescending(n => n.Points).ThenBy(n => n.Name, StringComparer.Ordinal).Select(n => n.Name)];
    }

    private static Func<int, int>? CamberAt(FlownFlight flight, IReadOnlyList<string> cambers)
    {
        if (cambers.Count == 0)
        {
            return null;
        }
        List<string> list = [.. cambers];
        if (flight.Load.Camber is { } noted)
        {
            int index = Math.Max(list.IndexOf(noted), 0);
            return _ => index;
        }
        if (flight.Flight.Track.Camber is not { } column)
        {
            return _ => 0;
        }
        int[] map = [.. flight.Flight.Track.CamberLabels.Select(l => Math.Max(list.IndexOf(l), 0))];
        return i => double.IsNaN(column[i]) ? 0 : map[(int)column[i]];
    }

    private static IReadOnlyList<(double, int, double, double)> Trimmed(IReadOnlyList<FlownFlight> flights, IReadOnlyList<Option> options)
    {
        List<(double, int, double, double)> trimmed = [];
        foreach (FlownFlight f in flights.Where(f => f.Counts))
        {
            if (TrimmedSink.Of(f.Flight) is { } seen)
            {
                trimmed.Add((f.Load.FlyingMassG!.Value / 1000, IndexOf(options, f.Load.BallastG!.Value), seen.SinkMps, seen.Seconds));
            }
        }
        return trimmed;
    }
}
