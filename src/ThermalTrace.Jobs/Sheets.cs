using System.Globalization;
using ThermalTrace.Advice;
using ThermalTrace.Ballast;
using ThermalTrace.Reports.Card;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Reports.Plan;
using ThermalTrace.Reports.Stick;

namespace ThermalTrace.Jobs;

/// <summary>A page to print that was asked for: which, and its question as the command's options have it.</summary>
/// <param name="Kind">card, plan, pieces or stick.</param>
/// <param name="Whole">True where the sessions' own evidence is needed, not what was tuned of it alone.</param>
/// <param name="Write">Works it out and writes it, the same text as the command's file.</param>
internal sealed record Sheet(string Kind, bool Whole, Action<Season, TextWriter, CancellationToken> Write)
{
    /// <summary>The kinds of sheet.</summary>
    public static IReadOnlyList<string> Kinds { get; } = ["card", "plan", "pieces", "stick"];

    /// <summary>Reads the question.</summary>
    /// <param name="kind">One of <see cref="Kinds"/>.</param>
    /// <param name="form">What was typed.</param>
    /// <param name="now">The day that a card says it was made on, by the clock of this machine.</param>
    /// <exception cref="WrongUsageException">Something cannot be used or is missing.</exception>
    public static Sheet Of(string kind, TypedForm form, DateTime now) => kind switch
    {
        "card" => Card(now),
        "plan" => Plan(form),
        "pieces" => Pieces(form),
        "stick" => Stick(form),
        _ => throw new ArgumentException($"{kind} is no sheet", nameof(kind)),
    };

    /// <summary>The day as cards say it.</summary>
    public static string Day(DateTime now) => now.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static Sheet Card(DateTime now) =>
        new("card", false, (season, writer, cancel) => CardPage.Write(writer, FieldCard.Run(season, new FieldCardOptions { Made = Day(now) }, cancel)));

    private static Sheet Plan(TypedForm form)
    {
        PlanAsked asked = new()
        {
            WindMps = form.Condition(AskedText.Wind),
            LiftMps = form.Condition(AskedText.Lift),
            Edr = form.Condition(AskedText.Turbulence),
            Flights = form.Flights(),
        };
        form.Require();
        return new("plan", true, (season, writer, cancel) => PlanSheet.Write(writer, FlightPlan.Run(season, asked, cancel)));
    }

    private static Sheet Pieces(TypedForm form)
    {
        PiecesAsked asked = new()
        {
            BallastG = form.Single(AskedText.Ballast),
            CgForwardMm = (form.Single(AskedText.CgForward) ?? 0) * 1000,
            AllSteps = true,
            StepG = form.Single(AskedText.Step),
        };
        form.Require();
        return new("pieces", false, (season, writer, cancel) => PiecesPage.Write(writer, BallastPieces.Run(season, asked, cancel)));
    }

    private static Sheet Stick(TypedForm form)
    {
        double? ballast = form.Single(AskedText.StickBallast);
        IReadOnlyList<Material> named = form.Materials();
        StickAsked asked = new()
        {
            BallastG = ballast ?? 0,
            CgForwardMm = (form.Single(AskedText.CgForward) ?? 0) * 1000,
            Materials = named.Count > 0 ? named : Materials.Usual,
            DiameterMm = form.Single(AskedText.Diameter) * 1000,
            ThrowSpeedMps = form.Range(AskedText.ThrowSpeed),
            ThrowRadiusM = form.Range(AskedText.ThrowRadius),
        };
        if (ballast is null)
        {
            form.Complain(AskedText.StickBallast.Name, "--ballast is missing; expected the mass to build, such as 45 (grams) or 1.5oz");
        }
        form.Require();
        return new("stick", false, (season, writer, _) => StickPage.Write(writer, BallastStick.Run(season, asked)));
    }
}
