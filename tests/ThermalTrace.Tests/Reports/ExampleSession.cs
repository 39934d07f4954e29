using ThermalTrace.Learning;
using ThermalTrace.Reports;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Tests.Reports.Fitting;

namespace ThermalTrace.Tests.Reports;

/// <summary>A session made up for the report's tests: plausible numbers, no estimator behind them, the same every time.</summary>
internal sealed record ExampleSession
{
    public string AirframeName { get; init; } = "Saltmarsh 15";
    public string Log { get; init; } = "saltmarsh.csv";
    public IReadOnlyList<double> BallastsG { get; init; } = [0, 40, 80];
    public int Flights { get; init; } = 9;
    public bool Gps { get; init; } = true;
    public bool Lift { get; init; } = true;
    public bool Accelerometer { get; init; } = true;
    public string? Camber { get; init; }
    public string Verdict { get; init; } = "leaning";
    public double MassG { get; init; } = 262;
    public bool Stock { get; init; }
    public IReadOnlyList<string> Limits { get; init; } =
    [
        "Above 13.5 m/s nothing was flown, so the fast end of every polar is the prediction.",
        "How wide the lift was cannot be told from one session; the range given is what such lift usually measures.",
    ];

    public const double WingAreaDm2 = 22.4;
    private const double WindEastMps = 3.9;
    private const double WindNorthMps = 1.4;

    public static readonly ExampleSession Plain = new();

    /// <summary>No GPS: no polar, no wind but the pilot's own, the comparison rests on the prediction.</summary>
    public static readonly ExampleSession NoGps = new()
    {
        Gps = false,
        Accelerometer = false,
        Limits = ["Without GPS there is no airspeed, so no polar could be measured.", "The wind is the pilot's own estimate."],
    };

    public static readonly ExampleSession NoLift = new() { Lift = false, Verdict = "clear" };

    public static readonly ExampleSession OneBallast = new() { BallastsG = [0], Verdict = "unknown" };

    public static readonly ExampleSession OneFlight = new() { Flights = 1, Verdict = "no_difference" };

    public static readonly ExampleSession FortyFlights = new() { Flights = 40, BallastsG = [0, 15, 30, 45, 60, 75, 90, 105], Verdict = "clear" };

    /// <summary>The airframe lists pieces, a tube and a balance.</summary>
    public static readonly ExampleSession WithStock = new() { Stock = true };

    public static readonly ExampleSession Hostile = new()
    {
        AirframeName = "<script>alert('air')</script> \"Ш\" & مرحبا بالعالم \u202Egnp.exe " + new string('W', 180),
        Log = "=cmd()|' /C calc'!A0 <img src=x onerror=alert(1)> ملف.csv",
        Camber = "@speed\"><svg onload=alert(2)>",
        Limits = ["-2+3<b>bold</b>&copy; \u0007 \u202E reversed", new string('x', 400)],
    };

    public static readonly IReadOnlyDictionary<string, ExampleSession> All = new Dictionary<string, ExampleSession>
    {
        ["plain"] = Plain,
        ["no-gps"] = NoGps,
        ["no-lift"] = NoLift,
        ["one-ballast"] = OneBallast,
        ["one-flight"] = OneFlight,
        ["forty-flights"] = FortyFlights,
        ["hostile"] = Hostile,
        ["with-stock"] = WithStock,
        ["with-stock-hostile"] = Hostile with { Stock = true },
    };

    public ResultsDocument Document() => Stock ? Stocked(Bare()) : Bare();

    private static ResultsDocument Stocked(ResultsDocument bare)
    {
        (PieceEntry brass, PieceEntry tungsten, PieceEntry other) = (ExamplePieces.Brass15, ExamplePieces.Tungsten5, ExamplePieces.Brass8 with { Name = bare.Airframe.Name, MassG = 5 });
        (TubeEntry tube, double cg, IReadOnlyList<FittingEntry> fittings) = ExamplePieces.ForSession(bare.Airframe, (40, [brass, tungsten, other, brass]), (80, [brass, brass, tungsten, tungsten, brass, brass]));
        return bare with { Fittings = new FittingsEntry(tube, cg, [], fittings) };
    }

