using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Polars;

namespace ThermalTrace.Advice;

/// <summary>Makes a plan, step by step: what can be fitted, what is to be decided, what could be flown, what that is worth. docs/models/plan.md.</summary>
internal sealed class TestPlanner
{
    // Common practice, no source, unless said otherwise.
    private const double LaunchS = 25, LandingS = 35, TurnsS = 8;
    private const double UsualWindMps = 3;
    private const int MostFlightsInSession = 12, LeastFlights = 4;
    private const double EnoughShare = 0.08;  // of what choosing now loses: two flights that save less are not asked for
    private const double CalmEdr = 0.03, LeastQuick = 0.25; // the quick air goes with it, as from flight to flight in the polar's fit; the slow does not
    private const double OneInTwenty = 1.6449; // quantile of the normal law

    private readonly SeasonModel _model;
    private readonly PlanAsked _asked;
    private readonly IReadOnlyList<Option> _options;
    private readonly IReadOnlyList<string> _cautions;
    private readonly GlideWorth _worth;
    private readonly PlanSearch _search;
    private readonly GlideInformation _glides, _calm;
    private readonly Matrix<double> _now;
    private readonly double _launchHeightM;
    private readonly bool _launchSeen;

    /// <summary>Takes stock; throws as <see cref="Plan(SeasonModel, PlanAsked, CancellationToken)"/> does.</summary>
    internal TestPlanner(SeasonModel model, PlanAsked asked)
    {
        (_model, _asked) = (model, asked);
        (_options, _cautions) = PlanOptions.Of(model);
        FlightFact[] flown = [.. model.Sessions.SelectMany(s => s.Evidence.Flights)];
        double wind = flown.Select(f => f.WindMps).OfType<double>().DefaultIfEmpty(UsualWindMps).Average();
        IReadOnlyList<PlanScene> scenes = PlanScenes.Of(asked, model);
        double lift = scenes.Average(s => s.LiftMps.Middle);
        DragTerms terms = new(model.Prediction, _options.Count, 0, lift, Drag.AirspeedSpread(wind));
        double[] coefficients = Mean(model, _options, terms);
        _worth = GlideWorth.Of(model.Sessions, model.Prediction, model.Drag.Mean);
        PlannedInformation known = new(model, _options, terms, _worth.Widening);
        _glides = new GlideInformation(terms, model.Prediction.Planform, coefficients, new TestDay(PolarFit.Usual, GlideWorth.WindErrorMps(flown), _worth.Factor));
        double[] edrs = [.. flown.Select(f => f.Edr).OfType<double>().Order()];
        double quieter = Math.Clamp(CalmEdr / (edrs.Length > 0 ? edrs[edrs.Length / 2] : ClimbHabit.UsualEdr), LeastQuick, 1);
        _calm = new GlideInformation(terms, model.Prediction.Planform, coefficients,
            new TestDay(PolarFit.Usual with { QuickMps = PolarFit.Usual.QuickMps * quieter }, GlideWorth.WindErrorMps(flown), _worth.Factor));
        (_launchHeightM, _launchSeen) = LaunchHeight(model, wind);
        IReadOnlyList<FlightChoice>[] choices =
        [
            .. _options.Select((o, k) => GlideCards.For(_glides, model.Prediction.Planform, o, _launchHeightM, model.Airframe.WingSpanM)
                .Select(c => new FlightChoice(k, c, _glides.Of(o.MassKg, o.Ballast, c.Legs))).ToArray()),
        ];
        _now = Matrix<double>.Build.DenseIdentity(known.Mean.Count);
        PlanDecision[] decisions = Decide(model, _options, terms, known, scenes, asked.Seed);
        Leading = decisions.MaxBy(d => Loss(d, _now))!;
        _search = new PlanSearch(known, decisions, choices, [.. new[] { Leading.Best, Leading.Rival }.Where(k => k >= 0).Select(k => Leading.Options[k])]);
    }

