using ThermalTrace.Ballast;
using ThermalTrace.Reports;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Reports.Fitting;

/// <summary>Fittings put together by hand for the tests of what people read: masses and balance are reckoned, the choice of pieces is not.</summary>
internal static class ExamplePieces
{
    private static readonly AirframeEntry Tern = new("Tern 15", 1500, 22.4, 262, 345, "discus");
    private static readonly TubeEntry TernTube = new(10, 110, 72);
    private static readonly AirframeEntry Osprey = new("Osprey 40", 4000, 78, 4150, 6200, "winch");
    private static readonly TubeEntry OspreyTube = new(25, 400, 118);

    public static readonly PieceEntry Brass15 = new("brass 15", "brass", 15, 9.5, 24.9, null);
    public static readonly PieceEntry Brass8 = new("brass 8", "brass", 8, 9.5, 13.3, null);
    public static readonly PieceEntry Tungsten15 = new("tungsten 15", "tungsten", 15, 9.5, 11, null);
    public static readonly PieceEntry Tungsten5 = new("tungsten 5", "tungsten", 5, 9.5, 3.7, null);

    /// <summary>45 g asked for a discus model: the centre of gravity stays.</summary>
    public static PiecesDocument Tern45 => Document(Tern, TernTube, 72, Fitting(Tern, TernTube, 72, 45, [Brass15, Tungsten15, Brass15])) with
    {
        Alternatives =
        [
            Fitting(Tern, TernTube, 72, 45, [Brass15, Brass15, Tungsten15]) with { TradeOff = "0.3 mm of CG given away for one spacer less.", AsWished = false },
            Fitting(Tern, TernTube, 72, 45, [Tungsten15, Tungsten5, Tungsten5, Brass8, Brass8]) with { TradeOff = "4 g short, and a fifth less added to pitch inertia." },
        ],
        Effects = Effects(262, 45),
    };

    /// <summary>The same model, all steps and what the stock makes.</summary>
    public static PiecesDocument TernSteps => Document(Tern, TernTube, 72, Asked(Tern)) with
    {
        Steps =
        [
            Fitting(Tern, TernTube, 72, 0, []),
            Fitting(Tern, TernTube, 72, 5, [Tungsten5]),
            Fitting(Tern, TernTube, 72, 10, [Tungsten5, Tungsten5]),
            Fitting(Tern, TernTube, 72, 15, [Tungsten15]),
            Fitting(Tern, TernTube, 72, 20, [Tungsten15, Tungsten5]),
            Fitting(Tern, TernTube, 72, 25, [Tungsten5, Tungsten15, Tungsten5]),
            Fitting(Tern, TernTube, 72, 30, [Tungsten15, Brass15]),
            Fitting(Tern, TernTube, 72, 35, [Tungsten5, Brass15, Tungsten15]),
            Fitting(Tern, TernTube, 72, 42, [Tungsten5, Brass15, Tungsten15, Tungsten5]) with { AsWished = false },
            Fitting(Tern, TernTube, 72, 45, [Brass15, Tungsten15, Brass15]),
            Fitting(Tern, TernTube, 72, 53, [Brass15, Tungsten15, Brass15, Brass8]),
            Fitting(Tern, TernTube, 72, 61, [Brass8, Brass15, Tungsten15, Brass15, Brass8]),
        ],
        Stock = new StockEntry(83, 31, [new GapEntry(63.5, 70), new GapEntry(1.3, 3.7)], [new NewPieceEntry("brass", 2, 9.5, 3.3), new NewPieceEntry("tungsten", 7.5, 9.5, 5.5), new NewPieceEntry("tungsten", 20, 9.5, 14.7)], [new GapEntry(79, 83)]),
        Effects = Effects(262, 61),
    };

    /// <summary>A tube of 400 mm: longer than paper.</summary>
    public static PiecesDocument Osprey900
    {
        get
        {
            PieceEntry lead = new("lead 420", "lead", 420, 24, 82, null), steel = new("steel slug 60", "steel", 60, 24, 17, null);
            return Document(Osprey, OspreyTube, 121, Fitting(Osprey, OspreyTube, 121, 950, [steel, lead, lead, steel]) with { Cautions = ["The mass is 10 g over the 950 g asked for."] }) with { CgForwardMm = 1.2, AsWished = false, Effects = Effects(4150, 960) };
        }
    }

    /// <summary>Neither tube nor centre of gravity is known.</summary>
    public static PiecesDocument WithoutTube => Document(Tern with { MaxFlyingMassG = null }, null, null, Fitting(Tern, null, null, 45, [Brass15, Tungsten15, Brass15]) with { AsWished = false });

