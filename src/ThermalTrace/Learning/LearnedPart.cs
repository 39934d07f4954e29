namespace ThermalTrace.Learning;

/// <summary>What is learned beyond physics, compared by leaving whole sessions out. docs/models/season.md eq. 8.</summary>
/// <param name="Kind">physics, linear, additive or tree: the simplest within one standard error of the best.</param>
/// <param name="CrossValidatedErrorMps">Root mean square error of a climb in sessions left out, of the kind chosen; null where it was not tried.</param>
/// <param name="PhysicsOnlyErrorMps">The same of physics alone.</param>
/// <param name="Compared">Every kind with its error.</param>
/// <param name="Why">One sentence for the pilot.</param>
public sealed record LearnedPart(string Kind, double? CrossValidatedErrorMps, double? PhysicsOnlyErrorMps, IReadOnlyList<LearnerScore> Compared, string Why)
{
    /// <summary>Physics alone, nothing compared.</summary>
    public static readonly LearnedPart NotTried = new("physics", null, null, [], "The advice rests on physics: there are too few sessions to learn anything beyond it.");

    /// <summary>The trained model; null for physics.</summary>
    public TrainedModel? Model { get; init; }
}

/// <summary>A trained model as it is stored, and where it may be believed.</summary>
/// <param name="Bytes">As the learning library writes it.</param>
/// <param name="Low">Least of each feature in what it was trained on.</param>
/// <param name="High">Greatest.</param>
/// <param name="InsideOfBare">Circle's radius over the usual thermal's, for the bare model.</param>
/// <param name="CgMm">Usual centre of gravity; 0 where none was noted.</param>
public sealed record TrainedModel(byte[] Bytes, IReadOnlyList<float> Low, IReadOnlyList<float> High, double InsideOfBare, double CgMm);

/// <summary>How one kind of learner did.</summary>
/// <param name="Kind">physics, linear, additive or tree.</param>
/// <param name="ErrorMps">Root mean square over climbs of sessions left out.</param>
/// <param name="WorseBy">Mean square error above the best kind's, m²/s².</param>
/// <param name="StandardError">Of the best kind's mean square error, over sessions: within one of it the simplest is kept.</param>
public sealed record LearnerScore(string Kind, double ErrorMps, double WorseBy, double StandardError);