    /// <summary>Plans.</summary>
    /// <param name="model">The season's.</param>
    /// <param name="asked">What is asked.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="Units.UnusableInputException">Nothing is to be decided, or the wind asked for is beyond the model.</exception>
    public static TestPlan Plan(SeasonModel model, PlanAsked asked, CancellationToken cancel = default) => new TestPlanner(model, asked).Plan(cancel);

    /// <summary>What is known, what could be flown and what is to be decided.</summary>
    internal PlanSearch Search => _search;

    /// <summary>What legs would tell.</summary>
    internal GlideInformation Glides => _glides;

    /// <summary>The ballasts.</summary>
    internal IReadOnlyList<Option> Options => _options;

    /// <summary>What glides told on past days.</summary>
    internal GlideWorth Worth => _worth;

    /// <summary>The decision in which the choice now loses most.</summary>
    internal PlanDecision Leading { get; }

    private TestPlan Plan(CancellationToken cancel)
    {
        PlanDecision leading = Leading;
        PlanStep Step(string name, int flights, Matrix<double> after) => new(name, flights, Lead(leading, after), _search.Decisions.Average(d => Loss(d, after)));

        int most = _asked.Flights ?? MostFlightsInSession, sessions = (most + MostFlightsInSession - 1) / MostFlightsInSession;
        IReadOnlyList<IReadOnlyList<FlightChoice>[]> path = _search.Grow(most / 2, sessions, cancel);
        PlanStep[] growth = [Step("", 0, _now), .. path.Select((p, i) => Step("", 2 * (i + 1), _search.After(p)))];
        int couples = _asked.Flights / 2 ?? Enough(growth);
        IReadOnlyList<FlightChoice>[] flights = _search.Exchange(path[couples - 1], cancel);

        Matrix<double> after = _search.After(flights), calm = After(flights, _worth.LogSpread), rough = After(flights, -_worth.LogSpread);
        return new TestPlan
        {
            Options = _options,
            Cautions = _cautions,
            Outlooks = [.. _search.Decisions.Select(d => Outlook(d, after, calm, rough)).OrderByDescending(o => o.LossNowMps)],
            Flights = [.. flights.SelectMany((s, i) => Ordered(s, i + 1))],
            Growth = growth,
            Compared = [Step("as planned", 2 * couples, after), Step("as planned, in calm air", 2 * couples, _search.After([.. flights.Select(s => s.Select(InCalm).ToArray())])), .. PlainPlans.Of(_search, flights, leading, _asked.Seed).Select(p => Step(p.Name, 2 * couples, p.After))],
            Worth = _worth,
            LaunchHeightM = _launchHeightM,
            LaunchSeen = _launchSeen,
            SeasonSeen = PlanScenes.FromSeason(_model),
        };
    }

    private static int Enough(PlanStep[] growth)
    {
        for (int i = LeastFlights / 2; i < growth.Length - 1; i++)
        {
            if (!(growth[i].LossMps - growth[i + 1].LossMps > EnoughShare * growth[0].LossMps))
            {
                return i;
            }
        }
        return growth.Length - 1;
    }

    private DecisionOutlook Outlook(PlanDecision decision, Matrix<double> after, Matrix<double> calm, Matrix<double> rough)
    {
        Matrix<double> now = decision.Covariance(_now), left = decision.Covariance(after);
        (double clear, double alike) = Preposterior.ChanceSettled(decision.MeansMps, now - left, left, decision.Rest, _asked.Seed);
        return new DecisionOutlook(decision, Preposterior.Verdict(decision.MeansMps, now, decision.Rest, _asked.Seed), Lead(decision, _now), Lead(decision, after),
            Lead(decision, calm), Lead(decision, rough), Loss(decision, _now), Loss(decision, after), clear, alike);
    }