    /// <summary>Names that try to be markup, to turn the text around, to break the layout.</summary>
    public static PiecesDocument Hostile
    {
        get
        {
            AirframeEntry model = Tern with { Name = "<script>alert('air')</script>\u202Egnp\u0007 " + new string('W', 180) };
            PieceEntry script = new("<script>alert(1)</script>", "<b>brass</b>", 10, 9.5, 12, null), bidi = new("\u202Edaeh\u2066 \u001b[31mred مرحبا بالعالم", "lead\u202E", 12, 9, 14, null),
                endless = new(new string('W', 200), "\"><img src=x onerror=alert(2)>", 9.7, 9.5, 9, null), nameless = new(" \u0000", "", 3, 4, 2, null);
            FittingEntry fitting = Fitting(model, TernTube, 72, 40, [script, endless, nameless, bidi]) with { TradeOff = "<i>none</i>", Cautions = ["</li><script>alert(3)</script>"] };
            return Document(model, TernTube, 72, fitting) with
            {
                Alternatives = [fitting],
                Steps = [Fitting(model, TernTube, 72, 0, []), fitting, fitting with { BallastAskedG = 52 }],
                Stock = new StockEntry(83, 4, [], [new NewPieceEntry("<u>brass</u>", 2, 9.5, 3.3)], []),
                Effects = Effects(262, 40),
            };
        }
    }

    /// <summary>Forty pieces of two kinds in one tube, too thin for a letter inside.</summary>
    public static PiecesDocument Forty
    {
        get
        {
            PieceEntry disc = new("brass disc", "brass", 1.5, 9.5, 2.5, null), thin = new("tungsten disc", "tungsten", 2, 9.5, 1.5, null);
            PieceEntry[] pieces = [.. Enumerable.Repeat(disc, 12), .. Enumerable.Repeat(thin, 16), .. Enumerable.Repeat(disc, 11), thin];
            PieceEntry[] turns = [.. Enumerable.Range(0, 40).Select(i => i % 2 == 0 ? disc : thin)];
            return Document(Tern, TernTube, 72, Fitting(Tern, TernTube, 72, 69, pieces)) with { Steps = [.. Enumerable.Range(1, 8).Select(i => Fitting(Tern, TernTube, 72, 8 * i, turns[..(5 * i)]))] };
        }
    }

    public static readonly IReadOnlyDictionary<string, Func<PiecesDocument>> All = new Dictionary<string, Func<PiecesDocument>>
    {
        ["tern-45"] = () => Tern45,
        ["tern-steps"] = () => TernSteps,
        ["osprey"] = () => Osprey900,
        ["without-tube"] = () => WithoutTube,
        ["hostile"] = () => Hostile,
        ["forty"] = () => Forty,
    };

    /// <summary>For a session's results: how each option of theirs is fitted.</summary>
    public static (TubeEntry Tube, double CgMm, IReadOnlyList<FittingEntry> Fittings) ForSession(AirframeEntry airframe, params (double AskedG, PieceEntry[] Pieces)[] options) =>
        (TernTube, 72, [.. options.Select(o => Fitting(airframe, TernTube, 72, o.AskedG, o.Pieces) with { Cautions = [.. BallastCautions.Always, .. BallastCautions.ForLaunch(LaunchKind.Discus)] })]);