    private ResultsDocument Bare() => new()
    {
        Program = "thermaltrace 0.1.0",
        Airframe = new AirframeEntry(AirframeName, 1500, WingAreaDm2, MassG, 400, "discus"),
        Logs =
        [
            new LogEntry(Log, new string('0', 64), 41_230, Gps ? 10 : 5,
                [
                    new ChannelEntry("time", "Time [s]", "s"),
                    new ChannelEntry("altitude", Camber is null ? "Altitude [ft]" : "<b>Höhe</b> [ft]", "ft"),
                    .. Gps ? new ChannelEntry[] { new("latitude", "Lat", "deg"), new("longitude", "Lon", "deg") } : [],
                ],
                [
                    new ProblemEntry(812, "Altitude [ft] \"12,3,4\" is not a number; the row was skipped (1 of 41,230 rows)"),
                    new ProblemEntry(0, "ten rows to one whole second; spread evenly"),
                    .. Camber is null ? Array.Empty<ProblemEntry>() : [new ProblemEntry(3, "column \"<script>\" is not used")],
                ]),
        ],
        Flights = [.. Enumerable.Range(0, Flights).Select(Flight)],
        Polars = Gps ? [.. Flown().Select(Polar)] : [],
        Model = new ModelEntry(
        [
            new ParameterEntry("parasite drag coefficient", new Interval(0.0152, 0.0119, 0.0194), Gps ? new Interval(0.0166, 0.0158, 0.0175) : Interval.Unknown),
            new ParameterEntry("Oswald efficiency", new Interval(0.88, 0.78, 0.97), Gps ? new Interval(0.91, 0.84, 0.97) : Interval.Unknown),
        ]),
        Comparison = new ComparisonEntry
        {
            Measure = Lift ? "round_trip_climb" : "still_air_time",
            Conditions = Lift
                ? new ConditionsEntry(Math.Sqrt(WindEastMps * WindEastMps + WindNorthMps * WindNorthMps), 1.87, 14.2, 0.143, 0.08, 1.38, 2.51, 8.9, 22.4)
                : new ConditionsEntry(Gps ? 4.14 : null, null, null, 0.06, 0, null, null, null, null),
            Options = [.. BallastsG.Select((b, i) => Option(b, i))],
            BestBallastG = Verdict == "unknown" ? null : BallastsG[Math.Min(1, BallastsG.Count - 1)],
            Verdict = Verdict,
            Why = "The three polars are well apart above 8 m/s, but the lift was weak and its width is not known.",
            FlyNext = "Fly two opposite glides at 11 m/s with each of 40 g and 80 g, in the order 40-80-80-40, before the wind changes.",
        },
        Evidence = new SessionEvidence
        {
            Format = "gaussian/1",
            Terms = ["cd0", "k"],
            Information = [1234.56789012345, 0.1, 0.1, 77.7],
            Score = [1.23456789012345, 2],
            Rows = 41_230,
        },
        Limits = Limits,
    };

    public SessionTraces Traces()
    {
        var noise = new Random(7);
        var glides = new List<GlidePoint>();
        for (int i = 0; Gps && i < Flights; i++)
        {
            double ballastG = BallastsG[i % BallastsG.Count];
            for (int k = 0; k < 14; k++)
            {
                double airspeed = 5 + 8 * noise.NextDouble();
                double error = 0.05 + 0.1 * noise.NextDouble();
                glides.Add(new GlidePoint(Log, i + 1, 60 + 8 * k, 68 + 8 * k, ballastG, airspeed, 0.2,
                    Sink(airspeed, MassG + ballastG, 1.02) + error * 2 * (noise.NextDouble() - 0.5), error, 30 * noise.NextDouble(), 360 * noise.NextDouble()));
            }
        }

        return new SessionTraces([.. Enumerable.Range(0, Flights).Select(Trace)], glides);
    }

