using ThermalTrace.Ballast;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Sessions;

namespace ThermalTrace.Advice;

/// <summary>Why an option is never suggested.</summary>
internal enum Refusal
{
    /// <summary>It may be.</summary>
    None,
    /// <summary>Above the limit of flying mass.</summary>
    Mass,
    /// <summary>No place in the tube keeps the centre of gravity within its limits.</summary>
    Balance,
}

/// <summary>One ballast that could be fitted.</summary>
/// <param name="Option">As it is compared.</param>
/// <param name="Listed">True for <c>ballast_options_g</c> and what was flown; false for what only the pieces make.</param>
/// <param name="Refusal">Why it is never suggested.</param>
internal sealed record BallastChoice(Option Option, bool Listed, Refusal Refusal);

/// <summary>
/// What can be fitted: every mass listed, every mass flown, and in between what the pieces owned make in the tube. Above the mass limit or
/// outside the balance limits it is shown and never suggested. docs/models/advice.md.
/// </summary>
/// <param name="All">Rising by ballast; the index is that of the departure.</param>
/// <param name="BalanceKnown">True where the centre of gravity could be checked.</param>
/// <param name="FitKnown">False where pieces were added up with no tube to fit them into.</param>
internal sealed record BallastChoices(IReadOnlyList<BallastChoice> All, bool BalanceKnown, bool FitKnown)
{
    private const int Most = 12;          // more stand closer than anybody could feel, and cost time
    private const double LeastStep = 0.01; // of the bare mass: closer sums are one to the pilot
    private const double SameMassG = 0.11; // a listed mass that the pieces make to a step of the scale is made of them
    private const double AboveG = 1e-6;   // rounding of a sum; a limit is a limit

    /// <summary>The options.</summary>
    public IReadOnlyList<Option> Options => [.. All.Select(c => c.Option)];

    /// <summary>For a model.</summary>
    /// <param name="model">The season's.</param>
    /// <param name="alsoG">A ballast that was fitted today, or null: shown, and suggested only within what is listed or was flown, for it may be a slip of the finger.</param>
    public static BallastChoices Of(SeasonModel model, double? alsoG = null)
    {
        Airframe airframe = model.Airframe;
        FlightFact[] flown = [.. model.Sessions.SelectMany(s => s.Evidence.Flights).Where(f => f is { Counts: true, BallastG: not null })];
        List<double> masses = [];
        void Add(double ballastG)
        {
            if (!masses.Any(m => Math.Abs(m - ballastG) < TunedDrag.SameBallastG))
            {
                masses.Add(ballastG);
            }
        }
        foreach (double ballast in airframe.BallastOptionsG.Concat(flown.Select(f => f.BallastG!.Value).Distinct()))
        {
            Add(ballast);
        }
        double heaviestListed = masses.Count == 0 ? 0 : masses.Max();
        bool own = masses.Count > 0;
        if (!own)
        {
            Add(0);
        }
        if (alsoG is { } also)
        {
            Add(also);
        }
        int listed = masses.Count;
        // What the maker allows; without his word, no more than the pilot has listed or flown.
        double most = Math.Min((airframe.MaxFlyingMassG ?? double.PositiveInfinity) - airframe.UnballastedMassG, own || airframe.MaxFlyingMassG is null ? heaviestListed : double.PositiveInfinity);
        IReadOnlyList<StockSum> sums = airframe.BallastStock.Count == 0 || !(most > 0) ? [] : StockSums.Of(airframe, most);
        FillGaps(masses, [.. sums.Select(s => s.MassG).Where(m => m >= masses.Min())], LeastStep * airframe.UnballastedMassG);
        double limit = airframe.MaxFlyingMassG ?? double.PositiveInfinity;
        List<BallastChoice> all = [];
        foreach ((double ballast, int place) in masses.Select((m, i) => (m, i)).OrderBy(m => m.m))
        {
            double[] weighed = [.. flown.Where(f => Math.Abs(f.BallastG!.Value - ballast) < TunedDrag.SameBallastG).Select(f => f.MassKg)];
            double massKg = weighed.Length > 0 ? weighed.Average() : (airframe.UnballastedMassG + ballast) / 1000;
            double length = sums.Where(s => Math.Abs(s.MassG - ballast) < SameMassG).Select(s => s.LengthMm).DefaultIfEmpty(0).Min();
            Refusal refusal = massKg * 1000 > limit + AboveG || (airframe.MaxFlyingMassG is null && ballast > heaviestListed + AboveG) ? Refusal.Mass
                : !MassBalance.CanBalance(airframe, ballast, length) ? Refusal.Balance
                : Refusal.None;
            all.Add(new BallastChoice(new Option(ballast, massKg, all.Count, refusal == Refusal.None), place < listed, refusal));
        }
        return new BallastChoices(all, airframe is { CgMm: not null, CgLimitsMm: not null, BallastTube: not null }, airframe.BallastTube is not null || all.All(c => c.Listed));
    }

    /// <summary>Adds sums where the gap is widest, until none is left that the pilot could tell from its neighbours.</summary>
    private static void FillGaps(List<double> masses, List<double> sums, double leastStepG)
    {
        double[] apart = [.. sums.Select(s => masses.Min(m => Math.Abs(m - s)))];
        while (masses.Count < Most && apart.Length > 0)
        {
            int widest = Array.IndexOf(apart, apart.Max());
            if (!(apart[widest] >= leastStepG))
            {
                return;
            }
            masses.Add(sums[widest]);
            for (int i = 0; i < apart.Length; i++)
            {
                apart[i] = Math.Min(apart[i], Math.Abs(sums[i] - sums[widest]));
            }
        }
    }
}
