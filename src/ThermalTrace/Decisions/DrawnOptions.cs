using ThermalTrace.Polars;
using ThermalTrace.Units;

namespace ThermalTrace.Decisions;

/// <summary>
/// The options in draws of the drag terms: level polar and circles of each, worked out once and good for any wind and lift.
/// True airspeeds; in thin air speeds and sinks grow alike (the Reynolds number's small change with it is left out).
/// </summary>
internal sealed class DrawnOptions
{
    private readonly double _bareMassKg, _thin;
    private readonly double[][] _coefficients;
    private readonly double[] _mean;
    private readonly double[][] _speeds;
    private readonly double[][][][] _factors;
    private readonly ClimbModel[] _models;
    private readonly SinkCurve?[,] _level;
    private readonly double[]?[,] _circleSinks;
    private readonly double[] _gains;

    /// <summary>Prepares the options.</summary>
    /// <param name="options">At least one.</param>
    /// <param name="bareMassKg">Mass without ballast, kg.</param>
    /// <param name="maker">Curves.</param>
    /// <param name="draws">Draws of the coefficients.</param>
    /// <param name="most">No more draws than this are used, taken evenly.</param>
    /// <param name="densityKgM3">Air density.</param>
    public DrawnOptions(IReadOnlyList<Option> options, double bareMassKg, CurveMaker maker, double[][] draws, int most,
        double densityKgM3 = PhysicalConstants.SeaLevelDensityKgM3)
    {
        (Options, _bareMassKg) = (options, bareMassKg);
        _thin = Math.Sqrt(PhysicalConstants.SeaLevelDensityKgM3 / densityKgM3);
        int count = Math.Min(most, draws.Length), stride = Math.Max(1, draws.Length / count);
        _coefficients = [.. Enumerable.Range(0, count).Select(d => draws[d * stride % draws.Length])];
        _mean = [.. Enumerable.Range(0, maker.Terms.Count).Select(j => draws.Average(d => d[j]))];
        _speeds = [.. options.Select(o => maker.Speeds(o.MassKg))];
        _factors = [.. options.Select((o, k) => maker.Factors(_speeds[k], o.MassKg, o.Ballast))];
        _models = [.. options.Select(o => new ClimbModel(maker, o.MassKg, bareMassKg, o.Ballast))];
        _level = new SinkCurve?[options.Count, count];
        _circleSinks = new double[]?[options.Count, count];
        _gains = [.. options.Select(_ => 1.0)];
    }

    private DrawnOptions(DrawnOptions from, double[] gains)
    {
        (Options, _bareMassKg, _thin, _coefficients, _mean) = (from.Options, from._bareMassKg, from._thin, from._coefficients, from._mean);
        (_speeds, _factors, _models, _level, _circleSinks, _gains) = (from._speeds, from._factors, from._models, from._level, from._circleSinks, gains);
    }

    /// <summary>The same options, each keeping so much more of the lift than physics says: what was learned of the pilot.</summary>
    /// <param name="gains">A factor for each option.</param>
    public DrawnOptions WithGains(IEnumerable<double> gains) => new(this, [.. gains]);

    /// <summary>What can be chosen.</summary>
    public IReadOnlyList<Option> Options { get; }

    /// <summary>Number of draws.</summary>
    public int Draws => _coefficients.Length;

    /// <summary>Drag coefficients of a draw.</summary>
    public double[] Coefficients(int draw) => _coefficients[draw];

    /// <summary>Mass of an option over that of the bare model.</summary>
    public double MassRatio(int option) => Options[option].MassKg / _bareMassKg;

    /// <summary>Polar in level flight.</summary>
    public SinkCurve Level(int option, int draw) => _level[option, draw] ??= Level(option, _coefficients[draw]);

    /// <summary>Polar in level flight at the draws' mean.</summary>
    public SinkCurve MeanLevel(int option) => Level(option, _mean);

    /// <summary>Best climb over the lift's core.</summary>
    public ClimbCurve Climb(int option, int draw, Lift lift)
    {
        double[] sinks = _circleSinks[option, draw] ??= [.. _models[option].Sinks(_coefficients[draw]).Select(s => s * _thin)];
        ClimbCurve curve = _models[option].WithSinks(sinks, lift with { RadiusM = lift.RadiusM / (_thin * _thin) });
        double gain = _gains[option];
        return gain == 1 ? curve : new ClimbCurve([.. curve.Gains.Select(g => g * gain)], curve.SinksMps);
    }

    private SinkCurve Level(int option, double[] coefficients)
    {
        double[] speeds = _speeds[option], sinks = CurveMaker.Sinks(_factors[option], speeds, coefficients);
        return _thin == 1 ? new SinkCurve(speeds, sinks) : new SinkCurve([.. speeds.Select(v => v * _thin)], [.. sinks.Select(s => s * _thin)]);
    }
}