    /// <summary>A quadratic drag polar of about the right size, m/s.</summary>
    private static double Sink(double airspeedMps, double massG, double drag)
    {
        double cl = 2 * massG / 1000 * 9.80665 / (1.225 * WingAreaDm2 / 100 * airspeedMps * airspeedMps);
        double cd = drag * (0.0166 * Math.Pow(airspeedMps / 8, -0.25) + 0.012 * (cl - 0.35) * (cl - 0.35) + cl * cl / (Math.PI * 10 * 0.9) + 0.4 * Math.Pow(Math.Max(0, cl - 0.95), 2));
        return airspeedMps * cd / cl;
    }

    private IEnumerable<double> Flown() => BallastsG.Take(Flights);

    private PolarEntry Polar(double ballastG)
    {
        double massG = MassG + ballastG, root = Math.Sqrt(massG / MassG), low = 4.6 * root, high = 12.4 * root;
        double[] airspeeds = [.. Enumerable.Range(0, 36).Select(i => low + (high + 3 - low) * i / 35)];
        CurvePoint[] curve = [.. airspeeds.Select(v =>
        {
            double sink = Sink(v, massG, 1), half = 0.025 + 0.0014 * (v - 8) * (v - 8) + (v > high ? 0.05 : 0);
            return new CurvePoint(v, sink, sink - half, sink + half, Sink(v, massG, 0.93), v <= high);
        })];
        CurvePoint least = curve.MinBy(p => p.SinkMps)!, flattest = curve.MaxBy(p => p.AirspeedMps / p.SinkMps)!;
        return new PolarEntry
        {
            BallastG = ballastG,
            FlyingMassG = massG,
            Camber = Camber,
            Glides = 14,
            EffectiveGlides = 8.3,
            FlownAirspeedMps = [low, high],
            Curve = curve,
            MinSink = new MinSinkEntry(Around(least.SinkMps!.Value, 0.02), Around(least.AirspeedMps, 0.35)),
            BestGlide = new BestGlideEntry(Around(flattest.AirspeedMps / flattest.SinkMps!.Value, 0.9), Around(flattest.AirspeedMps, 0.5)),
            Penetration =
            [
                .. Enumerable.Range(0, 13).Select(w =>
                {
                    CurvePoint best = curve.MaxBy(p => (p.AirspeedMps - w) / p.SinkMps)!;
                    double ratio = (best.AirspeedMps - w) / best.SinkMps!.Value;
                    return new PenetrationEntry(w, best.AirspeedMps, Around(ratio, 0.05 * ratio + 0.15));
                }),
            ],
        };
    }

    private OptionEntry Option(double ballastG, int index)
    {
        double massG = MassG + ballastG;
        double net = 0.36 - 0.00003 * (ballastG - 38) * (ballastG - 38);
        bool flown = index < Flights;
        double share = BallastsG.Count == 1 ? 1 : index == 1 ? 0.68 : 0.32 / (BallastsG.Count - 1);
        return new OptionEntry
        {
            BallastG = ballastG,
            FlyingMassG = massG,
            RoundTripClimbMps = Lift ? Around(net, Gps ? 0.062 : 0.21) : Interval.Unknown,
            ClimbMps = Lift ? Around(0.95 - 0.0022 * ballastG, 0.11) : Interval.Unknown,
            ReturnAirspeedMps = Lift ? 8.4 + 0.012 * ballastG : null,
            ReturnGlideRatio = Lift ? 7.4 + 0.013 * ballastG : null,
            LaunchHeightM = Around(54 - 0.06 * ballastG, 4.2),
            StillAirTimeS = Around(131 - 0.14 * ballastG, 11),
            Flown = new FlownEntry(flown ? (Flights - index + BallastsG.Count - 1) / BallastsG.Count : 0, Lift && flown ? 0.9 - 0.002 * ballastG : null),
            Support = !Gps ? "predicted" : flown ? "measured" : "interpolated",
            ProbabilityBest = share,
        };
    }

    private static Interval Around(double value, double half) => new(value, value - half, value + half);

    private static double Start(int flight) => 40 + 330 * flight;

