using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Polars;

namespace ThermalTrace.Advice;

/// <summary>Air that a ballast is to be chosen for: ranges within which every value is as likely as another.</summary>
/// <param name="WindMps">At flying height, m/s.</param>
/// <param name="LiftMps">At the core, m/s.</param>
/// <param name="Edr">m^(2/3)/s.</param>
internal sealed record PlanScene(AskedRange WindMps, AskedRange LiftMps, AskedRange Edr)
{
    private const int Most = 64; // draws of a scene's air; what they leave of luck is the same for every option and every plan
    private const double ClimbHeightM = 50; // common practice, no source

    /// <summary>One draw of the air.</summary>
    /// <param name="WindMps">m/s.</param>
    /// <param name="CoreMps">Lift at the core, m/s.</param>
    /// <param name="Lift">How it is worked.</param>
    internal sealed record Air(double WindMps, double CoreMps, Lift Lift);

    /// <summary>Draws of the air, each range covered evenly.</summary>
    public IReadOnlyList<Air> Draw(IReadOnlyList<ClimbHabit> habits, int seed)
    {
        System.Random random = new(seed);
        double[] winds = Even(random, WindMps), lifts = Even(random, LiftMps), edrs = Even(random, Edr);
        return [.. Enumerable.Range(0, Most).Select(d => new Air(winds[d], lifts[d], habits[(int)((long)d * habits.Count / Most)].At(ClimbHeightM, edrs[d], 0)))];
    }

    private static double[] Even(System.Random random, AskedRange range)
    {
        double[] values = [.. Enumerable.Range(0, Most).Select(i => range.Part((i + 0.5) / Most))];
        random.Shuffle(values);
        return values;
    }
}

/// <summary>What a plan is asked for; null where the season says what is usual.</summary>
public sealed record PlanAsked
{
    /// <summary>Wind at flying height, m/s.</summary>
    public AskedRange? WindMps { get; init; }

    /// <summary>Lift at the core, m/s.</summary>
    public AskedRange? LiftMps { get; init; }

    /// <summary>Turbulence, m^(2/3)/s.</summary>
    public AskedRange? Edr { get; init; }

    /// <summary>Number of flights, even; null to choose it.</summary>
    public int? Flights { get; init; }

    /// <summary>Seed of every draw; echoed in the result.</summary>
    public int Seed { get; init; } = 1;
}

/// <summary>The scenes that are decided: the one asked for, or one for every metre a second of wind that the season had, for the pilot reads the wind and chooses.</summary>
internal static class PlanScenes
{
    // Where there is no season: winds, lift and turbulence in which models are flown. Common practice, no source.
    private static readonly (int From, int To) UsualWinds = (1, 8);
    private static readonly AskedRange UsualLift = new(1, 2.5);
    private const int MostSessions = 12, LiftLooks = 24, EnoughFlights = 6, EnoughEdrs = 4, MostScenes = 9;

    /// <summary>The scenes; one where the wind was asked for.</summary>
    public static IReadOnlyList<PlanScene> Of(PlanAsked asked, SeasonModel model)
    {
        AskedRange lift = asked.LiftMps ?? SeasonLift(model);
        FlightFact[] flights = [.. model.Sessions.SelectMany(s => s.Evidence.Flights).Where(f => f is { WindMps: not null, Spoiled: false }).OrderBy(f => f.WindMps)];
        if (asked.WindMps is { } wind)
        {
            return [new PlanScene(wind, lift, asked.Edr ?? Turbulence(wind, flights))];
        }
        (int from, int to) = flights.Length < EnoughFlights ? UsualWinds
            : ((int)Math.Round(flights[flights.Length / 20].WindMps!.Value), (int)Math.Round(flights[^(1 + flights.Length / 20)].WindMps!.Value));
        int step = 1 + (to - from) / MostScenes;
        return
        [
            .. Enumerable.Range(0, 1 + (to - from) / step).Select(i =>
            {
                AskedRange w = new(Math.Max(from + i * step - step / 2.0, 0), from + i * step + step / 2.0);
                return new PlanScene(w, lift, asked.Edr ?? Turbulence(w, flights));
            }),
        ];
    }

    /// <summary>True where the season itself, and not what is usual anywhere, says the wind.</summary>
    public static bool FromSeason(SeasonModel model) => model.Sessions.SelectMany(s => s.Evidence.Flights).Count(f => f is { WindMps: not null, Spoiled: false }) >= EnoughFlights;

    /// <summary>The middle half of what flights in such wind met; by the wind alone where too few did.</summary>
    private static AskedRange Turbulence(AskedRange wind, FlightFact[] flights)
    {
        double[] known = [.. flights.Where(f => f.Edr is not null && f.WindMps >= wind.Low - 0.5 && f.WindMps <= wind.High + 0.5).Select(f => f.Edr!.Value).Order()];
        double expected = SurfaceWind.ExpectedEdr(wind.Middle, Ground.Grass), share = Math.Exp(SurfaceWind.EdrSpread);
        return known.Length >= EnoughEdrs ? new AskedRange(Fine(known[known.Length / 4]), Fine(known[3 * known.Length / 4])) : new AskedRange(Fine(expected / share), Fine(expected * share));
    }

    /// <summary>The middle half of the lift that the last sessions' climbs tell of.</summary>
    private static AskedRange SeasonLift(SeasonModel model)
    {
        List<double> cores = [];
        DragTerms terms = new(model.Prediction, 1, 0, 0, 1);
        CurveMaker maker = new(terms, model.Prediction.Planform, 0);
        double[] mean = new double[terms.Count];
        for (int j = 0; j < TunedDrag.Airframe; j++)
        {
            mean[j] = model.Drag.Mean[j];
        }
        foreach (SessionEvidence evidence in model.Sessions.TakeLast(MostSessions).Select(s => s.Evidence))
        {
            List<(FlownClimb, double, int)> climbs = [.. evidence.Climbs.Select(c => (c.Flown, evidence.Flights[c.Flight].MassKg, -1))];
            if (climbs.Count > 0)
            {
                WorkedClimbs worked = WorkedClimbs.Of(climbs, model.Airframe.UnballastedMassG / 1000, maker);
                double[] edrs = [.. evidence.Flights.Select(f => f.Edr).OfType<double>().Order()];
                System.Random random = new(1);
                double[] looks = [.. Enumerable.Range(0, LiftLooks).Select(_ => worked.CoreMps(mean, worked.DrawLift(random, edrs.Length == 0 ? double.NaN : edrs[edrs.Length / 2]))).Order()];
                cores.AddRange([looks[LiftLooks / 4], looks[LiftLooks / 2], looks[3 * LiftLooks / 4]]);
            }
        }
        cores.Sort();
        return cores.Count == 0 ? UsualLift : new AskedRange(Round(cores[cores.Count / 4]), Round(cores[3 * cores.Count / 4]));
    }

    private static double Round(double mps) => Math.Round(mps, 1);

    private static double Fine(double edr) => Math.Round(edr, 2);
}
