using ThermalTrace.Reports.Page;

namespace ThermalTrace.Reports;

/// <summary>The report's style sheet, for pages that show parts of it: font, colours for light and dark, tables and pictures.</summary>
public static class PageStyle
{
    /// <summary>The text of the sheet; needs nothing else.</summary>
    public static string Text() => StyleSheet.Write();
}