    private FlightEntry Flight(int i)
    {
        double start = Start(i), ballastG = BallastsG[i % BallastsG.Count];
        bool known = i != Flights - 1 || Flights == 1;
        double[] cuts = Lift
            ? [start, start + 4, start + 48, start + 112, start + 160, start + 196, start + 252, start + 264, start + 268]
            : [start, start + 4, start + 120, start + 131, start + 134];
        string[] kinds = Lift ? ["launch", "glide", "climb", "glide", "climb", "glide", "landing", "ground"] : ["launch", "glide", "landing", "ground"];
        return new FlightEntry
        {
            Log = Log,
            Number = i + 1,
            StartS = cuts[0],
            EndS = cuts[^1],
            BallastG = known ? ballastG : null,
            FlyingMassG = known ? MassG + ballastG : null,
            WingLoadingGDm2 = known ? (MassG + ballastG) / WingAreaDm2 : null,
            Camber = Camber,
            Spoiled = i == 3,
            Launch = new LaunchEntry(cuts[0], cuts[1], 52.3 - 0.05 * ballastG + i % 3),
            Launches = [new LaunchEntry(cuts[0], cuts[1], 52.3 - 0.05 * ballastG + i % 3)],
            Segments = [.. kinds.Select((kind, k) => new SegmentEntry(kind, cuts[k], cuts[k + 1],
                HeightAt(cuts[k + 1] - start) - HeightAt(cuts[k] - start),
                -(HeightAt(cuts[k + 1] - start) - HeightAt(cuts[k] - start)) / (cuts[k + 1] - cuts[k]), 0.97 - 0.03 * (k % 3)))],
            Wind = Gps
                ? new WindEntry(WindEastMps, WindNorthMps, 4.14, 250, 0.21)
                : new WindEntry(null, null, null, null, null),
            Turbulence = Gps ? new TurbulenceEntry(0.11 + 0.012 * (i % 5), 0.09, 0.19) : new TurbulenceEntry(null, null, null),
            Ride = new RideEntry(Accelerometer ? 0.16 + 0.012 * (i % 5) - 0.0004 * ballastG : null, Gps ? 0.42 + 0.02 * (i % 4) : null),
            Lift = Lift ? new LiftEntry(2, 0.83, 1.8, 1.4, 2.3) : new LiftEntry(0, null, null, null, null),
        };
    }

    /// <summary>Height over the launch point at a time of flight, m: launch, glide, climb, glide, climb, glide home.</summary>
    private double HeightAt(double t)
    {
        (double T, double H)[] knots = Lift
            ? [(0, 0), (4, 52), (48, 33), (112, 86), (160, 62), (196, 91), (252, 14), (264, 0), (400, 0)]
            : [(0, 0), (4, 52), (120, 9), (131, 0), (400, 0)];
        int k = 1;
        while (t > knots[k].T)
        {
            k++;
        }

        return knots[k - 1].H + (knots[k].H - knots[k - 1].H) * (t - knots[k - 1].T) / (knots[k].T - knots[k - 1].T);
    }

    private FlightTrace Trace(int i)
    {
        var noise = new Random(100 + i);
        int n = Lift ? 1340 : 670;
        double[] time = new double[n], height = new double[n], east = new double[n], north = new double[n], speed = new double[n];
        double x = 0, y = 0, heading = 0.4 + 0.5 * i;
        for (int k = 0; k < n; k++)
        {
            double t = 0.2 * k, v = 7 + 2 * Math.Sin(t / 17);
            bool circling = Lift && t is (> 48 and < 112) or (> 160 and < 196);
            heading += circling ? 0.2 * 0.75 : 0.2 * (0.02 * Math.Sin(t / 9) + (t > 196 ? 0.02 * (4.0 - heading % 6.28) : 0));
            x += 0.2 * (v * Math.Sin(heading) + (circling ? WindEastMps : 0.4 * WindEastMps));
            y += 0.2 * (v * Math.Cos(heading) + (circling ? WindNorthMps : 0.4 * WindNorthMps));
            time[k] = Start(i) + t;
            height[k] = HeightAt(t) + 1.4 * Math.Sin(t / 3) * (t is > 6 and < 250 ? 1 : 0) + 0.2 * noise.NextDouble();
            east[k] = Gps ? x : double.NaN;
            north[k] = Gps ? y : double.NaN;
            speed[k] = Gps ? v : double.NaN;
        }

        return new FlightTrace(time, height, east, north, speed);
    }
}
