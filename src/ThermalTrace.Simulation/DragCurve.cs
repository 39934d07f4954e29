namespace ThermalTrace.Simulation;

/// <summary>
/// Drag of a whole airframe over lift coefficient and Reynolds number. More terms than any polar that the estimator
/// fits: skin friction, a laminar bucket whose width moves with Reynolds number, a separation bubble at low Reynolds
/// number, fuselage and tail with their own exponent, induced drag whose efficiency falls with lift, and a rise before a
/// stall that comes later at higher Reynolds number.
/// </summary>
internal sealed record DragCurve
{
    private const double ReferenceReynolds = 1e5;

    /// <summary>Span squared over area.</summary>
    public required double AspectRatio { get; init; }

    /// <summary>Wing's profile drag coefficient in the bucket at Reynolds number 100 000.</summary>
    public required double ProfileDrag { get; init; }

    /// <summary>Exponent of its fall with Reynolds number.</summary>
    public double ReynoldsExponent { get; init; } = 0.45;

    /// <summary>Fuselage and tail at Reynolds number 100 000.</summary>
    public required double BodyDrag { get; init; }

    /// <summary>Lift coefficient at the bucket's middle.</summary>
    public double BucketMiddle { get; init; } = 0.45;

    /// <summary>Half its width at Reynolds number 100 000.</summary>
    public double BucketHalfWidth { get; init; } = 0.28;

    /// <summary>Drag per squared lift coefficient outside the bucket.</summary>
    public double BucketRise { get; init; } = 0.03;

    /// <summary>Drag of the separation bubble as Reynolds number goes to zero.</summary>
    public double BubbleDrag { get; init; } = 0.005;

    /// <summary>Span efficiency at zero lift.</summary>
    public double SpanEfficiency { get; init; } = 0.93;

    /// <summary>Greatest lift coefficient at Reynolds number 100 000.</summary>
    public double MaxLift { get; init; } = 1.12;

    /// <summary>Drag coefficient at a lift coefficient and a Reynolds number on the mean chord.</summary>
    public double Drag(double liftCoefficient, double reynolds)
    {
        double re = Math.Max(reynolds, 8_000) / ReferenceReynolds;
        double logRe = Math.Log(re);
        double profile = ProfileDrag * Math.Exp(-ReynoldsExponent * logRe);
        double body = BodyDrag * Math.Exp(-0.2 * logRe);
        double halfWidth = BucketHalfWidth * Math.Exp(0.3 * logRe);
        double outside = Math.Max(0, Math.Abs(liftCoefficient - BucketMiddle) - halfWidth);
        double bucket = BucketRise * outside * outside;
        double hump = (liftCoefficient - 0.5) / 0.45;
        double bubble = BubbleDrag * Math.Exp(-1.6 * re - hump * hump);
        double efficiency = SpanEfficiency * (1 - 0.05 * liftCoefficient * liftCoefficient);
        double induced = liftCoefficient * liftCoefficient / (Math.PI * AspectRatio * efficiency);
        double nearStall = Math.Max(0, liftCoefficient - (MaxLiftAt(reynolds) - 0.18));
        double stall = 0.9 * nearStall * nearStall + 12 * nearStall * nearStall * nearStall * nearStall;
        return profile + body + bucket + bubble + induced + stall;
    }

    /// <summary>Greatest lift coefficient at a Reynolds number.</summary>
    public double MaxLiftAt(double reynolds) =>
        MaxLift + 0.1 * Math.Log(Math.Max(reynolds, 8_000) / ReferenceReynolds);

    /// <summary>Slope of lift over angle of attack, 1/rad; Helmbold's formula.</summary>
    public double LiftSlope => 2 * Math.PI * AspectRatio / (2 + Math.Sqrt(AspectRatio * AspectRatio + 4));
}