    private static LeadSpread Lead(PlanDecision decision, Matrix<double> terms) =>
        new(Math.Sqrt(decision.Difference(decision.Covariance(terms), decision.Rival)), Math.Sqrt(decision.RestVariance(decision.Rival)));

    /// <summary>What choosing then loses on average against knowing the drag: what knowing it saves now, less what the flights save.</summary>
    private double Loss(PlanDecision decision, Matrix<double> after)
    {
        double all = Preposterior.Gain(decision.MeansMps, decision.Covariance(_now), _asked.Seed);
        return Math.Max(0, all - Preposterior.Gain(decision.MeansMps, decision.Covariance(_now - after), _asked.Seed));
    }

    private FlightChoice InCalm(FlightChoice flight) =>
        flight with { Information = _calm.Of(_options[flight.Option].MassKg, flight.Option, flight.Card.Legs) };

    private Matrix<double> After(IReadOnlyList<FlightChoice>[] flights, double logSpread)
    {
        double factor = Math.Exp(OneInTwenty * logSpread);
        return _search.After([.. flights.Select(s => s.Select(f => f with { Information = f.Information * factor }).ToArray())]);
    }

    /// <summary>A session's flights there and back; what stands opposite each other about its middle has cards alike.</summary>
    private IEnumerable<PlannedFlight> Ordered(IReadOnlyList<FlightChoice> flights, int session)
    {
        IReadOnlyList<int> order = FlightOrder.Of([.. _options.Select((_, k) => flights.Count(f => f.Option == k))]);
        GlideCard[] cards = new GlideCard[order.Count];
        for (int k = 0; k < _options.Count; k++)
        {
            int[] places = [.. Enumerable.Range(0, order.Count).Where(i => order[i] == k)];
            GlideCard[] own = [.. flights.Where(f => f.Option == k).Select(f => f.Card).OrderBy(c => c.Pairs.Average(p => p.AirspeedMps)).ThenBy(c => c.Pairs[0].AirspeedMps)];
            for (int i = 0; i < own.Length; i++)
            {
                cards[i % 2 == 0 ? places[i / 2] : places[^(i / 2 + 1)]] = own[i];
            }
        }
        return order.Select((k, i) => new PlannedFlight(session, k, cards[i], LaunchS + LandingS + cards[i].Seconds + TurnsS * cards[i].Pairs.Count));
    }

    private static PlanDecision[] Decide(SeasonModel model, IReadOnlyList<Option> options, DragTerms terms, PlannedInformation known, IReadOnlyList<PlanScene> scenes, int seed)
    {
        CurveMaker maker = new(terms, model.Prediction.Planform, 0);
        List<double[]> draws = [known.Coefficients(known.Mean)];
        for (int j = 0; j < known.Mean.Count; j++)
        {
            draws.Add(known.Coefficients(known.Mean + known.Root.Column(j)));
            draws.Add(known.Coefficients(known.Mean - known.Root.Column(j)));
        }
        DrawnOptions drawn = new(options, model.Airframe.UnballastedMassG / 1000, maker, [.. draws], draws.Count);
        return [.. scenes.Select(s => PlanDecision.Of(s, s.Draw(model.Habits, seed), drawn))];
    }

    private static double[] Mean(SeasonModel model, IReadOnlyList<Option> options, DragTerms terms)
    {
        PlannedInformation known = new(model, options, terms, 1);
        return known.Coefficients(known.Mean);
    }

    /// <summary>Of the bare model in the usual wind: the season's launches, or what is usual for their kind.</summary>
    private static (double HeightM, bool Seen) LaunchHeight(SeasonModel model, double windMps)
    {
        const int looks = 99;
        UsualLaunch launch = UsualLaunch.For(model, null);
        System.Random random = new(1);
        double[] heights = [.. Enumerable.Range(0, looks).Select(_ => LaunchHeights.HeightM(launch.Heights.Draw(random), 1, windMps)).Order()];
        return launch.UsualM is { } usual ? (usual, false) : (heights[looks / 2], true);
    }
}
