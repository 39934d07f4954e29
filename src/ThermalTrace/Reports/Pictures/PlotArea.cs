namespace ThermalTrace.Reports.Pictures;

/// <summary>Where the area inside a picture's axes lies, px of its view box, and what the axes show: for putting things over it.</summary>
/// <param name="WidthPx">Of the whole picture.</param>
/// <param name="HeightPx">Of the whole picture.</param>
/// <param name="LeftPx">Of the area.</param>
/// <param name="TopPx">Of the area.</param>
/// <param name="InsideWidthPx">Of the area.</param>
/// <param name="InsideHeightPx">Of the area.</param>
/// <param name="XLow">At the area's left edge.</param>
/// <param name="XHigh">At its right edge.</param>
/// <param name="YLow">At its lower edge.</param>
/// <param name="YHigh">At its upper edge.</param>
public sealed record PlotArea(int WidthPx, int HeightPx, int LeftPx, int TopPx, int InsideWidthPx, int InsideHeightPx, double XLow, double XHigh, double YLow, double YHigh)
{
    /// <summary>Share of the picture's width, from the left, at which a value of x lies.</summary>
    public double ShareOfX(double x) => (LeftPx + (x - XLow) / (XHigh - XLow) * InsideWidthPx) / WidthPx;

    /// <summary>Share of the picture's height, from the top, at which a value of y lies.</summary>
    public double ShareOfY(double y) => (TopPx + (YHigh - y) / (YHigh - YLow) * InsideHeightPx) / HeightPx;

    /// <summary>The x at a share of the picture's width; held within the axis.</summary>
    public double XAt(double share) => double.IsFinite(share) ? Math.Clamp(XLow + (share * WidthPx - LeftPx) / InsideWidthPx * (XHigh - XLow), XLow, XHigh) : XLow;

    /// <summary>True where a value of x lies within the axis.</summary>
    public bool HasX(double x) => x >= XLow && x <= XHigh;
}
