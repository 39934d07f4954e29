using Microsoft.ML;

namespace ThermalTrace.Learning;

/// <summary>Asks a trained model; where that is not chosen, or far from what it was trained on, physics stands.</summary>
internal sealed class LearnedGain
{
    private const double MostLog = 0.3; // no habit of a pilot is worth more
    private const double Margin = 0.05; // of a feature's range, beyond which is far

    private readonly PredictionEngine<ClimbFeatures, ClimbMissed> _engine;
    private readonly TrainedModel _model;

    private LearnedGain(TrainedModel model)
    {
        _model = model;
        MLContext ml = new(1);
        using MemoryStream stream = new(model.Bytes);
        _engine = ml.Model.CreatePredictionEngine<ClimbFeatures, ClimbMissed>(ml.Model.Load(stream, out _));
    }

    /// <summary>Null where physics was chosen.</summary>
    public static LearnedGain? Of(LearnedPart part) => part.Model is { } model ? new LearnedGain(model) : null;

    /// <summary>By what the lift kept departs from physics, as a factor.</summary>
    public double For(double massRatio, double wingLoadingKgM2, double edr, double windMps, double liftMps)
    {
        float[] features = ClimbFeatures.Of(edr, windMps, wingLoadingKgM2, massRatio, _model.InsideOfBare * massRatio, liftMps, _model.CgMm);
        for (int f = 0; f < ClimbFeatures.Count; f++)
        {
            double range = _model.High[f] - _model.Low[f];
            if (!(features[f] >= _model.Low[f] - Margin * range && features[f] <= _model.High[f] + Margin * range))
            {
                return 1;
            }
        }
        return Math.Exp(Math.Clamp(_engine.Predict(new ClimbFeatures { Features = features }).Log, -MostLog, MostLog));
    }
}
