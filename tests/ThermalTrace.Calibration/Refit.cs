using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Decisions;
using ThermalTrace.Phases;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;
using ThermalTrace.Tracks;

namespace ThermalTrace.Calibration;

/// <summary>A debriefed session whose polar can be fitted again under another account of what is uncertain.</summary>
/// <param name="Simulated">The session as simulated.</param>
/// <param name="Session">As its files tell it.</param>
/// <param name="Debrief">What the debrief made of it.</param>
/// <param name="Seed">Of the draws.</param>
/// <param name="Cancel">Stops the work.</param>
internal sealed record Refit(SimulatedSession Simulated, Session Session, DebriefInside Debrief, int Seed, CancellationToken Cancel)
{
    private const int DrawsAtMode = 2000; // as many as the full account has

    /// <summary>With other flights, another prior or another account of the air's motion; what is not given stays.</summary>
    public Drag With(Func<GlideFlight, GlideFlight>? flight = null, Action<Vector<double>, Matrix<double>>? prior = null, Func<AirNoise, AirNoise>? air = null)
    {
        Drag drag = Debrief.Drag;
        DragTerms terms = prior is null ? drag.Maker.Terms : drag.Maker.Terms.WithPrior(prior);
        GlideFlight[] flights = [.. drag.Flights.Select(f => flight is null ? f.Flight : flight(f.Flight))];
        PolarEstimate estimate = PolarFit.Fit(flights, terms, drag.Maker.Planform, Seed, Cancel, air)
            ?? throw new InvalidOperationException("what was fitted before has no glides any more");
        return drag with { Maker = drag.Maker with { Terms = terms }, Estimate = estimate, Draws = estimate.Draws };
    }

    /// <summary>Nothing but the likeliest hyperparameters, taken as known.</summary>
    public Drag AtTheMode()
    {
        Drag drag = Debrief.Drag;
        PolarEstimate estimate = drag.Estimate!;
        KnownTerms known = KnownTerms.From(estimate.Terms, new FlightEvidence(estimate.Information, estimate.Score, 0, 0));
        Matrix<double> root = known.Factor.Solve(Matrix<double>.Build.DenseIdentity(estimate.Terms.Count));
        root = ((root + root.Transpose()) * 0.5).Cholesky().Factor;
        Random random = new(Seed);
        double[][] draws = [.. Enumerable.Range(0, DrawsAtMode).Select(_ => (known.Mean + root
            * Vector<double>.Build.Dense(estimate.Terms.Count, _ => MathNet.Numerics.Distributions.Normal.Sample(random, 0, 1))).ToArray())];
        return drag with { Estimate = estimate with { Mean = known.Mean, Draws = draws }, Draws = draws };
    }

    /// <summary>Without the height sensor's noise and that of the velocity in energy height.</summary>
    public Drag WithoutSensorNoise()
    {
        double[][] variances = [.. Debrief.Flights.Select(f => f.Flight.Track.Ground?.VarianceM2ps2).OfType<double[]>().Distinct()];
        double[][] kept = [.. variances.Select(v => (double[])v.Clone())];
        try
        {
            Array.ForEach(variances, Array.Clear);
            return With(air: n => n with { NoiseM = 1e-3 });
        }
        finally
        {
            for (int i = 0; i < kept.Length; i++)
            {
                kept[i].CopyTo(variances[i], 0);
            }
        }
    }

    /// <summary>Flights and phases as they truly were, wind and airspeed found anew with them.</summary>
    public Drag WithTruePhases()
    {
        Track[] tracks = [.. Debrief.Flights.Select(f => f.Flight.Track).Distinct()];
        List<FlownFlight> flights = [];
        foreach (TrueFlight truth in Simulated.TrueFlights)
        {
            foreach (Track track in tracks.Where(t => Path.GetFileNameWithoutExtension(Session.Logs[t.Log].File) == truth.LogStem))
            {
                List<Segment> segments = TruePhases.Segments(track, truth);
                if (segments.Count > 0 && segments[^1].End - segments[0].First >= TruePhases.LeastPoints)
                {
                    flights.Add(new FlownFlight(new Flight(track, truth.Number, segments, track.SmoothAltitudeM[segments[0].First]),
                        new FlightLoad(truth.BallastG, truth.MassKg * 1000, null, false)));
                }
            }
        }
        Prediction prediction = Debrief.Drag.Prediction;
        return Drag.Fit(ThermalTrace.Debrief.WithAir(flights, Session.Airframe, prediction, 1, Cancel), Session.Airframe, prediction, Seed, Cancel);
    }
}
