using ThermalTrace.Decisions;
using ThermalTrace.Sessions;

namespace ThermalTrace.Ballast;

/// <summary>How a stick fills its tube.</summary>
internal enum StickForm
{
    /// <summary>As thick as the bore lets in, and so as short as can be.</summary>
    Slug,
    /// <summary>As long as the tube lets in, and thinner.</summary>
    Rod,
}

/// <summary>A stick to build.</summary>
/// <param name="Material">Of what.</param>
/// <param name="Form">How it fills the tube.</param>
/// <param name="DiameterMm">mm.</param>
/// <param name="LengthMm">mm, with the bounds that material and rod leave open.</param>
/// <param name="MostMassG">What the tube could take of it in that diameter, g, with the same bounds; 0 where it does not go into the bore.</param>
/// <param name="Fits">Into bore and length, at the usual density.</param>
/// <param name="CentreMm">Where its middle goes, mm aft of the datum; NaN where it does not fit.</param>
internal sealed record Stick(Material Material, StickForm Form, double DiameterMm, Band LengthMm, Band MostMassG, bool Fits, double CentreMm)
{
    /// <summary>The stick at its place, as long as it is at the usual density.</summary>
    public PlacedMass Placed(double massG) => Placed(massG, LengthMm.Value);

    /// <summary>The stick at its place at another length.</summary>
    public PlacedMass Placed(double massG, double lengthMm) => new(massG, DiameterMm, lengthMm, CentreMm);
}

/// <summary>Which sticks of a mass go into a tube, and where they lie. docs/models/stick.md.</summary>
internal static class StickMaker
{
    /// <summary>Rods are sold in steps of this diameter, mm. Common practice, no source.</summary>
    public const double RodStepMm = 0.5;

    /// <summary>Room all around without which a stick may not slide any more, mm: paint, dirt, heat and cold. Common practice, no source.</summary>
    public const double LeastGapMm = 0.1;

    /// <summary>Room fore and aft, both ends together, for the lock and for heat, mm. Common practice, no source.</summary>
    public const double EndPlayMm = 1;

    /// <summary>By so much a rod may be thinner than it is called, mm: drawn rod is sold at or under its size. Common practice, no source.</summary>
    public const double RodUnderMm = 0.05;

    /// <summary>The sticks, material by material, the slug first.</summary>
    /// <param name="airframe">The model.</param>
    /// <param name="tube">Where they go.</param>
    /// <param name="asked">How heavy, and what of.</param>
    public static IReadOnlyList<Stick> Make(Airframe airframe, BallastTube tube, StickAsked asked)
    {
        List<Stick> sticks = [];
        foreach (Material material in asked.Materials)
        {
            if (asked.DiameterMm is { } owned)
            {
                sticks.Add(Of(airframe, tube, asked, material, StickForm.Rod, owned));
                continue;
            }
            double thickest = SlugMm(tube.BoreMm);
            sticks.Add(Of(airframe, tube, asked, material, StickForm.Slug, thickest));
            // The thinnest that is sold and still short enough, however light it turns out.
            for (double thin = RodStepMm; thin < thickest - 1e-9; thin += RodStepMm)
            {
                Stick rod = Of(airframe, tube, asked, material, StickForm.Rod, thin);
                if (rod.LengthMm.High <= UsableMm(tube))
                {
                    sticks.Add(rod);
                    break;
                }
            }
        }
        return sticks;
    }

    /// <summary>What the tube takes in length, mm.</summary>
    public static double UsableMm(BallastTube tube) => tube.LengthMm - EndPlayMm;

    /// <summary>Room all around, mm; negative where it does not go in.</summary>
    public static double GapMm(BallastTube tube, double diameterMm) => Math.Round((tube.BoreMm - diameterMm) / 2, 6); // 8.2 less 8 is not 0.2 to the last bit

    /// <summary>The thickest rod sold that slides in a bore, mm; in a bore narrower than the thinnest rod, what is left of it.</summary>
    public static double SlugMm(double boreMm)
    {
        double room = boreMm - 2 * LeastGapMm;
        return room < RodStepMm ? room : Math.Floor(room / RodStepMm + 1e-9) * RodStepMm;
    }

    private static Stick Of(Airframe airframe, BallastTube tube, StickAsked asked, Material material, StickForm form, double diameterMm)
    {
        double thinMm = Math.Max(diameterMm - RodUnderMm, diameterMm / 2), usable = UsableMm(tube);
        Band length = new(Materials.CylinderLengthMm(material.DensityGCm3, diameterMm, asked.BallastG),
            Materials.CylinderLengthMm(material.HighGCm3, diameterMm, asked.BallastG), Materials.CylinderLengthMm(material.LowGCm3, thinMm, asked.BallastG));
        bool goesIn = diameterMm < tube.BoreMm, fits = goesIn && length.Value <= usable;
        Band most = goesIn && usable > 0
            ? new(Materials.CylinderG(material.DensityGCm3, diameterMm, usable), Materials.CylinderG(material.LowGCm3, thinMm, usable), Materials.CylinderG(material.HighGCm3, diameterMm, usable))
            : new(0, 0, 0);
        return new Stick(material, form, diameterMm, length, most, fits, fits ? CentreMm(airframe, tube, asked, length.Value) : double.NaN);
    }

    /// <summary>Where its middle has to lie for the wish, or as near to that as the tube lets it; in the tube's middle where the model's balance is not known.</summary>
    private static double CentreMm(Airframe airframe, BallastTube tube, StickAsked asked, double lengthMm)
    {
        double play = Math.Max(0, (UsableMm(tube) - lengthMm) / 2);
        return airframe.CgMm is { } cg
            ? Math.Clamp(MassBalance.CentroidForMm(airframe.UnballastedMassG, cg, asked.BallastG, -asked.CgForwardMm), tube.CentreMm - play, tube.CentreMm + play)
            : tube.CentreMm;
    }
}
