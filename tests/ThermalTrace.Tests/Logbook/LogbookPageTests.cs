using ThermalTrace.Logbook;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Logbook;

public sealed class LogbookPageTests
{
    [Fact]
    public void EveryColumnOfAnExport_IsDocumentedWithItsMeaning()
    {
        string page = File.ReadAllText(Path.Combine(SharedFolder.Repository, "docs", "logbook.md"));
        foreach (KeptTable table in KeptTables.All)
        {
            string section = page[page.IndexOf($"### {table.Name}: {table.Meaning}\n", StringComparison.Ordinal)..];
            Assert.All(table.Columns, c => Assert.Contains($"| `{c.Name}` | {c.Meaning} |\n", section, StringComparison.Ordinal));
        }
    }
}
