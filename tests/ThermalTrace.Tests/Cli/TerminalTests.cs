using ThermalTrace.Cli;

namespace ThermalTrace.Tests.Cli;

public sealed class TerminalTests
{
    [Theory]
    [InlineData("plain", "plain")]
    [InlineData("Höhe [ft] 高度", "Höhe [ft] 高度")]
    [InlineData("\u001b[2Jgone", "\uFFFD[2Jgone")]
    [InlineData("a\rb\u0007", "a\uFFFDb\uFFFD")]
    [InlineData("a\tb", "a b")]
    [InlineData("gpj.\u202Efile", "gpj.\uFFFDfile")]
    [InlineData("\u009b31m", "\uFFFD31m")]
    public void UntrustedText_CannotSteerATerminal(string text, string visible) => Assert.Equal(visible, Terminal.Visible(text));

    [Fact]
    public void AMessageOfSeveralLines_IsSaidLineByLine()
    {
        using StringWriter messages = new() { NewLine = "\n" };
        new Terminal(TextWriter.Null, messages).Say("a.csv:1: one\nb.csv:2: two\u001b");
        Assert.Equal("a.csv:1: one\nb.csv:2: two\uFFFD\n", messages.ToString());
    }
}