    /// <summary>Pieces end to end in the tube, their mass as near to the bare centre of gravity as the ends let it.</summary>
    public static FittingEntry Fitting(AirframeEntry airframe, TubeEntry? tube, double? bareCgMm, double askedG, PieceEntry[] pieces)
    {
        double mass = pieces.Sum(p => p.MassG), length = pieces.Sum(p => p.LengthMm);
        double front = tube is null ? 0 : tube.CentreMm - tube.LengthMm / 2, offset = 0;
        List<PieceEntry> placed = [];
        double moment = 0, at = 0;
        foreach (PieceEntry piece in pieces)
        {
            moment += piece.MassG * (at + piece.LengthMm / 2);
            at += piece.LengthMm;
        }
        offset = tube is null || pieces.Length == 0 ? 0 : Math.Clamp((bareCgMm ?? tube.CentreMm) - front - moment / mass, 0, tube.LengthMm - length);
        at = front + offset;
        foreach (PieceEntry piece in pieces)
        {
            placed.Add(piece with { CentreMm = tube is null ? null : Math.Round(at + piece.LengthMm / 2, 2) });
            at += piece.LengthMm;
        }
        PlacedMass[] masses = [.. placed.Where(p => p.CentreMm is not null).Select(p => new PlacedMass(p.MassG, p.DiameterMm, p.LengthMm, p.CentreMm!.Value))];
        double? cg = tube is null || bareCgMm is not { } bare ? null : MassBalance.CgMm(airframe.UnballastedMassG, bare, masses);
        double? added = cg is null ? null : MassBalance.AddedKgM2(airframe.UnballastedMassG, bareCgMm!.Value, masses);
        double usual = airframe.UnballastedMassG / 1000 * 0.01 * Math.Pow(airframe.WingSpanMm / 1000, 2);
        return new FittingEntry
        {
            BallastAskedG = askedG,
            BallastG = mass,
            FlyingMassG = airframe.UnballastedMassG + mass,
            Pieces = placed,
            SpacerFrontMm = tube is null ? null : Math.Round(offset, 2),
            SpacerRearMm = tube is null ? null : Math.Round(tube.LengthMm - length - offset, 2),
            CgMm = cg,
            CgChordPercent = 100 * cg / (airframe.WingAreaDm2 * 10_000 / airframe.WingSpanMm),
            CgShiftMm = cg - bareCgMm,
            StaticMarginPercent = 100 * (bareCgMm + 15 - cg) / (airframe.WingAreaDm2 * 10_000 / airframe.WingSpanMm),
            PitchInertiaAddedKgM2 = added,
            PitchPeriodRatio = added is { } a ? new Interval(Math.Sqrt(1 + a / usual), Math.Sqrt(1 + a / usual / 2.25), Math.Sqrt(1 + a / usual * 2.25)) : Interval.Unknown,
            AsWished = true,
            TradeOff = "",
            Cautions = [],
        };
    }

    private static FittingEntry Asked(AirframeEntry airframe) =>
        Fitting(airframe, null, null, 0, []) with { BallastAskedG = null, BallastG = null, FlyingMassG = null, CgMm = null, CgShiftMm = null, SpacerFrontMm = null, SpacerRearMm = null };

    private static PiecesDocument Document(AirframeEntry airframe, TubeEntry? tube, double? bareCgMm, FittingEntry answer) => new()
    {
        Program = "thermaltrace 0.1.0",
        Airframe = airframe,
        Tube = tube,
        BareCgMm = bareCgMm,
        CgLimitsMm = bareCgMm is { } cg ? [cg - 4, cg + 4] : [],
        CgForwardMm = 0,
        BallastAskedG = answer.BallastAskedG,
        BallastG = answer.BallastG,
        FlyingMassG = answer.FlyingMassG,
        Pieces = answer.Pieces,
        SpacerFrontMm = answer.SpacerFrontMm,
        SpacerRearMm = answer.SpacerRearMm,
        CgMm = answer.CgMm,
        CgChordPercent = answer.CgChordPercent,
        CgShiftMm = answer.CgShiftMm,
        StaticMarginPercent = answer.StaticMarginPercent,
        PitchInertiaAddedKgM2 = answer.PitchInertiaAddedKgM2,
        PitchPeriodRatio = answer.PitchPeriodRatio,
        AsWished = answer.AsWished,
        TradeOff = "",
        OwnCautions = answer.Cautions.Count,
        Cautions = [.. answer.Cautions, .. BallastCautions.Always, .. BallastCautions.ForLaunch(airframe.Launch == "winch" ? LaunchKind.Winch : LaunchKind.Discus), .. BallastCautions.ByMaterial(["brass", "tungsten"])],
        Alternatives = [],
        Steps = [],
        Stock = null,
        Effects = [],
    };

    private static IReadOnlyList<MassEffectEntry> Effects(double bareG, double ballastG) => [Effect(bareG, 0), Effect(bareG, ballastG)];

    private static MassEffectEntry Effect(double bareG, double ballastG)
    {
        double root = Math.Sqrt(1 + ballastG / bareG);
        Interval Around(double value, double half) => new(value, value - half, value + half);
        return new MassEffectEntry(ballastG, bareG + ballastG, Around(4.7 * root, 0.3), Around(5.4 * root, 0.4), Around(7.1 * root, 0.5), Around(6.2 * root * root, 0.9), Around(54 / root, 5), "prediction")
        {
            SpeedRatio = root,
            LaunchHeightRatio = new Interval(1 / root, 1 / (root * root), 1),
            LaunchFrom = "usual",
        };
    }
}
