using System.Collections.Concurrent;
using System.Security.Cryptography;

namespace ThermalTrace.Pages.Serving;

/// <summary>
/// Who may see the pages: a browser that came with an address from the terminal. An address lets one browser in, once; from then on a cookie
/// knows it again, for as long as the program runs.
/// </summary>
internal sealed class Admission
{
    private const int Bytes = 32; // as hard to guess as a key of 256 bits

    private readonly ConcurrentDictionary<string, byte> _invitations = new(StringComparer.Ordinal), _admitted = new(StringComparer.Ordinal);

    /// <summary>A new word that lets one browser in.</summary>
    public string Invite()
    {
        string word = Word();
        _invitations[Hash(word)] = 0;
        return word;
    }

    /// <summary>Takes an invitation; it is gone then.</summary>
    /// <returns>The cookie's value; null where there is no such invitation.</returns>
    public string? Accept(string? word)
    {
        if (word is null || !_invitations.TryRemove(Hash(word), out _))
        {
            return null;
        }
        string cookie = Word();
        _admitted[Hash(cookie)] = 0;
        return cookie;
    }

    /// <summary>True for the cookie of a browser that was let in.</summary>
    public bool Knows(string? cookie) => cookie is not null && _admitted.ContainsKey(Hash(cookie));

    private static string Word() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(Bytes));

    // Looked up by hash: how long a look takes tells nothing of the word itself.
    private static string Hash(string word) => Convert.ToHexString(SHA256.HashData(System.Text.Encoding.UTF8.GetBytes(word)));
}
